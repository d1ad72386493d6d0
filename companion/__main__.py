"""The entry point: arguments and environment only."""

from __future__ import annotations

import sys

from companion.cli.broken_off import broken_off
from companion.cli.commands import run
from companion.cli.streams import make_fit


def main() -> None:
    """Run `fellside` with the process's arguments and exit with its status."""
    make_fit()
    try:
        status = run(sys.argv[1:])
    except Exception as error:
        status = broken_off(error)
    sys.exit(status)


if __name__ == "__main__":
    main()
