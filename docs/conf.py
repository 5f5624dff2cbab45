"""Sphinx: plain Markdown pages in, HTML out."""

from importlib.metadata import version as installed

project = "Wallwright"
release = installed("wallwright")
extensions = ["myst_parser"]
html_theme = "furo"
html_title = "Wallwright"
exclude_patterns = ["_build"]
myst_heading_anchors = 3
