"""The flow of sets: one is made or chosen, drafts and warps are put into it, its papers are written."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import partial

from companion.present.asking import Answer, Answered, Asked, AskedToWrite
from companion.present.fell import Picture
from companion.present.start import SETS_OF_PROJECTS, MenuItem
from companion.present.which_draft import OWN_FIRST
from companion.present.which_warp import BY_USE

MAKE_SET = "Make a set"
ADD_DRAFT, ADD_WARP, THIS_SET = "Add a draft", "Add a warp", "This set"
SET_WORDS, SET_NAME, SET_AWAY = "Add words", "Another name", "Into the bin"
ALL_SHEETS, ONE_BUNDLE = "All sheets", "Bundle"
FIRST, OUT = "Put it first", "Take it out of the set"


@dataclass(frozen=True, slots=True)
class MakeSet:
    """Make a set with this title."""

    title: str


@dataclass(frozen=True, slots=True)
class SeeSet:
    """See the set with this key."""

    key: str


@dataclass(frozen=True, slots=True)
class PutIntoSet:
    """Put the draft with this key, or the warp with this name, into the set."""

    kind: str
    which: str


@dataclass(frozen=True, slots=True)
class SayInSet:
    """Let the set say these words too."""

    words: str


@dataclass(frozen=True, slots=True)
class RenameSet:
    """Call the set from now on `new`."""

    new: str


@dataclass(frozen=True, slots=True)
class BinSet:
    """Put the list of the set into the bin."""


@dataclass(frozen=True, slots=True)
class MoveInSet:
    """Put this draft or warp before all others in the set, or take it `out`."""

    kind: str
    which: str
    out: bool = False


@dataclass(frozen=True, slots=True)
class WriteSheets:
    """Write the page of the set and the sheet of each in it."""


@dataclass(frozen=True, slots=True)
class WriteBundle:
    """Write all of the set into one file."""


SetsDeed = MakeSet | SeeSet
SetDeed = PutIntoSet | SayInSet | RenameSet | BinSet | MoveInSet | WriteSheets | WriteBundle


@dataclass(frozen=True, slots=True)
class InSet:
    """A draft or a warp of a set, as it is shown: `kind` and `which` tell it to the program."""

    kind: str
    which: str
    name: str
    picture: Picture | None
    problem: str = ""


def in_set_words(members: int) -> str:
    """Return how much is in a set."""
    return f"{members} in it"


def ask_sets(sets: Sequence[MenuItem], done: str = "") -> Asked[SetsDeed]:
    """Ask which set to see, or for the title of a new one."""
    rows: tuple[Answer[SetsDeed], ...] = tuple(
        Answer(one.words, partial(_see, one.key), detail=one.detail, own=True, picture=one.picture) for one in sets
    )
    make: Answer[SetsDeed] = Answer(
        MAKE_SET, lambda: AskedToWrite("What is the set called?", lambda title: Answered(MakeSet(title)))
    )
    hint = "Drafts and warps that belong together, such as four shafts and eight"
    return Asked(SETS_OF_PROJECTS, rows, detail=done or hint, foot=(make,), as_list=True, pictured=True, topic="Sets")


def ask_set(
    title: str, members: Sequence[InSet], drafts: Sequence[MenuItem], warps: Sequence[MenuItem], done: str = ""
) -> Asked[SetDeed]:
    """Show what is in a set side by side, and ask what is to be done with it; `done` says what was done last."""
    shown: tuple[Answer[SetDeed], ...] = tuple(
        Answer(one.name, partial(_ask_member, one), own=True, picture=one.picture) for one in members
    )
    add: list[Answer[SetDeed]] = []
    if drafts:
        add.append(Answer(ADD_DRAFT, partial(_ask_which, "draft", tuple(drafts))))
    if warps:
        add.append(Answer(ADD_WARP, partial(_ask_which, "warp", tuple(warps))))
    papers: tuple[Answer[SetDeed], ...] = (
        Answer(ALL_SHEETS, lambda: Answered(WriteSheets())),
        Answer(ONE_BUNDLE, lambda: Answered(WriteBundle())),
    )
    hint = f"{in_set_words(len(members))}; touch one to move it" if members else "Nothing is in it yet"
    this: Answer[SetDeed] = Answer(THIS_SET, partial(_ask_this, title))
    foot = (*add, this, *(papers if members else ()))
    return Asked(title, shown, detail=done or hint, foot=foot, own=(title,), topic="A set")


def _ask_which(kind: str, items: tuple[MenuItem, ...]) -> Asked[SetDeed]:
    rows: tuple[Answer[SetDeed], ...] = tuple(
        Answer(
            item.words,
            partial(_put, kind, item.key),
            detail=item.detail,
            own=True,
            own_detail=True,
            picture=item.picture,
        )
        for item in items
    )
    first = OWN_FIRST if kind == "draft" else BY_USE
    return Asked(f"Which {kind}?", rows, detail=first, as_list=True, pictured=True)


def _ask_this(title: str) -> Asked[SetDeed]:
    say: Answer[SetDeed] = Answer(
        SET_WORDS, lambda: AskedToWrite("Words of your own for the set", lambda words: Answered(SayInSet(words)))
    )
    name: Answer[SetDeed] = Answer(
        SET_NAME, lambda: AskedToWrite("Another name for the set", lambda new: Answered(RenameSet(new)), title)
    )
    away: Answer[SetDeed] = Answer(SET_AWAY, lambda: Answered(BinSet()))
    stays = "In the bin goes the list: its drafts and warps stay where they are"
    return Asked(title, (say, name, away), detail=stays, own=(title,), topic="This set")


def _ask_member(one: InSet) -> Asked[SetDeed]:
    first: Answer[SetDeed] = Answer(FIRST, lambda: Answered(MoveInSet(one.kind, one.which)))
    out: Answer[SetDeed] = Answer(OUT, lambda: Answered(MoveInSet(one.kind, one.which, out=True)))
    return Asked(one.name, (first, out), detail=one.problem or f"{one.kind}: {one.which}", own=(one.name, one.which))


def _see(key: str) -> Answered[SetsDeed]:
    return Answered(SeeSet(key))


def _put(kind: str, which: str) -> Answered[SetDeed]:
    return Answered(PutIntoSet(kind, which))
