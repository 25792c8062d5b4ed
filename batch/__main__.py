"""`python -m batch` is the command `heaterbatch`."""

import sys

from batch.cli.app import main

if __name__ == "__main__":
    sys.exit(main())
