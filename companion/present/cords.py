"""The cords screen's contents: what to untie and to tie under each treadle, and what is done."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from companion.draft.masks import NO_SHAFT, Shed, print_shed, union
from companion.draft.units import counted
from companion.present.cautions import TYING_CAUTION
from companion.present.ties_said import they_change_words, ties_words
from companion.remap.loom.cords import CordChange
from companion.remap.loom.loom import Action
from companion.weaving.cord_list import CordList, cord_list
from companion.weaving.dressing_events import DressingTask
from companion.weaving.progress import Progress
from companion.weaving.warp import Warp

ALL_TIED = "Tied: weave on"
TIED_ALREADY = "It is tied"
REST_TIED = "The rest is tied"
TICK_FIRST = "Touch each treadle that is tied, then say so below"
TIED_TOO = "Yes, tied"
LOOK_AT_THEM = "Look at them"
BETWEEN = "; "


@dataclass(frozen=True, slots=True)
class CordRow:
    """One treadle (index): its number in large, what comes off, what goes on, and whether that is done."""

    treadle: int
    number: str
    untie: str
    tie: str
    done: bool


@dataclass(frozen=True, slots=True)
class CordSigns:
    """Everything that the cords screen says. `tied` are the words for saying that the whole stage is tied."""

    headline: str
    detail: str
    caution: str
    rows: tuple[CordRow, ...]
    tied: str
    complete: bool


def tied_words(then: DressingTask | None) -> str:
    """Return what says that all is tied and what comes then: `Tied: weave on`, or `Tied: on to threading`."""
    return ALL_TIED if then is None else f"Tied: on to {then.value}"


def cord_signs(warp: Warp, progress: Progress, then: DressingTask | None = None) -> CordSigns | None:
    """Return what to do under the loom before the next pick, or before `then`; None where the loom has no treadles."""
    listed = cord_list(warp, progress.now)
    if listed is None:
        return None
    action = warp.loom.loom.action
    rows = tuple(_row(change, action, change.treadle in listed.done) for change in listed.changes)
    tied = tied_words(then) if listed.complete else REST_TIED if listed.done else TIED_ALREADY
    return CordSigns(_headline(listed), _detail(listed), TYING_CAUTION, rows, tied, listed.complete)


def not_shown_words(numbers: Sequence[str]) -> str:
    """Return the question about treadles that the weaver has not seen: `Treadles 5 and 6 were not shown: ...`."""
    *others, last = numbers
    if not others:
        return f"Treadle {last} was not shown: is it tied too?"
    return f"Treadles {', '.join(others)} and {last} were not shown: are they tied too?"


def nothing_ticked_words(treadles: int) -> str:
    """Return the question whether all is tied though nothing was ticked."""
    return f"Nothing is ticked: {'is the treadle' if treadles == 1 else f'are all {treadles} treadles'} tied like this?"


def change_words(change: CordChange, action: Action) -> str:
    """Return what to do under one treadle in a line: `treadle 2: untie 1 3; tie 2`, wherever cords are told of."""
    return f"treadle {change.treadle + 1}: {under_treadle_words(change, action)}"


def under_treadle_words(change: CordChange, action: Action) -> str:
    """Return the same without the treadle's number: `untie 1 3; tie 2`."""
    parts = (untie_words(change, action), tie_words(change, action))
    return BETWEEN.join(part for part in parts if part)


def untie_words(change: CordChange, action: Action) -> str:
    """Return which shafts' cords come off: `untie 1 3`; on a countermarche `untie 1 up, 3 down`. Empty for none."""
    return _words("untie", change.untie_up, change.untie_down, action)


def tie_words(change: CordChange, action: Action) -> str:
    """Return which shafts' cords go on: `tie 2`; on a countermarche `tie 2 up, 4 down`. Empty for none."""
    return _words("tie", change.tie_up, change.tie_down, action)


def _words(verb: str, up: Shed, down: Shed, action: Action) -> str:
    if up == down == NO_SHAFT:
        return ""
    if action is not Action.COUNTERMARCHE:
        return f"{verb} {print_shed(union((up, down)))}"
    return f"{verb} " + ", ".join(
        f"{print_shed(shafts)} {way}" for shafts, way in ((up, "up"), (down, "down")) if shafts
    )


def _row(change: CordChange, action: Action, done: bool) -> CordRow:
    number = str(change.treadle + 1)
    return CordRow(change.treadle, number, untie_words(change, action), tie_words(change, action), done)


def _headline(listed: CordList) -> str:
    return "Tie the treadles" if listed.stages == 1 else f"Tie stage {listed.stage + 1} of {listed.stages}"


def _detail(listed: CordList) -> str:
    if not listed.changes:
        return they_change_words(0)
    left, treadles = listed.cords_left, len(listed.changes) - len(listed.done)
    if not left:
        return "every treadle is tied"
    ties = f"{ties_words(left)} at {counted(treadles, 'treadle')}"
    return f"{ties} to go" if listed.known else f"{ties} to make; take off first what hangs there"
