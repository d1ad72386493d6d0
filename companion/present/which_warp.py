"""The start: which warp to weave on, what else to begin, and which copy takes the place of a damaged one."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial

from companion.present.asking import Answer, Answered, Asked
from companion.present.icons import CLOTH, SHUTTLE, TREADLE
from companion.present.start import (
    SETS_OF_PROJECTS,
    TIDY_UP,
    Around,
    MenuItem,
    OpenWarp,
    OwnLooms,
    PutCopyBack,
    SeeSets,
    Settings,
    Start,
    TidyUp,
    WeaveDemo,
)
from companion.present.which_draft import OPEN_DRAFT, ask_draft, write_a_draft
from companion.present.wording import ago_words

BY_USE = "Last used first"
CANNOT_BE_OPENED = "cannot be opened"
"""Stands beside such a warp in the list; a touch on it says more."""


def ask_start(warps: Sequence[MenuItem], around: Around) -> Asked[Start]:
    """Ask for a warp to weave on, last used first, or for a new one."""
    new: Answer[Start] = Answer(OPEN_DRAFT, partial(ask_draft, around), icon=CLOTH)
    own: Answer[Start] = Answer("Your looms", partial(_chosen, OwnLooms()), icon=TREADLE)
    settings: Answer[Start] = Answer("Settings", partial(_chosen, Settings()))
    sets: Answer[Start] = Answer(SETS_OF_PROJECTS, partial(_chosen, SeeSets()))
    tidy: Answer[Start] = Answer(TIDY_UP, partial(_chosen, TidyUp()))
    if not warps:
        demo: Answer[Start] = Answer("Weave the demo", partial(_chosen, WeaveDemo()), main=True, icon=SHUTTLE)
        return Asked(
            "Nothing is on the loom yet",
            (demo, new, write_a_draft(), own, settings),
            detail="The demo is dressed and tied: touch it and weave",
            foot=(sets, tidy),
            topic="Start",
        )
    rows: list[Answer[Start]] = [
        Answer(
            warp.words,
            partial(_chosen, OpenWarp(warp.key)),
            index == 0,
            warp.detail,
            own=True,
            own_detail=True,
            picture=warp.picture,
        )
        for index, warp in enumerate(warps)
    ]
    return Asked(
        "Which warp?",
        tuple(rows),
        detail=BY_USE,
        foot=(new, own, sets, tidy, settings),
        as_list=True,
        bit_by_bit="warps",
        pictured=True,
        topic="Start",
    )


def ask_copy(warp: str, trouble: str, copies: Sequence[MenuItem]) -> Asked[Start]:
    """Say that a warp cannot be opened and why, and ask which of its copies to put back."""
    rows: list[Answer[Start]] = [
        Answer(copy.words, partial(_chosen, PutCopyBack(copy.key)), detail=copy.detail) for copy in copies
    ]
    line = (
        "What lies there now is set aside, not removed" if copies else "No copy is on this device or on a stick in it"
    )
    return Asked(
        f"{warp} cannot be opened",
        tuple(rows),
        detail=f"It {trouble}",
        lines=(line,),
        as_list=True,
        own=(warp,),
        topic="A warp that cannot be opened",
    )


def copy_item(key: str, entries: int, age_ms: int, on_device: bool) -> MenuItem:
    """Return a copy as something to choose: `Put back 412 entries`, `3 days ago, on this device`."""
    where = "on this device" if on_device else "on a stick"
    return MenuItem(
        key, f"Put back {entries:,} {'entry' if entries == 1 else 'entries'}", f"{ago_words(age_ms)}, {where}"
    )


def looking_for_copies(warp: str) -> Asked[Start]:
    """Return what is shown while copies are looked for on slow sticks."""
    return Asked(
        f"{warp} cannot be opened",
        (),
        detail="Looking for copies",
        as_list=True,
        own=(warp,),
        topic="A warp that cannot be opened",
    )


def _chosen(start: Start) -> Answered[Start]:
    return Answered(start)
