"""What follows the longer keys of the text stepper: a fault, what became of one, a bobbin, a place by its name.

Each function takes the words typed and returns a command; what cannot be meant raises WeavingError, at the latest when
the command looks at the warp, and nothing has happened then.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial

from companion.draft.repeats import RepeatStep
from companion.draft.treadling import read_treadling
from companion.draft.units import Units
from companion.draft.written import length_sign, read_length, yarn_sign
from companion.weaving.decide import Command, change_bobbin, jump, measure, note_fault, settle_fault
from companion.weaving.errors import WeavingError
from companion.weaving.events import Event, FaultKind, FaultState
from companion.weaving.progress import Progress
from companion.weaving.taking_out import pick_below_fell
from companion.weaving.warp import Piece, Warp

FAULT_TAKES = "KIND [end N] [below N] [mended|left]"
SETTLED_TAKES = "N mended|left [HOW]"
RELAXED = "relaxed"
LENGTH_TAKES = f"LENGTH [{RELAXED}]"
BOBBIN_TAKES = "SHUTTLE [LENGTH]"
JUMP_TAKES = "PICK or SECTION [REPEAT]"
_STATES = {state.value: state for state in FaultState}


def whole(word: str, what: str, least: int = 1) -> int:
    """Return a whole number that stands for something, such as `an end`; raises WeavingError."""
    if not (word.isascii() and word.isdigit() and len(word) < 10 and int(word) >= least):
        raise WeavingError(f"{word!r:.40} is no number for {what}; give a whole one from {least}")
    return int(word)


def fault(rest: str) -> Command:
    """Return the command that notes a fault: `broken end 12 below 3 mended`; below 0 is the newest pick."""
    # Both words are understood: which of them the program says is one of the settings.
    words = ["mistake" if word == "fault" else word for word in rest.lower().split()]
    kind, words = _kind(words)
    end: int | None = None
    below, state = 0, FaultState.FOUND
    while words:
        word, *words = words
        if word in _STATES:
            state = _STATES[word]
        elif word in ("end", "below") and words:
            number, *words = words
            if word == "end":
                end = whole(number, "an end") - 1
            else:
                below = whole(number, "picks below the newest", 0)
        else:
            raise WeavingError(f"{word!r:.40} says nothing of a fault; write x {FAULT_TAKES}")

    def note(warp: Warp, progress: Progress) -> Event:
        return note_fault(warp, progress, kind, pick_below_fell(progress, below), end, state)

    return note


def _kind(words: list[str]) -> tuple[FaultKind, list[str]]:
    """Return the kind that the first words mean, and the words after it; `broken end 12` is of a broken end, end 12."""
    for count in (2, 1):
        first = " ".join(words[:count])
        kinds = [kind for kind in FaultKind if len(words) >= count and kind.value.startswith(first)]
        if len(kinds) == 1:
            of_an_end = first == kinds[0].value and first.endswith(" end")
            follows = words[count : count + 1]
            # In "broken end 12" the word belongs to both.
            keeps_end = of_an_end and bool(follows) and follows[0].isdigit()
            return kinds[0], words[count - keeps_end :]
    raise WeavingError(f"no such kind of fault; give one of: {', '.join(kind.value for kind in FaultKind)}")


def settled(rest: str) -> Command:
    """Return the command that settles a fault: `2 mended with a needle`, `2 left`."""
    number, _, after = rest.partition(" ")
    state, _, how = after.strip().partition(" ")

    def settle(warp: Warp, progress: Progress) -> Event:
        if state.lower() not in (FaultState.MENDED.value, FaultState.LEFT.value):
            waiting = [
                f"{fault.number + 1} ({fault.kind.value}, pick {fault.pick + 1})" for fault in progress.now.open_faults
            ]
            raise WeavingError(f"write d {SETTLED_TAKES}; open faults: {', '.join(waiting) or 'none'}")
        return settle_fault(warp, progress, whole(number, "a fault") - 1, _STATES[state.lower()], how)

    return settle


def bobbin(rest: str, units: Units) -> Command:
    """Return the command of a fresh bobbin: `sand 20`, `sand 20 yd`, or `sand` where nobody knows how much.

    A number alone is metres, or yards where the weaver measures in inches.
    """

    def change(warp: Warp, progress: Progress) -> Event:
        draft = warp.pieces[progress.now.piece].draft
        names = {yarn: draft.yarns[yarn].name for yarn in draft.shuttles()}
        yarn = _one_called(rest, names)
        if yarn is not None:
            return change_bobbin(warp, progress, yarn)
        words = rest.split()
        for count in range(len(words) - 1, 0, -1):
            yarn = _one_called(" ".join(words[:count]), names)
            if yarn is not None:
                return change_bobbin(warp, progress, yarn, _length(" ".join(words[count:]), yarn_sign(units)) / 100)
        raise WeavingError(_no_shuttle(rest, names))

    return change


def measured(rest: str, units: Units) -> Command:
    """Return the command that notes a length: `12`, `12 in`, `11 relaxed`; a number alone is in the weaver's units."""
    cm, under_tension = length_and_tension(rest, units)
    return partial(measure, centimetres=cm, under_tension=under_tension)


