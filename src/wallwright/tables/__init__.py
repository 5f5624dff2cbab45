"""The wall as lists: one file a list."""
