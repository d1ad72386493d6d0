"""The start flow: which warp to weave on, or which draft to put on which loom."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from functools import partial
from typing import Any

from companion.draft.from_nothing import Begun
from companion.present.asking import Answer, Answered, Asked, Result
from companion.present.fell import Picture
from companion.present.icons import CLOTH, NOTE, SHUTTLE, TREADLE
from companion.present.new_draft import NewDraftFlow
from companion.present.trade_words import words_quoted
from companion.present.wording import ago_words
from companion.remap.loom.loom import Action, Loom
from companion.weaving.warp import LoomProfile

TIDY_UP = "Tidy up"
SETS_OF_PROJECTS = "Sets"
DRAFTS = "drafts"
"""What the questions for a draft are called together."""
BY_USE = "Last used first"
OWN_FIRST = "Your own first, newest on top"
OPEN_DRAFT = "Open a draft"
WRITE_DRAFT = "Write a draft"
ANY_FOLDER = "Any folder"
CANNOT_BE_OPENED = "cannot be opened"
"""Stands beside such a warp in the list; a touch on it says more."""


@dataclass(frozen=True, slots=True)
class MenuItem:
    """Something to choose: `key` names it to the program, `words` to the weaver, `detail` says more about it.

    What `detail` says is parted by `BETWEEN`, what matters most first. `picture` shows some of its cloth.
    """

    key: str
    words: str
    detail: str = ""
    picture: Picture | None = None


@dataclass(frozen=True, slots=True)
class Folder:
    """What a folder holds; `ways` lead to other folders, `problem` says why it could not be looked into."""

    name: str
    where: str
    folders: tuple[MenuItem, ...] = ()
    drafts: tuple[MenuItem, ...] = ()
    ways: tuple[MenuItem, ...] = ()
    problem: str = ""


@dataclass(frozen=True, slots=True)
class OpenWarp:
    """Weave on: the warp with this name."""

    name: str


@dataclass(frozen=True, slots=True)
class PutOnLoom:
    """Find out how the weaver's `own` loom, or any with these treadles, weaves the draft with this key."""

    draft: str
    treadles: int
    action: Action
    own: LoomProfile | None = None

    def profile(self, shafts: int) -> LoomProfile:
        """Return the loom; one of which nothing more is known has as many shafts as the draft asks for."""
        return self.own or LoomProfile("loom", Loom(shafts, self.treadles, self.action))


@dataclass(frozen=True, slots=True)
class Settings:
    """Change the settings."""


@dataclass(frozen=True, slots=True)
class WeaveDemo:
    """Weave the demo, which comes along with its loom."""


@dataclass(frozen=True, slots=True)
class LookAtDraft:
    """See the draft with this key, and change it, before it is put on a loom."""

    draft: str


@dataclass(frozen=True, slots=True)
class SquaresOf:
    """Choose a square of the draft with this key, to be a draft of its own."""

    draft: str


@dataclass(frozen=True, slots=True)
class SheetOf:
    """See what is said on the sheet of the draft with this key, and save it."""

    draft: str


@dataclass(frozen=True, slots=True)
class OwnLooms:
    """See and change the looms that the weaver owns."""


@dataclass(frozen=True, slots=True)
class SeeSets:
    """See the sets of drafts and warps, and make more of them."""


@dataclass(frozen=True, slots=True)
class TidyUp:
    """Rename, copy and throw away warps, and put back what was thrown away."""


@dataclass(frozen=True, slots=True)
class PutCopyBack:
    """Put the copy with this key in the place of the journal that cannot be opened, and weave on it."""

    copy: str


@dataclass(frozen=True, slots=True)
class BeginDraft:
    """See and change the draft that was begun from nothing, before it is put on a loom."""

    begun: Begun


Start = (
    OpenWarp
    | WeaveDemo
    | PutOnLoom
    | LookAtDraft
    | SquaresOf
    | SheetOf
    | BeginDraft
    | OwnLooms
    | TidyUp
    | SeeSets
    | Settings
    | PutCopyBack
)


