"""`python -m stillroom.cli`."""

from stillroom.cli.main import main

main()
