"""Photos of the wall: from marked points to millimetres on it, with how sure they are. Numbers in, numbers out; files are `export`'s."""