def length_and_tension(rest: str, units: Units) -> tuple[float, bool]:
    """Return a length of cloth in cm, and whether it was measured under tension; raises WeavingError."""
    length, relaxed, after = rest.strip().lower().partition(RELAXED)
    if after.strip():
        raise WeavingError(f"{after.strip()!r:.40} says nothing of a length; write m {LENGTH_TAKES}")
    return _length(length.strip(), length_sign(units)), not relaxed


def _length(text: str, bare: str) -> float:
    try:
        return read_length(text, bare)
    except ValueError as error:
        raise WeavingError(str(error)) from error


def _one_called(name: str, names: dict[int, str]) -> int | None:
    """Return the yarn of this name, of this number (from 1), or the only one whose name begins so."""
    wanted = name.casefold()
    same = [yarn for yarn, called in names.items() if called.casefold() == wanted]
    same = same or [yarn for yarn in names if str(yarn + 1) == wanted]
    same = same or [yarn for yarn, called in names.items() if wanted and called.casefold().startswith(wanted)]
    return same[0] if len(same) == 1 else None


def _no_shuttle(rest: str, names: dict[int, str]) -> str:
    known = ", ".join(f"{yarn + 1} {name}" for yarn, name in names.items())
    return f"{rest!r:.40} names no shuttle of this piece, or several; they are {known}"


def place(rest: str) -> Command:
    """Return the command that goes to a pick, `120`, to a section, `border`, or to a repeat in it, `border 3`."""
    if not rest or rest.lstrip("-").replace(".", "", 1).isdigit():
        pick = whole(rest, "a pick")
        return lambda warp, progress: jump(warp, progress, pick - 1, "by hand")

    def go(warp: Warp, progress: Progress) -> Event:
        piece = warp.pieces[progress.now.piece]
        name, _, last = rest.rpartition(" ")
        found = _sections_called(rest, piece)
        repeat = 1
        if not found and name and last.isdigit():
            found, repeat = _sections_called(name.strip(), piece), whole(last, "a repeat")
        if not found:
            known = ", ".join(dict.fromkeys(section.name for section in piece.sections))
            raise WeavingError(f"no section is called {rest!r:.40}; they are {known:.200}")
        if len(found) > 1:
            begin = ", ".join(str(piece.section_picks(section).start + 1) for section in found)
            raise WeavingError(f"several sections are called so; they begin at picks {begin}: give the pick")
        return jump(warp, progress, _beginning(piece, found[0], repeat), "by hand")

    return go


def _sections_called(name: str, piece: Piece) -> Sequence[int]:
    wanted = name.casefold()
    every = list(enumerate(piece.sections))
    same = [index for index, section in every if section.name.casefold() == wanted]
    return same or [index for index, section in every if section.name.casefold().startswith(wanted)]


def _beginning(piece: Piece, section: int, repeat: int) -> int:
    """Return the first pick (index) of a repeat (from 1) in a section, as the place line counts repeats."""
    picks = piece.section_picks(section)
    if repeat == 1:
        return picks.start
    reading = read_treadling(piece.draft)
    for pick in picks:
        steps = reading.place(pick).steps
        if steps and isinstance(steps[0], RepeatStep) and steps[0].repeat == repeat - 1:
            return pick
    raise WeavingError(f"section {piece.sections[section].name!r} has no repeat {repeat}; give the pick")
