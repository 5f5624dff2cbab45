"""Things to keep, and the bays they go in."""
