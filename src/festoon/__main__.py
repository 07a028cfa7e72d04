"""`python -m festoon` is the same as `festoon`."""

from festoon.cli import main

main()
