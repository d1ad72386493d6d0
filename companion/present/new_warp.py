"""A new warp told of by touch before it is woven: its measures, one fact at a touch, and further pieces on it."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from enum import Enum
from functools import partial

from companion.draft.model import Draft
from companion.draft.units import Units, counted, per_length_words
from companion.present.asking import Answer, Answered, Asked
from companion.present.button_words import DONE
from companion.present.dials import Dial, DialKind
from companion.present.laid_in_asked import laid_in_row
from companion.present.number_pad import ask_amount
from companion.present.ties_said import they_change_words
from companion.remap.loom.loom import Footing
from companion.remap.remapped import Remapping
from companion.weaving.warp import LoomProfile

NOT_TOLD = "not set"
AS_DRAFTED = "as drafted"
THREADED_OTHERWISE = "is threaded differently, and one warp has one threading: choose another, or make a warp of it"


class Fact(Enum):
    """What can be told of a new warp; the value is what it is called, closeness apart (`fact_words`)."""

    LENGTH = "Warp wound"
    PICKS_PER_CM = "Picks"
    PIECE = "Length of each piece"
    TAKE_UP = "Take-up"
    SHRINKAGE = "Shrinkage"
    WIDTH = "Width in the reed"
    FRINGE = "Fringe of each piece"
    SPACER = "Between pieces"
    WASTE = "Loom waste"


DIALS: Mapping[Fact, Dial] = {
    Fact.LENGTH: Dial(DialKind.WARP, 300, 10, 20_000, "The whole length, loom waste included"),
    Fact.PICKS_PER_CM: Dial(DialKind.CLOSENESS, 8, 0.5, 100, "On the loom, under tension"),
    Fact.PIECE: Dial(DialKind.LENGTH, 80, 1, 20_000, "Woven, on the loom, under tension"),
    Fact.TAKE_UP: Dial(DialKind.SHARE, 10, 0, 60, "Of the warp, used up by bending over and under the weft"),
    Fact.SHRINKAGE: Dial(DialKind.SHARE, 10, 0, 60, "Of the woven length, off the loom and in the wash"),
    Fact.WIDTH: Dial(DialKind.LENGTH, 50, 1, 1_000, "As it is sleyed"),
    Fact.FRINGE: Dial(DialKind.LENGTH, 20, 0, 500, "Unwoven, both ends of a piece together"),
    Fact.SPACER: Dial(DialKind.LENGTH, 5, 0, 500, "Warp that is cut away between a piece and the next"),
    Fact.WASTE: Dial(DialKind.LENGTH, 60, 0, 500, "At both ends together, for one warp"),
}
"""The values begun with are common practice, no source; the weaver sees and changes them."""

KnownFacts = Mapping[Fact, float]
"""What the weaver has told; a fact that is not in it is not known."""


@dataclass(frozen=True, slots=True)
class NewPiece:
    """A piece as it will be woven: the draft, what it is called, and how the loom weaves it."""

    title: str
    draft: Draft
    answer: Remapping

    @property
    def cords(self) -> int | None:
        """The cords to change before it and within it, where that is known."""
        counts = [stage.cords_changed for stage in self.answer.stages]
        return None if None in counts else sum(count or 0 for count in counts)

    @property
    def stops(self) -> int:
        """How often the weaver stops within it to tie the treadles anew."""
        return max(len(self.answer.stages) - 1, 0)


@dataclass(frozen=True, slots=True)
class NewWarp:
    """The warp as told so far: `pieces` in the order of weaving, on the loom of `profile`.

    `same_feet`: the weaver wants one treadling for all pieces, and a tie-up for each.
    """

    name: str
    profile: LoomProfile
    pieces: tuple[NewPiece, ...]
    told: KnownFacts
    same_feet: bool = False

    @property
    def feet(self) -> tuple[tuple[Footing, ...], ...]:
        """The treadling of each piece in feet; nothing for a piece without any, as on levers."""
        return tuple(piece.answer.footings for piece in self.pieces)

    @property
    def titles(self) -> tuple[str, ...]:
        """What the pieces are called, in order: the weaver's words."""
        return tuple(piece.title for piece in self.pieces)


