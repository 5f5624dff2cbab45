"""Sphinx: plain Markdown pages in, HTML out."""

from importlib.metadata import version as installed

project = "Wallwright"
release = installed("wallwright")
extensions = ["myst_parser"]
html_theme = "furo"
html_title = "Wallwright"
html_static_path = ["_static"]
html_css_files = ["wide.css"]
html_show_sphinx = False
html_show_copyright = False
exclude_patterns = ["_build"]
myst_heading_anchors = 3
