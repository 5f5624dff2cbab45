"""Names of boards and finishes: what the trade of several countries says finds the library's row, and jobs are read by them."""

from __future__ import annotations

import pytest

from wallwright.job.demos import demo_jobs
from wallwright.job.edits import apply
from wallwright.job.read import JobError, read_job
from wallwright.job.write import write_job
from wallwright.library import load
from wallwright.library.names import board_key, board_words, finish_key, finish_words


@pytest.mark.parametrize(
    ("said", "key"),
    [
        ("ply18", "ply18"),
        ("chipboard", "particleboard18"),
        ("particle board", "particleboard18"),
        ("Prelam board", "particleboard18"),
        ("MFC", "particleboard18"),
        ("chipboard 25 mm", "particleboard25"),
        ("25mm chipboard", "particleboard25"),
        ("MR-MDF", "mdf18"),
        ("MDF.H", "mdf18"),
        ("MR MDF 12", "mdf12"),
        ("12 mm mr-mdf", "mdf12"),
        ("HMR", "hdf18"),
        ("BWR ply", "ply18"),
        ("25 mm BWR ply", "ply25"),
        ("commercial ply", "ply_mr18"),
        ("marine ply", "ply_marine18"),
        ("flexi ply", "ply_flex8"),
        ("lumber-core plywood", "blockboard19"),
        ("tile backer board", "cement_board12"),
        ("cardboard", ""),
        ("chipboard 40 mm", ""),
        ("", ""),
    ],
)
def test_boards_by_name(said: str, key: str) -> None:
    assert board_key(said) == key


@pytest.mark.parametrize(
    ("said", "face"),
    [
        ("HPL", "laminate"),
        ("vinyl wrap", "membrane"),
        ("PU paint", "sprayed"),
        ("back painted glass", "lacquered_glass"),
        ("real marble", "marble"),
        ("marble-look laminate", "laminate_stone"),
        ("recon veneer", "veneer_recon"),
        ("vitrified tile", "tile"),
    ],
)
def test_finishes_by_name(said: str, face: str) -> None:
    assert load.face_of(finish_key(said)).key == face


def test_no_name_means_two_kinds() -> None:
    for rows in (load.board_kinds(), load.faces()):
        owner: dict[str, str] = {}
        for key, row in rows.items():
            for name in (row.name, *row.synonyms):
                assert owner.setdefault(name.casefold(), key) == key, name


def test_every_word_offered_is_understood() -> None:
    assert all(board_key(word) for word in board_words())
    assert all(finish_key(word) for word in finish_words())


def test_a_job_may_say_it_in_the_trades_words() -> None:
    text = demo_jobs()["living"].replace('carcass_board = "ply18"', 'carcass_board = "commercial ply"')
    job = read_job(text)
    assert job.design.finishes.carcass_board == "ply_mr18"
    assert 'carcass_board = "ply_mr18"' in write_job(job)
    told = apply(job, "set_unit_board", {"ref": "T1", "board": "MR-MDF 25 mm"})
    assert next(unit.board for unit in told.design.units if unit.ref == "T1") == "mdf25"
    dressed = apply(job, "set_finish", {"which": "carcass_board", "finish": "marine ply"})
    assert dressed.design.finishes.carcass_board == "ply_marine18"


def test_an_unknown_board_names_the_field_and_the_nearest() -> None:
    text = demo_jobs()["living"].replace('carcass_board = "ply18"', 'carcass_board = "chip bord"')
    with pytest.raises(JobError) as caught:
        read_job(text)
    (problem,) = caught.value.problems
    assert problem.field == "design.finishes.carcass_board"
    assert problem.value == "'chip bord'"
    assert "'chipboard'" in problem.says