@dataclass(frozen=True, slots=True)
class Around:
    """What the start looks up, each as it is when asked: drafts, a folder by its path (empty for home), the looms.

    The loom that was used last comes first among these. `opened` reads the draft with a key and asks on; one that
    cannot be read is refused on the list that it was chosen from.
    """

    drafts: Callable[[], Sequence[MenuItem]]
    folder: Callable[[str], Asked[Start]]
    looms: Callable[[], Sequence[LoomProfile]]
    opened: Callable[[str], Asked[Start]]


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
            (demo, new, _write_a_draft(), own, settings),
            detail="The demo is dressed and tied: touch it and weave",
            foot=(sets, tidy),
            topic="Start",
        )
    rows: list[Answer[Start]] = [
        Answer(
            warp.words, partial(_chosen, OpenWarp(warp.key)), index == 0, warp.detail, own=True, picture=warp.picture
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


def ask_draft(around: Around, known: Sequence[MenuItem] | None = None) -> Asked[Start]:
    """Ask which draft to weave: of those that are `known`, or else of those that are there at this moment."""
    drafts = around.drafts() if known is None else known
    rows: list[Answer[Start]] = [
        Answer(
            draft.words,
            partial(around.opened, draft.key),
            index == 0,
            draft.detail,
            own=True,
            picture=draft.picture,
        )
        for index, draft in enumerate(drafts)
    ]
    again: Answer[Start] = Answer("Look again", partial(ask_draft, around))
    folder: Answer[Start] = Answer(ANY_FOLDER, partial(around.folder, ""))
    return Asked(
        "Which draft?" if drafts else "No draft was found",
        tuple(rows),
        detail=OWN_FIRST if drafts else "Put a WIF file into Documents, Downloads or on a USB stick",
        foot=(again, folder, _write_a_draft()),
        as_list=True,
        bit_by_bit=DRAFTS,
        pictured=True,
        topic="Drafts",
    )


def ask_folder(
    folder: Folder, look_into: Callable[[str], Asked[Result]], opened: Callable[[str], Asked[Result]]
) -> Asked[Result]:
    """Ask which draft of a folder to weave, or which folder to look into instead; both are told by their keys."""
    into: list[Answer[Result]] = [
        Answer(inner.words, partial(look_into, inner.key), detail="folder", own=True) for inner in folder.folders
    ]
    drafts: list[Answer[Result]] = [
        Answer(
            draft.words,
            partial(opened, draft.key),
            detail=draft.detail or "draft",
            own=True,
            picture=draft.picture,
        )
        for draft in folder.drafts
    ]
    empty = "" if into or drafts else "no folder and no draft is in here"
    return Asked(
        folder.name,
        (*into, *drafts),
        detail=folder.problem or empty or folder.where,
        foot=tuple(Answer(way.words, partial(look_into, way.key), own=True) for way in folder.ways),
        as_list=True,
        bit_by_bit="folders",
        own=(folder.name, folder.where, folder.problem),
        topic="Drafts",
    )


def waiting_for(folder: str) -> Asked[Any]:
    """Return what is shown while a slow folder is looked into."""
    return Asked(
        f"Looking into {folder}", (), detail="It takes a while", as_list=True, bit_by_bit="folders", topic="Waiting"
    )


def refused(listed: Asked[Start], file: str, problem: str) -> Asked[Start]:
    """Return the list that a draft was chosen from, with why the one in the file of this name cannot be taken."""
    return replace(listed, lines=(problem,), own=(*listed.own, file, *words_quoted(problem)))


def waiting_for_draft(words: str) -> Asked[Start]:
    """Return what is shown while a large draft is read."""
    return Asked(words, (), detail="It takes a while", as_list=True, topic="Waiting")


def _write_a_draft() -> Answer[Start]:
    begin: NewDraftFlow[Start] = NewDraftFlow(lambda begun: Answered(BeginDraft(begun)))
    return Answer(WRITE_DRAFT, begin.ask, icon=NOTE)


def _chosen(start: Start) -> Answered[Start]:
    return Answered(start)
