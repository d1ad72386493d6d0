"""The start flow: which warp to weave on, or which draft to put on which loom."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import partial

from companion.draft.from_nothing import Begun
from companion.draft.units import counted
from companion.present.asking import Answer, Answered, Asked
from companion.present.fell import Picture
from companion.present.loom_drawing import loom_drawing
from companion.present.loom_kinds import DOES, TREADLES, kind_button, loom_words
from companion.present.new_draft import NewDraftFlow
from companion.present.sheet_page import ITS_SHEET
from companion.present.squares import SQUARES
from companion.present.wording import ago_words
from companion.remap.loom.loom import Action, Loom
from companion.weaving.warp import LoomProfile

TIDY_UP = "Tidy up"
SETS_OF_PROJECTS = "Sets"
DRAFTS = "drafts"
"""What the questions for a draft are called together."""
BY_USE = "Last used first"
OWN_FIRST = "Your own first, newest on top"
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
    """What the start looks up, each as it is when asked: drafts, a folder by its path (empty for home), the looms."""

    drafts: Callable[[], Sequence[MenuItem]]
    folder: Callable[[str], Asked[Start]]
    looms: Callable[[], Sequence[LoomProfile]]


def ask_start(warps: Sequence[MenuItem], around: Around) -> Asked[Start]:
    """Ask for a warp to weave on, last used first, or for a new one."""
    new: Answer[Start] = Answer("A new warp", partial(ask_draft, around))
    own: Answer[Start] = Answer("Your looms", partial(_chosen, OwnLooms()))
    settings: Answer[Start] = Answer("Settings", partial(_chosen, Settings()))
    sets: Answer[Start] = Answer(SETS_OF_PROJECTS, partial(_chosen, SeeSets()))
    tidy: Answer[Start] = Answer(TIDY_UP, partial(_chosen, TidyUp()))
    if not warps:
        demo: Answer[Start] = Answer("Weave the demo", partial(_chosen, WeaveDemo()), main=True)
        return Asked(
            "Nothing is on the loom yet",
            (demo, new, own, settings),
            detail="The demo is dressed and tied: touch it and weave",
            foot=(sets, tidy),
        )
    rows: list[Answer[Start]] = [
        Answer(
            warp.words, partial(_chosen, OpenWarp(warp.key)), index == 0, warp.detail, own=True, picture=warp.picture
        )
        for index, warp in enumerate(warps)
    ]
    return Asked("Which warp?", tuple(rows), detail=BY_USE, foot=(new, own, sets, tidy, settings), as_list=True)


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
    )


def copy_item(key: str, entries: int, age_ms: int, on_device: bool) -> MenuItem:
    """Return a copy as something to choose: `Put back 412 entries`, `3 days ago, on this device`."""
    where = "on this device" if on_device else "on a stick"
    return MenuItem(
        key, f"Put back {entries:,} {'entry' if entries == 1 else 'entries'}", f"{ago_words(age_ms)}, {where}"
    )


def looking_for_copies(warp: str) -> Asked[Start]:
    """Return what is shown while copies are looked for on slow sticks."""
    return Asked(f"{warp} cannot be opened", (), detail="Looking for copies", as_list=True, own=(warp,))


def ask_draft(around: Around, known: Sequence[MenuItem] | None = None) -> Asked[Start]:
    """Ask which draft to weave: of those that are `known`, or else of those that are there at this moment."""
    drafts = around.drafts() if known is None else known
    rows: list[Answer[Start]] = [
        Answer(
            draft.words,
            partial(_ask_own_loom, draft.key, around),
            index == 0,
            draft.detail,
            own=True,
            picture=draft.picture,
        )
        for index, draft in enumerate(drafts)
    ]
    again: Answer[Start] = Answer("Look again", partial(ask_draft, around))
    folder: Answer[Start] = Answer("Any folder", partial(around.folder, ""))
    begin: NewDraftFlow[Start] = NewDraftFlow(lambda begun: Answered(BeginDraft(begun)))
    write: Answer[Start] = Answer("Write a draft", begin.ask)
    return Asked(
        "Which draft?" if drafts else "No draft was found",
        tuple(rows),
        detail=OWN_FIRST if drafts else "Put a WIF file into Documents, Downloads or on a USB stick",
        foot=(again, folder, write),
        as_list=True,
        bit_by_bit=DRAFTS,
    )


def ask_folder(folder: Folder, around: Around) -> Asked[Start]:
    """Ask which draft of a folder to weave, or which folder to look into instead."""
    into: list[Answer[Start]] = [
        Answer(inner.words, partial(around.folder, inner.key), detail="folder", own=True) for inner in folder.folders
    ]
    drafts: list[Answer[Start]] = [
        Answer(
            draft.words,
            partial(_ask_own_loom, draft.key, around),
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
        foot=tuple(Answer(way.words, partial(around.folder, way.key), own=True) for way in folder.ways),
        as_list=True,
        bit_by_bit="folders",
        own=(folder.name, folder.where, folder.problem),
    )


def waiting_for(folder: str) -> Asked[Start]:
    """Return what is shown while a slow folder is looked into."""
    return Asked(f"Looking into {folder}", (), detail="It takes a while", as_list=True, bit_by_bit="folders")


def _ask_own_loom(draft: str, around: Around) -> Asked[Start]:
    return ask_loom(draft, around.looms(), in_file=True)


def ask_loom(draft: str, looms: Sequence[LoomProfile] = (), in_file: bool = False) -> Asked[Start]:
    """Ask for the loom: one of the weaver's own, or another by its treadles and what they do.

    `in_file`: the key is that of a file, beside which words for its sheet can be kept.
    """
    look: Answer[Start] = Answer("Look at the draft", partial(_chosen, LookAtDraft(draft)))
    squares: Answer[Start] = Answer(SQUARES, partial(_chosen, SquaresOf(draft)))
    sheet: Answer[Start] = Answer(ITS_SHEET, partial(_chosen, SheetOf(draft)))
    others = (look, squares, *((sheet,) if in_file else ()))
    if not looms:
        return _ask_treadles(draft, others)
    own: list[Answer[Start]] = [
        Answer(
            loom.name,
            partial(_chosen, PutOnLoom(draft, loom.loom.treadles, loom.loom.action, loom)),
            index == 0,
            loom_words(loom.loom),
            own=True,
        )
        for index, loom in enumerate(looms)
    ]
    other: Answer[Start] = Answer("Another loom", partial(_ask_treadles, draft, ()))
    return Asked("On which loom?", (*own, other), foot=others, as_list=True)


def _ask_treadles(draft: str, others: tuple[Answer[Start], ...]) -> Asked[Start]:
    counts: list[Answer[Start]] = [
        Answer(counted(count, "treadle"), partial(_ask_action, draft, count), main=count == 6) for count in TREADLES
    ]
    levers: Answer[Start] = Answer(kind_button(Action.LEVERS), partial(_chosen, PutOnLoom(draft, 1, Action.LEVERS)))
    return Asked("How many treadles has your loom?", (*counts, levers), foot=others)


def _ask_action(draft: str, treadles: int) -> Asked[Start]:
    return Asked(
        "Which kind of loom is it?",
        tuple(
            Answer(
                kind_button(action),
                partial(_chosen, PutOnLoom(draft, treadles, action)),
                main=action is Action.RISING,
                detail=DOES[action],
                drawn=loom_drawing(action),
            )
            for action in Action
            if action is not Action.LEVERS
        ),
        detail="Press a treadle and look what the shafts tied to it do",
    )


def _chosen(start: Start) -> Answered[Start]:
    return Answered(start)
