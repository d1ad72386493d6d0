"""Which draft to weave: one of a list, of those under a letter, or of any folder."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from functools import partial
from itertools import groupby
from typing import Any

from companion.present.asking import Answer, Answered, Asked, Result
from companion.present.icons import NOTE
from companion.present.new_draft import NewDraftFlow
from companion.present.start import Around, BeginDraft, Folder, MenuItem, Start
from companion.present.trade_words import words_quoted

DRAFTS = "drafts"
"""What the questions for a draft are called together."""
OPEN_DRAFT, WRITE_DRAFT, ANY_FOLDER, BY_LETTER = "Open a draft", "Write a draft", "Any folder", "By letter"
OWN_FIRST = "Your own first, newest on top"
LONG_LIST = 16
"""With more drafts than so many a letter leads to one faster than pages do."""
_UNDER_A_LETTER = 5
"""So many drafts under the letters of one button, where a letter has no more."""


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
            own_detail=True,
            picture=draft.picture,
        )
        for index, draft in enumerate(drafts)
    ]
    again: Answer[Start] = Answer("Look again", partial(ask_draft, around))
    folder: Answer[Start] = Answer(ANY_FOLDER, partial(around.folder, ""))
    by_letter: tuple[Answer[Start], ...] = ()
    if len(drafts) > LONG_LIST:
        by_letter = (Answer(BY_LETTER, partial(_ask_letter, around, drafts)),)
    return Asked(
        "Which draft?" if drafts else "No draft was found",
        tuple(rows),
        detail=OWN_FIRST if drafts else "Put a WIF file into Documents, Downloads or on a USB stick",
        foot=(again, folder, write_a_draft(), *by_letter),
        as_list=True,
        bit_by_bit=DRAFTS,
        pictured=True,
        topic="Drafts",
    )


def _ask_letter(around: Around, drafts: Sequence[MenuItem]) -> Asked[Start]:
    """Ask with which letter the draft begins; few letters share a button, so that few drafts stand under it."""

    def under(some: Sequence[MenuItem]) -> Asked[Start]:
        rows = tuple(
            Answer(
                one.words,
                partial(around.opened, one.key),
                detail=one.detail,
                own=True,
                own_detail=True,
                picture=one.picture,
            )
            for one in some
        )
        return Asked(f"Which draft, {_letters(some)}?", rows, as_list=True, pictured=True)

    return Asked(
        "With which letter does it begin?",
        tuple(Answer(_letters(some), partial(under, some), own=True) for some in under_letters(drafts)),
    )


def under_letters(drafts: Sequence[MenuItem]) -> list[list[MenuItem]]:
    """Return drafts by name in groups of few; all that begin with one letter stand in one group."""
    groups: list[list[MenuItem]] = []
    for _, alike in groupby(sorted(drafts, key=lambda one: one.words.casefold()), key=_letter):
        some = list(alike)
        if groups and len(groups[-1]) + len(some) <= _UNDER_A_LETTER:
            groups[-1] += some
        else:
            groups.append(some)
    return groups


def _letter(draft: MenuItem) -> str:
    return draft.words[:1].upper()


def _letters(some: Sequence[MenuItem]) -> str:
    first, last = _letter(some[0]), _letter(some[-1])
    return first if first == last else f"{first} to {last}"


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
            own_detail=True,
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


def write_a_draft() -> Answer[Start]:
    """Return what leads to a draft from nothing."""
    begin: NewDraftFlow[Start] = NewDraftFlow(lambda begun: Answered(BeginDraft(begun)))
    return Answer(WRITE_DRAFT, begin.ask, icon=NOTE)
