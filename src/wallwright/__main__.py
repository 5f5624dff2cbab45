"""`python -m wallwright` is the command line."""

from wallwright.cli import main

main()
