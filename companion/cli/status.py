"""Exit statuses, and the exception that carries one."""

from __future__ import annotations

DONE = 0
NO_SUCH_ANSWER = 1
BAD_INPUT = 2
BROKE_OFF = 70
"""A fault of the program's own (`EX_SOFTWARE`, BSD's sysexits.h): none of the answers above."""


class CommandError(Exception):
    """One line for stderr (what, where, how to mend it) and the exit status that goes with it.

    One `of_a_file` says words that must stand in that file as they are.
    """

    def __init__(self, line: str, status: int = BAD_INPUT, *, of_a_file: bool = False) -> None:
        super().__init__(line)
        self.status = status
        self.of_a_file = of_a_file
