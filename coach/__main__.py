"""Run the coach as `python -m coach`."""

import sys

from coach.cli import main

if __name__ == "__main__":
    sys.exit(main())
