"""Colour, proportion, and the balance between this wall and the others."""
