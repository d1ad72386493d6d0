"""What the record tells of the dressing: each task with its time, mistakes and how they were mended, notes by task."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import tzinfo

from companion.present.dressing_words import CALLED, mistake_place_words
from companion.present.durations import duration_words, tenths_of_minutes
from companion.record.wording import time_words
from companion.weaving.dressing import BACK_TO_FRONT, UNDRESSED
from companion.weaving.dressing_events import (
    Dressed,
    DressingMistake,
    DressingTask,
    ShedFoundWrong,
    ShedPutRight,
    TaskState,
)
from companion.weaving.dressing_view import TaskView, view_tasks
from companion.weaving.events import NoteWritten
from companion.weaving.history import History
from companion.weaving.to_mend import ToMend, settles
from companion.weaving.warp import Warp


@dataclass(frozen=True, slots=True)
class MistakeRow:
    """A mistake found while dressing: `where` it was, whether it is `mended` (None: nobody said), words, and when."""

    task: DressingTask
    where: str
    mended: bool | None
    note: str
    at_ms: int


@dataclass(frozen=True, slots=True)
class DressingTold:
    """The dressing as the journal has it. `tasks` are those that were begun or settled; `noted` goes by the notes told.

    `noted[i]` is the task that was in hand when the note i was written, None where none was.
    """

    tasks: tuple[TaskView, ...]
    mistakes: tuple[MistakeRow, ...]
    noted: tuple[DressingTask | None, ...]


def dressing_told(warp: Warp, told: History) -> DressingTold:
    """Return what these entries tell of the dressing; what was undone is not told."""
    dressing = told.progress.now.dressing
    begun = dressing._replace(sley=None) != UNDRESSED
    views = view_tasks(warp, dressing, BACK_TO_FRONT) if begun else ()
    return DressingTold(
        tuple(view for view in views if view.done or view.ms or view.state is not TaskState.TO_DO),
        tuple(_mistakes(told)),
        tuple(
            happened.task
            for happened in told.happened
            if isinstance(happened.entry.event, NoteWritten) and not happened.undone
        ),
    )


def _mistakes(told: History) -> Iterator[MistakeRow]:
    """Yield what was found, in the order found; what was mended later is told in the row of where it was found."""
    rows: list[tuple[ToMend, MistakeRow]] = []
    for happened in told.happened:
        event, at_ms = happened.entry.event, happened.entry.at_ms
        if happened.undone:
            continue
        match event:
            case DressingMistake(task, first, last, mended, note):
                one = ToMend(task, first, last, note)
                waited = [at for at, (other, row) in enumerate(rows) if not row.mended and settles(event, other)]
                for at in waited:
                    rows[at] = rows[at][0], _put_right(rows[at][1], note)
                if all(rows[at][0].place != one.place for at in waited):
                    rows.append((one, MistakeRow(task, mistake_place_words(one), mended, note, at_ms)))
            case ShedFoundWrong(test, note):
                one = ToMend(DressingTask.TEST_WEAVE, test, test, note, of_sheds=True)
                rows.append((one, MistakeRow(one.task, f"shed {test + 1}", None, note, at_ms)))
            case Dressed(DressingTask.TEST_WEAVE, first, count):
                _sheds_right(rows, range(first, first + count))
            case ShedPutRight(test, note):
                _sheds_right(rows, range(test, test + 1), note)
    yield from (row for _, row in rows)


def _sheds_right(rows: list[tuple[ToMend, MistakeRow]], tests: range, note: str = "") -> None:
    for at, (one, row) in enumerate(rows):
        if one.of_sheds and one.first in tests and not row.mended:
            rows[at] = one, _put_right(row, note)


def _put_right(row: MistakeRow, note: str) -> MistakeRow:
    said = "; ".join(dict.fromkeys(filter(None, (row.note, note))))
    return replace(row, mended=True, note=said)


def task_rows(told: DressingTold) -> Iterator[tuple[str, ...]]:
    """Yield a row for each task: its name, its state, how much of it is done, its time.

    Of a task that was only said to be done, or left out, nothing was counted.
    """
    for view in told.tasks:
        counts = view.done or view.state is TaskState.TO_DO
        done = f"{view.done} of {view.total}" if view.total and counts else ""
        yield CALLED[view.task], view.state.value, done, duration_words(view.ms) if view.ms else ""


def mistake_rows(told: DressingTold, zone: tzinfo | None) -> Iterator[tuple[str, ...]]:
    """Yield a row for each mistake: when, in which task, where, what became of it, words."""
    for row in told.mistakes:
        became = "mended" if row.mended else "found"
        yield time_words(row.at_ms, zone), row.task.value, row.where, became, row.note


def dressing_document(told: DressingTold, zone: tzinfo | None) -> dict[str, object]:
    """Return the same as JSON-ready values."""
    return {
        "tasks": [
            {
                "task": view.task.value,
                "state": view.state.value,
                "done": view.done,
                "total": view.total,
                "minutes": tenths_of_minutes(view.ms),
            }
            for view in told.tasks
        ],
        "mistakes": [
            {
                "task": row.task.value,
                "where": row.where,
                "mended": row.mended,
                "note": row.note,
                "time": time_words(row.at_ms, zone),
            }
            for row in told.mistakes
        ],
    }
