"""Drawings and tables turned into files: one file a format, and the whole issue set."""
