"""The difference of two jobs, what it touches, what must be issued again, and as-found from site."""
