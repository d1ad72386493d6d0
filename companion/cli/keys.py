"""What a line typed at the text stepper means: a word, and for some what follows it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import partial

from companion.cli import typed
from companion.cli.squares_typed import SQUARE_TAKES, square_typed
from companion.draft.units import Units
from companion.weaving.decide import (
    Command,
    end_section,
    finish_piece,
    repeat_section,
    skip,
    take_out,
    undo,
    write_note,
)
from companion.weaving.errors import WeavingError
from companion.weaving.events import Event
from companion.weaving.onward import onward
from companion.weaving.pick_view import this_pick
from companion.weaving.progress import Progress
from companion.weaving.warp import Warp

LOST = "l"
LOST_TAKES = "PICK or PICKS further|back"
"""The key that begins the questions of the place-finder."""
FAULT = "x"
"""The key of faults: with words after it, it notes one; alone it asks."""
SQUARE = "g"
"""The key of the squares of a gamp: with words after it, it marks one; alone it lists them."""
MEASURED = "m"
"""The key of a length of cloth; one far from what the picks should measure is asked for once more."""
UNDO = "u"
"""The key of undo, which says what it would take back."""
HELP = "enter = next pick, b = back, q = pause, ? = the other keys"


Means = Callable[[str, Units], Command]
"""Makes a command of what follows a key; a length without a unit is in the weaver's."""


@dataclass(frozen=True, slots=True)
class KeyBinding:
    """One key: what it does in words, and the command that it and what follows it stand for."""

    does: str
    means: Means
    takes: str = ""


def _always(command: Command) -> Means:
    def means(rest: str, _units: Units) -> Command:
        if rest:
            raise WeavingError(f"{rest!r} after a key that stands alone; {HELP}")
        return command

    return means


def _number(rest: str) -> float:
    try:
        return float(rest)
    except ValueError:
        raise WeavingError(f"{rest!r} is no number; give one, such as 12") from None


def whole_picks(rest: str) -> int:
    """Return a number of picks, 1 where none is typed; raises WeavingError."""
    number = _number(rest or "1")
    if not number.is_integer():
        raise WeavingError(f"{rest} is no whole number of picks")
    return int(number)


def end_at_length(warp: Warp, progress: Progress) -> Event:
    """Return the event of ending a section that is woven to a length; raises WeavingError in any other."""
    view = this_pick(warp, progress)
    if view is None or view.until_cm is None:
        raise WeavingError("this section is not woven to a length, so it ends with its last pick; weave on with enter")
    return end_section(warp, progress)


def _unmeasured(means: Callable[[str], Command]) -> Means:
    return lambda rest, _units: means(rest)


KEYS = {
    "": KeyBinding("next pick", _always(onward)),
    "b": KeyBinding("back: take out the newest pick", _always(take_out)),
    UNDO: KeyBinding("undo the newest entry: it is named and asked for first", _always(undo)),
    "n": KeyBinding("note these words", _unmeasured(lambda rest: partial(write_note, text=rest)), "WORDS"),
    SQUARE: KeyBinding("mark a square of the gamp; alone it lists them", _unmeasured(square_typed), SQUARE_TAKES),
    MEASURED: KeyBinding("the piece measures so much, under tension or relaxed", typed.measured, typed.LENGTH_TAKES),
    "c": KeyBinding("a fresh bobbin", typed.bobbin, typed.BOBBIN_TAKES),
    FAULT: KeyBinding("note a fault below the newest pick; alone it asks", _unmeasured(typed.fault), typed.FAULT_TAKES),
    "d": KeyBinding("fault N is settled", _unmeasured(typed.settled), typed.SETTLED_TAKES),
    "j": KeyBinding("go to this pick, or to a section or its repeat", _unmeasured(typed.place), typed.JUMP_TAKES),
    "s": KeyBinding("skip so many picks", _unmeasured(lambda rest: partial(skip, picks=whole_picks(rest))), "PICKS"),
    "e": KeyBinding("that length is reached: end the section", _always(end_at_length)),
    "r": KeyBinding("weave the section once more", _always(repeat_section)),
    "f": KeyBinding("finish the piece here", _always(finish_piece)),
}


def command_of(line: str, units: Units) -> Command:
    """Return the command that a typed line stands for; raises WeavingError for none."""
    word, _, rest = line.strip().partition(" ")
    key = KEYS.get(word.lower())
    if key is None:
        raise WeavingError(f"no key {word!r}; {HELP}")
    return key.means(rest.strip(), units)


def key_lines() -> list[str]:
    """Return what each key does, one a line."""
    named = [(f"{word or 'enter'} {key.takes}".strip(), key.does) for word, key in KEYS.items()]
    others = [
        ("o PICKS", "how so many picks come out"),
        (f"{LOST} [{LOST_TAKES}]", "lost: where the cloth ends; alone it asks"),
        ("q", "pause"),
    ]
    return [f"  {word:<8}  {does}" for word, does in [*named, *others]]
