"""What is wished of the feet: asked for by touch, in words, and what of it could not be kept."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from functools import partial
from typing import TypeVar

from companion.present.asking import Answer, Asked, FlowStep
from companion.remap.aim import Aim
from companion.remap.feet_kept import not_kept
from companion.remap.loom.feet_wish import ANY_FEET, FeetWish, FirstFoot, TabbyPlace
from companion.remap.remapped import Remapping

Outcome = TypeVar("Outcome")

DEAR = 1.25
"""A wish is said to cost something where the feet pay so many times what they would without it."""
_TABBY_BUTTONS = {
    TabbyPlace.WHEREVER: ("Wherever", "the feet have least to do"),
    TabbyPlace.LEFT: ("Left", "both under the left foot"),
    TabbyPlace.RIGHT: ("Right", "both under the right foot"),
    TabbyPlace.OUTSIDE: ("Outside", "one under each foot"),
}
_FOOT_BUTTONS = {FirstFoot.LEFT: "The left one", FirstFoot.RIGHT: "The right one", FirstFoot.EITHER: "Either"}


def wish_words(wish: FeetWish) -> str:
    """Return a wish in words: `tabby left, right foot first`; empty for none."""
    tabby = "" if wish.tabby is TabbyPlace.WHEREVER else f"tabby {wish.tabby.value}"
    first = "" if wish.first_foot is FirstFoot.EITHER else f"{wish.first_foot.value} foot first"
    return ", ".join(filter(None, (tabby, first)))


def wish_button(wish: FeetWish) -> str:
    """Return how things stand, as a button says it: `Tabby wherever, right foot first`."""
    return f"Tabby {wish.tabby.value}, {wish.first_foot.value} foot first"


def wish_told(answer: Remapping) -> str:
    """Return a line on what was wished for and is not so, and why, or on what it costs the feet where that is much.

    Empty where all is as wished and costs little.
    """
    missing = not_kept(answer)
    if missing == ANY_FEET:
        return _price_of_wish(answer)
    why = {
        Aim.FEET: f"no tie-up with it was found on {answer.loom.treadles} treadles",
        Aim.TREADLES: "no tie-up with it was found on so few treadles",
        Aim.CORDS: "few ties to change come first",
        Aim.DRAFT: "the draft's own tie-up stays as it is",
    }[answer.aim]
    if len(answer.stages) > 1:
        why = "few stops and few ties come first"
    return f"not as wished: {wish_words(missing)}; {why}"


def _price_of_wish(answer: Remapping) -> str:
    footwork = answer.stages[0].footwork if len(answer.stages) == 1 else None
    if footwork is None or footwork.unwished_cost is None or footwork.cost <= DEAR * footwork.unwished_cost:
        return ""
    on = "" if answer.aim is Aim.FEET else " on the same tie-up"
    price = f"footwork {footwork.cost}, without the wish {footwork.unwished_cost}{on}"
    return f"as wished: {wish_words(answer.loom.wish)}; {price}"


def ask_feet_wish(now: FeetWish, wished: Callable[[FeetWish], FlowStep[Outcome]]) -> Asked[Outcome]:
    """Ask where tabby lies, then which foot starts; go on with what is `wished`."""
    return Asked(
        "Where do the two tabby treadles lie?",
        tuple(
            Answer(words, partial(_ask_first_foot, replace(now, tabby=place), wished), place is now.tabby, detail)
            for place, (words, detail) in _TABBY_BUTTONS.items()
        ),
        detail="In drafts that weave tabby along with a pattern",
        as_list=True,
    )


def _ask_first_foot(now: FeetWish, wished: Callable[[FeetWish], FlowStep[Outcome]]) -> Asked[Outcome]:
    return Asked(
        "Which foot starts?",
        tuple(
            Answer(words, partial(wished, replace(now, first_foot=foot)), foot is now.first_foot)
            for foot, words in _FOOT_BUTTONS.items()
        ),
        detail="At the first pick of a piece",
    )
