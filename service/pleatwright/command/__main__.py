"""Runs the command by its module: `python -m pleatwright.command`."""

import sys

from pleatwright.command import main

if __name__ == "__main__":
    sys.exit(main())
