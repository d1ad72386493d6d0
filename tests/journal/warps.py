"""A small warp for the journal's tests: two pieces on one threading, every optional part of it filled in once."""

from dataclasses import replace

from companion.draft.facing import Side
from companion.draft.masks import shed_of, treadle_set
from companion.draft.model import (
    Colour,
    Draft,
    ForeignSection,
    Layout,
    Lifted,
    Section,
    Treadled,
    Yarn,
)
from companion.remap.loom.loom import Action, Footing, Loom, Tie
from companion.weaving.warp import LoomProfile, Piece, Stage, Warp, Winding

YARNS = (Yarn("Ground", Colour(238, 232, 216)), Yarn("Blau – Größe 2", Colour(20, 60, 120)))
TIES = (shed_of([1, 3]), shed_of([2, 4]), shed_of([1, 2]), shed_of([3, 4]))


def twill(picks=8):
    """A treadled draft of `picks` picks that presses treadles 1 to 4 in turn."""
    return Draft(
        shafts=4,
        threading=(0, 1, 2, 3, None),
        lifting=Treadled(TIES, tuple(treadle_set([pick % 4 + 1]) for pick in range(picks))),
        yarns=YARNS,
        warp=(0, 0, 1, 0, 1),
        weft=tuple(pick % 2 for pick in range(picks)),
        sections=(Section("Saum", picks - picks // 2), Section("body", picks // 2, until_cm=12.5)),
        title="Twill \N{SNOWFLAKE}",
        author="",
        notes=("first", "", "third"),
        weft_layout=Layout(spacing_cm=(0.125,) * picks, thickness_cm=(0.0625,) * picks),
        foreign=(ForeignSection("OTHER PROGRAM", ("a=1", "; b")),),
    )


def lifted():
    """A draft with a lift plan, on the same threading."""
    return Draft(4, (0, 1, 2, 3, None), Lifted((TIES[0], TIES[1])), YARNS, (0, 0, 1, 0, 1), (1, 0), rising=False)


def straight_piece(draft, name="Shawl", **more):
    """A piece whose footings press the treadles of the draft one foot at a time, on one tie-up."""
    tieup = tuple(Tie(up=tie) for tie in TIES)
    footings = tuple(
        Footing(left=(pick % 4,)) if pick % 4 < 2 else Footing(right=(pick % 4,)) for pick in range(draft.picks)
    )
    return Piece(name, draft, (Stage(0, draft.picks - 1, tieup),), footings, **more)


def small_warp(picks=8, name="Blue shawl"):
    """Two pieces, the second woven face down from a lift plan."""
    first = straight_piece(twill(picks), picks_per_cm=8.5, start_side=Side.LEFT, length_cm=180.0, fringe_cm=7.5)
    second = straight_piece(lifted(), name="Sample", face_down=True)
    loom = Loom(4, 6, Action.RISING, 2)
    present = (Tie(up=TIES[3]), Tie())
    profile = LoomProfile("Floor loom", loom, present, 95.0, 60.0)
    return Warp(name, profile, (first, second), Winding(520.5, 0.1, 0.08), width_cm=95.0)


def long_warp(picks=1_000):
    """One plain piece of `picks` picks, none of them woven to a length, quick to make: for weaving without end."""
    draft = replace(twill(picks), sections=())
    return Warp("Long", LoomProfile("Floor loom", Loom(4, 4)), (straight_piece(draft),))


def wide_warp(ends=500):
    """One plain piece of so many ends: for threading without end."""
    draft = replace(twill(), threading=tuple(end % 4 for end in range(ends)), warp=(0,) * ends)
    return Warp("Wide", LoomProfile("Floor loom", Loom(4, 4)), (straight_piece(draft),))


def pressed_first(footing):
    """A warp of eight picks whose first is pressed so."""
    warp = long_warp(8)
    piece = warp.pieces[0]
    return replace(warp, pieces=(replace(piece, footings=(footing, *piece.footings[1:])),))