@dataclass(frozen=True, slots=True)
class WeaveNew:
    """Weave this warp."""

    warp: NewWarp


Telling = WeaveNew


@dataclass(frozen=True, slots=True)
class Lookup:
    """The weaver's units, and what the flow looks up: drafts, what the warp takes in a line, pieces planned anew.

    `drafts` takes a line that says why the draft chosen before cannot be, `add` the key of a draft, `plan` the pieces
    (indices) that stay; `feet` asks whether the pieces have the same feet. `again` weaves a piece (its index) once
    more, `folder` looks for a draft in a folder by its path. These may take their time.
    """

    units: Units
    drafts: Callable[[NewWarp, str], Asked[Telling]]
    reckon: Callable[[NewWarp], str]
    add: Callable[[NewWarp, str], Asked[Telling]]
    plan: Callable[[NewWarp, Sequence[int]], Asked[Telling]]
    feet: Callable[[NewWarp], Asked[Telling]]
    again: Callable[[NewWarp, int], Asked[Telling]]
    folder: Callable[[NewWarp, str], Asked[Telling]]


def ask_new_warp(warp: NewWarp, lookup: Lookup) -> Asked[Telling]:
    """Show what is told of the warp; each fact is changed by touching it."""
    rows: list[Answer[Telling]] = [
        Answer(
            fact_words(fact, lookup.units),
            partial(_ask_fact, warp, lookup, fact, _begin(warp, fact, lookup.units)),
            detail=value_words(warp, fact, lookup.units),
        )
        for fact in Fact
        if fact is not Fact.SPACER or len(warp.pieces) > 1
    ]
    if len(warp.pieces) > 1:
        pieces = Answer(f"{len(warp.pieces)} pieces", partial(_ask_pieces, warp, lookup), detail=between_words(warp))
        same = "the same in every piece" if len(set(warp.feet)) == 1 else "they differ"
        feet = Answer("Feet", partial(lookup.feet, warp), detail=same)
        # Other feet are looked for with the face on top.
        down = any(piece.answer.face_down for piece in warp.pieces)
        rows[:0] = [pieces, feet] if any(warp.feet) and not down else [pieces]
    rows.append(laid_in_row([piece.draft for piece in warp.pieces], lookup.units, partial(_with_drafts, warp, lookup)))
    foot: tuple[Answer[Telling], ...] = (
        Answer("Add a piece", partial(lookup.drafts, warp, "")),
        Answer("Weave it", partial(_answered, WeaveNew(warp)), main=True),
    )
    return Asked(
        warp.name,
        tuple(rows),
        detail=lookup.reckon(warp),
        foot=foot,
        as_list=True,
        bit_by_bit="new warp",
        own=(warp.name, *warp.titles),
        topic="A new warp",
    )


def _with_drafts(warp: NewWarp, lookup: Lookup, drafts: Sequence[Draft]) -> Asked[Telling]:
    pieces = tuple(replace(piece, draft=draft) for piece, draft in zip(warp.pieces, drafts, strict=True))
    return ask_new_warp(replace(warp, pieces=pieces), lookup)


def fact_words(fact: Fact, units: Units) -> str:
    """Return what a fact is called: `Warp wound`, `Picks per cm`."""
    return f"{fact.value} {per_length_words(units)}" if fact is Fact.PICKS_PER_CM else fact.value


def value_words(warp: NewWarp, fact: Fact, units: Units) -> str:
    """Return what is told of a fact: `300 cm`, or that nothing is."""
    value = known(warp, fact)
    if value is not None:
        return DIALS[fact].words(value, units)
    return AS_DRAFTED if fact is Fact.PICKS_PER_CM and any(_drafted(warp)) else NOT_TOLD


