"""The feet of a tie-up in a line: `one foot at every pick; tabby left (1 2), pattern right (3 to 6), outside in`."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence

from companion.draft.masks import common, union
from companion.draft.units import counted
from companion.remap.aim import Aim
from companion.remap.feet.tied_stage import ShedFeet, TiedStage
from companion.remap.loom.loom import Footing
from companion.remap.remapped import Remapping

FEWEST_WALKED = 3
"""Of fewer treadles under a foot there is no order to tell."""
AIMED_AT = {
    Aim.FEET: "the feet",
    Aim.CORDS: "few ties to change, then the feet",
    Aim.TREADLES: "few treadles, then the feet",
    Aim.DRAFT: "the draft's own tie-up",
}


def aim_words(answer: Remapping) -> str:
    """Return what the tie-up was chosen for: `chosen for the feet`."""
    return f"chosen for {AIMED_AT[answer.aim]}"


def stage_footing_words(answer: Remapping, stage: TiedStage) -> str:
    """Return how often both feet press, and which treadles are whose, tabby by itself where it is woven too."""
    often = how_often(stage.footings)
    both = any(footing.left and footing.right for footing in stage.footings)
    pressed = [feet for feet in stage.sheds if feet.footing.left or feet.footing.right]
    if not pressed:
        return often
    tabby = () if answer.tabby is None else answer.tabby
    threaded = union(tabby)
    plain = [feet for feet in pressed if common(feet.shed, threaded) in tabby]
    rest = [feet for feet in pressed if feet not in plain]
    if len(plain) == 2 and rest and not both:
        return f"{often}; tabby {_whose(plain)}, pattern {_whose(rest)}{_walked(rest)}"
    if both:
        return f"{often}; {_usual_feet(stage.footings)}"
    return f"{often}; {_whose(pressed)}{_walked(pressed)}"


def how_often(footings: Sequence[Footing]) -> str:
    """Return at how many picks both feet press, or neither does: `one foot at 8 of 12 picks, none at 4`."""
    both = sum(bool(footing.left and footing.right) for footing in footings)
    none = sum(not (footing.left or footing.right) for footing in footings)
    picks = counted(len(footings), "pick")
    if none == len(footings):
        return "no treadle at any pick"
    none_too = f", none at {none}" if none else ""
    if both:
        return f"both feet at {both} of {picks}{none_too}"
    return f"one foot at {len(footings) - none} of {picks}{none_too}" if none else "one foot at every pick"


def foot_of_treadles(footings: Iterable[Footing]) -> tuple[frozenset[int], frozenset[int]]:
    """Return the treadles (indices) of the left foot and those of the right; one that both press has its usual foot."""
    left: Counter[int] = Counter()
    right: Counter[int] = Counter()
    for footing, picks in Counter(footings).items():
        left.update(dict.fromkeys(footing.left, picks))
        right.update(dict.fromkeys(footing.right, picks))
    lefts = frozenset(treadle for treadle in left if left[treadle] >= right[treadle])
    return lefts, frozenset(right) - lefts


def _usual_feet(footings: Iterable[Footing]) -> str:
    """Return whose each treadle is as a rule, as it is drawn, and which ones the other foot presses as well."""
    some = tuple(footings)
    lefts, rights = foot_of_treadles(some)
    parts = [f"{foot} ({_numbers(treadles)})" for foot, treadles in (("left", lefts), ("right", rights)) if treadles]
    across = [
        f"the {foot} foot {_numbers(others)} too"
        for foot, others in (
            ("left", {treadle for footing in some for treadle in footing.left} & rights),
            ("right", {treadle for footing in some for treadle in footing.right} & lefts),
        )
        if others
    ]
    return ", ".join([" and ".join(parts), *across])


def _whose(sheds: Iterable[ShedFeet]) -> str:
    some = tuple(sheds)
    left = {treadle for feet in some for treadle in feet.footing.left}
    right = {treadle for feet in some for treadle in feet.footing.right}
    parts = [f"{foot} ({_numbers(treadles)})" for foot, treadles in (("left", left), ("right", right)) if treadles]
    return " and ".join(parts)


def _walked(sheds: Iterable[ShedFeet]) -> str:
    """Return how each foot comes to its treadles, in the order in which they are first pressed: `, outside in`."""
    some = tuple(sheds)
    left = [treadle for feet in some for treadle in feet.footing.left]
    right = [treadle for feet in some for treadle in feet.footing.right]
    longest = max(len(left), len(right))
    if longest < FEWEST_WALKED or len(set(left)) < len(left) or len(set(right)) < len(right):
        return ""
    ways = {
        "outside in": (left == sorted(left), right == sorted(right, reverse=True)),
        "inside out": (left == sorted(left, reverse=True), right == sorted(right)),
        "from left to right": (left == sorted(left), right == sorted(right)),
        "from right to left": (left == sorted(left, reverse=True), right == sorted(right, reverse=True)),
    }
    return next((f", {way}" for way, (one, other) in ways.items() if one and other), "")


def _numbers(treadles: Iterable[int]) -> str:
    """Return treadles (indices) as a weaver says them: `1 2`, `3 to 6`, `1 3 5 to 7`."""
    stretches: list[list[int]] = []
    for treadle in sorted(treadles):
        if stretches and treadle == stretches[-1][-1] + 1:
            stretches[-1].append(treadle)
        else:
            stretches.append([treadle])
    said = [
        f"{some[0] + 1} to {some[-1] + 1}" if len(some) > 2 else " ".join(str(treadle + 1) for treadle in some)
        for some in stretches
    ]
    return " ".join(said)
