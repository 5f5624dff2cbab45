from wallwright.carcass.leaves import leaf_marks


def test_book_match_turns_every_other_leaf_so_that_two_open_about_their_joint():
    # common practice
    assert leaf_marks(4, "book") == ("leaf 1", "leaf 2, turned over", "leaf 3", "leaf 4, turned over")
    assert leaf_marks(3, "slip") == ("leaf 1", "leaf 2", "leaf 3")
    assert len(set(leaf_marks(5, "random"))) == 5