def known(warp: NewWarp, fact: Fact) -> float | None:
    """Return what the weaver told, else what the loom or the drafts say, else None."""
    if fact in warp.told:
        return warp.told[fact]
    if fact is Fact.WASTE:
        return warp.profile.loom_waste_cm or None
    if fact is Fact.PICKS_PER_CM and len(set(_drafted(warp))) == 1:
        return _drafted(warp)[0]
    if fact is Fact.WIDTH:
        first = warp.pieces[0].draft
        return first.sley.width_cm or sum(first.warp_layout.spacing_cm) or None
    return None


def left_out(warp: NewWarp) -> tuple[str, ...]:
    """Return what nobody has told and what takes warp, so that the reckoning is without it: `take-up`."""
    return tuple(fact.value.lower() for fact in (Fact.TAKE_UP, Fact.WASTE) if known(warp, fact) is None)


def _drafted(warp: NewWarp) -> list[float | None]:
    """Return the picks per cm that the draft of each piece says, to one decimal; None for one that says nothing."""
    layouts = [piece.draft.weft_layout.spacing_cm for piece in warp.pieces]
    return [round(len(spacing) / sum(spacing), 1) if sum(spacing) else None for spacing in layouts]


def waiting_for_plan(titles: Sequence[str], stop: Callable[[], Asked[Telling]]) -> Asked[Telling]:
    """Return what is shown while the order of the pieces is looked for; `stop` ends it with what is known."""
    return Asked(
        "Looking for the order",
        (Answer("Stop", stop, main=True),),
        detail="that changes fewest ties",
        lines=(", ".join(titles),),
        bit_by_bit="further piece",
        own=tuple(titles),
        topic="Waiting",
    )


def _ask_fact(warp: NewWarp, lookup: Lookup, fact: Fact, value: float) -> Asked[Telling]:
    dial = DIALS[fact]

    def told(facts: KnownFacts) -> Asked[Telling]:
        return ask_new_warp(replace(warp, told=facts), lookup)

    def typed(number: float) -> Asked[Telling]:
        return told({**warp.told, fact: dial.reading(lookup.units).amount(number)})

    without = {other: kept for other, kept in warp.told.items() if other is not fact}
    leave_out: Answer[Telling] = Answer("Leave it out", partial(told, without))
    return ask_amount(dial.wanted(fact.value, value, lookup.units), typed, lambda _number: (leave_out,))


def _begin(warp: NewWarp, fact: Fact, units: Units) -> float:
    value = known(warp, fact)
    return DIALS[fact].begun_at(units) if value is None else value


def _ask_pieces(warp: NewWarp, lookup: Lookup) -> Asked[Telling]:
    rows: list[Answer[Telling]] = [
        Answer(
            f"{number}. {piece.title}",
            partial(_ask_leave_out, warp, lookup, number - 1),
            detail=_cords_words(piece, first=number == 1),
            own=True,
        )
        for number, piece in enumerate(warp.pieces, 1)
    ]
    on: Answer[Telling] = Answer(DONE, partial(ask_new_warp, warp, lookup), main=True)
    return Asked("In this order", tuple(rows), detail="Touch one to leave it out", foot=(on,), as_list=True)


def _ask_leave_out(warp: NewWarp, lookup: Lookup, out: int) -> Asked[Telling]:
    title = warp.pieces[out].title
    stay = [piece for piece in range(len(warp.pieces)) if piece != out]
    return Asked(
        title,
        (
            Answer("Keep it", partial(ask_new_warp, warp, lookup), main=True),
            Answer("Leave it out", partial(lookup.plan, warp, stay)),
        ),
        own=(title,),
    )


def between_words(warp: NewWarp) -> str:
    """Return how many ties change between the pieces: `4 ties change between them`."""
    return f"{they_change_words(cords_between(warp))} between them"


def cords_between(warp: NewWarp) -> int:
    """Return how many ties change between the pieces."""
    return sum(piece.cords or 0 for piece in warp.pieces[1:])


def _cords_words(piece: NewPiece, first: bool) -> str:
    if piece.stops:
        return f"{counted(piece.stops, 'stop')} to re-tie"
    if piece.cords is None:
        return "tied for it" if first else ""
    return f"{they_change_words(piece.cords)} before"


def _answered(telling: Telling) -> Answered[Telling]:
    return Answered(telling)
