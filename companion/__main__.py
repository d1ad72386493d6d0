"""The entry point: arguments and environment only."""

from __future__ import annotations

import sys

from companion.cli.commands import run
from companion.cli.streams import make_fit


def main() -> None:
    """Run `fellside` with the process's arguments and exit with its status."""
    make_fit()
    sys.exit(run(sys.argv[1:]))


if __name__ == "__main__":
    main()
