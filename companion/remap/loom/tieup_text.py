"""A tie-up in one line of text, as a weaver types it and as it is printed: `1 3, 2 4, -`.

Treadles from the left, a comma between; the shafts tied to each; a dash (or nothing) for an untied treadle. On a
countermarche the shafts tied up stand before a stroke and those tied down after it: `1 3/2 4, 2 4/1 3`.
"""

from __future__ import annotations

from companion.draft.masks import NO_SHAFT, Shed, common, print_shed, shed_of
from companion.draft.model import MOST_SHAFTS
from companion.remap.errors import RemapError
from companion.remap.loom.loom import Action, Tie, TieUp

UNTIED = "-"


def parse_tieup(text: str, action: Action) -> TieUp:
    """Return the tie-up that a text says: `parse_tieup("1 3, -", Action.RISING)` has two treadles, one untied.

    Raises RemapError that names the treadle.
    """
    if not text.strip():
        raise RemapError("the present tie-up is empty", mend='write it like "1 3, 2 4, -", treadle 1 first')
    return tuple(_parse_tie(words, number, action) for number, words in enumerate(text.split(","), 1))


def print_tieup(tieup: TieUp, action: Action) -> str:
    """Return a tie-up as text that `parse_tieup` reads back: `1 3, 2 4, -`."""
    return ", ".join(_print_tie(tie, action) for tie in tieup)


def _parse_tie(words: str, treadle: int, action: Action) -> Tie:
    if action is not Action.COUNTERMARCHE:
        shafts = _shafts(words, treadle)
        return Tie(down=shafts) if action is Action.SINKING else Tie(up=shafts)
    up, stroke, down = words.partition("/")
    if not stroke and words.strip() not in ("", UNTIED):
        raise RemapError(
            f"treadle {treadle} of the present tie-up, {words.strip()!r}, has no stroke",
            mend='on a countermarche write shafts up / shafts down, as in "1 3/2 4"',
        )
    tie = Tie(_shafts(up, treadle), _shafts(down, treadle))
    if common(tie.up, tie.down):
        both = print_shed(common(tie.up, tie.down))
        raise RemapError(f"treadle {treadle} of the present tie-up ties {both} up and down", mend="tie it one way")
    return tie


def _shafts(words: str, treadle: int) -> Shed:
    if words.strip() in ("", UNTIED):
        return NO_SHAFT
    numbers = []
    for word in words.split():
        if not (word.isascii() and word.isdigit() and len(word) < 3 and 1 <= int(word) <= MOST_SHAFTS):
            raise RemapError(
                f"treadle {treadle} of the present tie-up names {word!r}",
                mend=f'give shafts as numbers from 1 to {MOST_SHAFTS}, as in "1 3, 2 4, -"',
            )
        numbers.append(int(word))
    return shed_of(numbers)


def _print_tie(tie: Tie, action: Action) -> str:
    if not tie.up and not tie.down:
        return UNTIED
    if action is Action.COUNTERMARCHE:
        return f"{_print_shafts(tie.up)}/{_print_shafts(tie.down)}"
    return print_shed(tie.down if action is Action.SINKING else tie.up)


def _print_shafts(shed: Shed) -> str:
    return print_shed(shed) if shed else UNTIED
