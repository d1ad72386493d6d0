"""While a search goes on in the terminal: a line of how far it has come; Ctrl-C ends it with what is known by then."""

from __future__ import annotations

import signal
import sys
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from types import FrameType

from companion.cli.streams import write_over
from companion.remap.search.answers import Part, SearchProgress

LINE = 70
"""How long the line of progress is, in characters."""
_DOING = {
    Part.FEET: "choosing the order of the treadles and the feet",
    Part.STAGES: "finding where to stop and re-tie",
    Part.CONFLICT: "finding which sheds are in the way",
    Part.OTHER_WAYS: "working out other ways",
}


@contextmanager
def stopped_by_ctrl_c(seconds: float) -> Iterator[Callable[[], bool]]:
    """Give a question that says stop after these seconds, or once Ctrl-C was pressed; a second Ctrl-C ends at once."""
    end = time.monotonic() + seconds
    stopped = False

    def note(_signal: int, _frame: FrameType | None) -> None:
        nonlocal stopped
        if stopped:
            raise KeyboardInterrupt
        stopped = True

    before = signal.signal(signal.SIGINT, note)
    try:
        yield lambda: stopped or time.monotonic() > end
    finally:
        signal.signal(signal.SIGINT, before)


class ProgressLine:
    """One line on the terminal that is kept up to date; elsewhere it says nothing."""

    def __init__(self, *, shown: bool) -> None:
        self.shown = shown
        self._known: str | None = None

    def tell(self, progress: SearchProgress, of: str = "") -> None:
        """Say what is being done, and `of` what, or what is known once a first answer is."""
        best = "none yet" if progress.bounds.best is None else str(progress.bounds.best)
        doing = _DOING.get(progress.part, f"at least {progress.bounds.at_least} treadles, best so far {best}")
        self._show(self._known or f"{of}{doing} (Ctrl-C stops)")

    def hear(self, known: str) -> None:
        """Say what is known by now; the search goes on for something better."""
        self._known = f"{known}. Going on; Ctrl-C shows it."
        self._show(self._known)

    def begin(self, doing: str) -> None:
        """Say that another part is begun, of which nothing is known yet."""
        self._known = None
        self._show(f"{doing} (Ctrl-C stops)")

    def clear(self) -> None:
        """Leave the line empty."""
        self._show("")

    def _show(self, line: str) -> None:
        if self.shown:
            write_over(f"{line:<{LINE}}", sys.stderr)
            if not line:
                write_over("", sys.stderr)


@contextmanager
def progress_line() -> Iterator[ProgressLine]:
    """Give the line of progress, and clear it in the end."""
    line = ProgressLine(shown=sys.stderr.isatty())
    try:
        yield line
    finally:
        line.clear()
