"""The weaver at the loom: one warp, its journal and its progress, and the only way to change them.

`AtTheLoom.do` is command -> event -> disk -> fold. `LoomWorker` does the same in a thread of its own, so that a slow
card (an SD card may take 250 ms for one write, SD Physical Layer Specification 6.00, section 4.6.2) never holds up a
screen; commands wait in line, so that two quick presses are two picks.
"""

from __future__ import annotations

import queue
import shlex
import threading
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from types import TracebackType
from typing import Self

from companion.journal.backup import back_up, longer_copy
from companion.journal.errors import JournalError
from companion.journal.snapshots import keep_snapshot, progress_of
from companion.journal.store import Journal
from companion.remap.loom.loom import TieUp
from companion.weaving.coming_back import ComingBack, coming_back
from companion.weaving.decide import Command
from companion.weaving.errors import WeavingError
from companion.weaving.events import Entry, Paused
from companion.weaving.pick_view import PickView, this_pick
from companion.weaving.progress import Progress, evolve
from companion.weaving.state import tieup_on
from companion.weaving.warp import Warp


class AtTheLoom:
    """A warp with its open journal, which it closes; `progress` is always the fold of what is on disk.

    Each pause puts a verified copy of the journal into the folder `copies`, if one is given. `tied` is told the tie-up
    on the loom when the weaver first does something here, and whenever it has changed on disk; it returns a line where
    it could do nothing with it. `notice` is one line for the weaver about something beside the command itself, such as
    a copy that could not be made; mostly empty.
    """

    def __init__(
        self,
        journal: Journal,
        now_ms: Callable[[], int],
        copies: Path | None = None,
        tied: Callable[[Warp, TieUp], str] | None = None,
        warp: Warp | None = None,
    ) -> None:
        """`warp` is that of the journal, where it goes by another name now."""
        self._journal = journal
        self._now_ms = now_ms
        self._copies = copies
        self._tied = tied
        self._tieup_told: TieUp | None = None
        self.warp = warp or journal.warp
        try:
            self.notice = _loss_words(journal, copies)
            self.progress = progress_of(journal)
            keep_snapshot(journal, self.progress)
        except BaseException:
            # Nobody else could: held open, it could not even be put back from a copy.
            journal.close()
            raise

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self._journal.close()

    def do(self, command: Command) -> Entry:
        """Carry out a command; when this returns, its event is on disk.

        Raises WeavingError when the command does not apply here, JournalError when the disk refuses; nothing has
        changed then.
        """
        entry = self.answer(command)
        self.settle()
        return entry

    def answer(self, command: Command) -> Entry:
        """Carry out a command as `do`, and leave to `settle`, which comes before the next, what nobody waits for."""
        event = command(self.warp, self.progress)
        entry = Entry(self._journal.last_number + 1, self._now_ms(), event)
        # Folded first: what cannot be folded must not come onto the disk, where every reading would stop at it.
        progress = evolve(self.warp, self.progress, entry)
        self._journal.put(event, entry.at_ms)
        self.progress = progress
        self.notice = self._copied() if isinstance(entry.event, Paused) else self._told_of_ties()
        return entry

    def settle(self) -> None:
        """Fold the journal's log and keep a snapshot where it is time: each waits for the disk several times more."""
        self._journal.fold_if_due()
        keep_snapshot(self._journal, self.progress)

    def come_back(self) -> ComingBack:
        """Return what the weaver needs to see on coming to the loom now."""
        return coming_back(self.warp, self.progress, self._now_ms())

    def _told_of_ties(self) -> str:
        tieup = tieup_on(self.warp, self.progress.now)
        if self._tied is None or tieup is None or tieup == self._tieup_told:
            return ""
        self._tieup_told = tieup
        return self._tied(self.warp, tieup)

    def _copied(self) -> str:
        if self._copies is None:
            return ""
        self.settle()
        try:
            back_up(self._journal.path, self._copies)
        except JournalError as error:
            return f"the pause is kept, but no copy was made: {error}"
        return ""


def _loss_words(journal: Journal, copies: Path | None) -> str:
    """Say what this journal lacks against what was acknowledged once, or against the copy that holds most."""
    longer = longer_copy(journal, copies) if copies else None
    if longer is None:
        return journal.notice
    found = longer.entries - journal.last_number
    loss = journal.notice or "this journal is shorter than a copy of it"
    return f"{loss}; {found} of them are in a copy: fellside backup --restore {shlex.quote(str(longer.path))}"


@dataclass(frozen=True, slots=True)
class CommandResult:
    """What became of a command: the progress now, the entry if it is on disk, and what went wrong, if anything did.

    `view` is the pick that is next now, worked out once, here, for all that is shown and sounded of it; `before` is how
    things stood when the command was given.
    """

    progress: Progress
    view: PickView | None
    before: Progress
    entry: Entry | None = None
    problem: str | WeavingError = ""


class LoomWorker:
    """Carries out commands one after another in its own thread and tells its listener from there.

    Entering opens the journal in that thread, by `open_loom`, because an SQLite connection belongs to one thread, and
    waits for it; what `open_loom` raises is raised to the caller. `warp`, `at_start` and `notice` (one line to show at
    once, mostly empty) are those of the open journal.
    """

    def __init__(self, open_loom: Callable[[], AtTheLoom], listener: Callable[[CommandResult], None]) -> None:
        self._open_loom = open_loom
        self._listener = listener
        self._waiting: queue.SimpleQueue[Command | None] = queue.SimpleQueue()
        self._opened: queue.SimpleQueue[AtTheLoom | BaseException] = queue.SimpleQueue()
        self._thread = threading.Thread(target=self._work, name="loom worker", daemon=True)
        self.warp: Warp
        self.at_start: Progress
        self.notice: str

    def __enter__(self) -> Self:
        self._thread.start()
        opened = self._opened.get()
        if isinstance(opened, BaseException):
            raise opened
        self.warp, self.at_start, self.notice = opened.warp, opened.progress, opened.notice
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self._waiting.put(None)
        self._thread.join()

    def submit(self, command: Command) -> None:
        """Put a command in line; returns at once."""
        self._waiting.put(command)

    def _work(self) -> None:
        try:
            loom = self._open_loom()
        except BaseException as error:
            self._opened.put(error)
            return
        with loom:
            self._opened.put(loom)
            while (command := self._waiting.get()) is not None:
                before = loom.progress
                try:
                    entry = loom.answer(command)
                except WeavingError as error:
                    self._listener(CommandResult(loom.progress, self._view(loom), before, problem=error))
                except JournalError as error:
                    self._listener(CommandResult(loom.progress, self._view(loom), before, problem=str(error)))
                else:
                    self._listener(CommandResult(loom.progress, self._view(loom), before, entry, problem=loom.notice))
                    # The weaver sees the pick meanwhile: it is on disk.
                    loom.settle()

    @staticmethod
    def _view(loom: AtTheLoom) -> PickView | None:
        return this_pick(loom.warp, loom.progress)
