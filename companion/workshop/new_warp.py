"""A new warp, as the weaver told of it, reckoned with and put on the shelf."""

from __future__ import annotations

from dataclasses import replace

from companion.draft.facing import Facing
from companion.journal.shelf import free_name, tidy_name
from companion.present.new_warp import Fact, NewWarp
from companion.weaving.amounts import warp_needed
from companion.weaving.errors import WeavingError
from companion.weaving.warp import LoomProfile, Winding
from companion.workshop import app
from companion.workshop.dressing import ANY_LENGTH_CM, Measures, PieceMeasures, dress, name_of_warp, reckon_with


def shelve(warp: NewWarp, facing: Facing, tied: bool = False) -> str:
    """Make the warp and keep it; return its name, with a number behind it where another has it already.

    Shuttles begin where the selvedges are caught best, as this weaver reads. `tied`: the weaver says that the treadles
    are tied so already. Raises CannotDressError, WeavingError or JournalError.
    """
    known = {name.casefold() for name in app.shelf().names()}
    # A second warp of one draft is usual.
    name = free_name(tidy_name(name_of_warp(warp.name, len(warp.pieces))), lambda name: name.casefold() in known)
    made = dress(
        name,
        [piece.draft for piece in warp.pieces],
        profile_of(warp),
        [piece.answer for piece in warp.pieces],
        re_tie=True,
        measures=measures_of(warp),
        facing=facing,
    )
    app.put_on_shelf(made, tied)
    return name


def warp_taken(warp: NewWarp) -> float | None:
    """Return what the warp takes in cm, None where nothing tells; raises WeavingError where it cannot be as told."""
    drafts = [piece.draft for piece in warp.pieces]
    return warp_needed(reckon_with(warp.name, drafts, profile_of(warp), measures_of(warp, only_planned=True)))


def contradiction(warp: NewWarp) -> WeavingError | None:
    """Return why the warp cannot be as it was told of; None where it can."""
    try:
        reckon_with(warp.name, [piece.draft for piece in warp.pieces], profile_of(warp), measures_of(warp))
    except WeavingError as error:
        return error
    return None


def measures_of(warp: NewWarp, only_planned: bool = False) -> Measures:
    """Return what was told as the measures of the warp and of each piece; raises WeavingError.

    `only_planned`: the warp need not be wound yet for its take-up to count.
    """
    told = warp.told
    length = told.get(Fact.LENGTH, ANY_LENGTH_CM if only_planned else None)
    shares = (told.get(Fact.TAKE_UP, 0.0) / 100, told.get(Fact.SHRINKAGE, 0.0) / 100)
    last = len(warp.pieces) - 1
    return Measures(
        winding=None if length is None else Winding(length, *shares),
        width_cm=told.get(Fact.WIDTH),
        pieces=tuple(
            PieceMeasures(
                picks_per_cm=told.get(Fact.PICKS_PER_CM),
                length_cm=told.get(Fact.PIECE),
                fringe_cm=told.get(Fact.FRINGE, 0.0),
                spacer_cm=told.get(Fact.SPACER, 0.0) if index < last else 0.0,
            )
            for index in range(len(warp.pieces))
        ),
    )


def profile_of(warp: NewWarp) -> LoomProfile:
    """Return the loom with the waste that was told, where one was."""
    return replace(warp.profile, loom_waste_cm=warp.told.get(Fact.WASTE, warp.profile.loom_waste_cm))
