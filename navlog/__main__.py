"""`python -m navlog` is the command line."""

from navlog.cli import main

main()
