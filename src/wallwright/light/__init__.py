"""Strips and drivers, bias light, and what the eye sees of them."""
