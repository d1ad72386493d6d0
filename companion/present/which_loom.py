"""On which loom a draft is put: the one used last, another of the weaver's own, or one described by its treadles."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial

from companion.draft.units import counted
from companion.present.asking import Answer, Answered, Asked
from companion.present.button_words import ANOTHER_NUMBER
from companion.present.loom_drawing import loom_drawing
from companion.present.loom_kinds import DOES, MOST_BUILT, TREADLES, kind_button, loom_words, unnamed_loom_words
from companion.present.number_pad import ask_number
from companion.present.sheet_page import ITS_SHEET
from companion.present.squares import SQUARES
from companion.present.start import LookAtDraft, PutOnLoom, SheetOf, SquaresOf, Start
from companion.remap.loom.loom import Action
from companion.weaving.warp import NO_NAME, LoomProfile


def ask_loom(draft: str, looms: Sequence[LoomProfile] = (), in_file: bool = False) -> Asked[Start]:
    """Ask for the loom: one that the weaver has, the one used last first, or another by its treadles and what they do.

    One that was described by touch for the warp woven last is not described anew: only its name is missing.
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
            unnamed_loom_words(loom.loom) if loom.name == NO_NAME else loom.name,
            partial(_chosen, _put_on(draft, loom)),
            index == 0,
            "as last time" if loom.name == NO_NAME else loom_words(loom.loom),
            own=loom.name != NO_NAME,
        )
        for index, loom in enumerate(looms)
    ]
    other: Answer[Start] = Answer("Another loom", partial(_ask_treadles, draft, ()))
    return Asked("On which loom?", (*own, other), foot=others, as_list=True, topic="Which loom")


def last_first(looms: Sequence[LoomProfile], last: LoomProfile | None) -> tuple[LoomProfile, ...]:
    """Return the looms to choose from, the one used last first; one without a name comes with them then.

    A loom of the weaver's own is as it is kept now.
    """
    if last is None:
        return tuple(looms)
    if last.name == NO_NAME:
        return (last, *looms)
    return tuple(sorted(looms, key=lambda loom: loom.name != last.name))


def _put_on(draft: str, loom: LoomProfile) -> PutOnLoom:
    return PutOnLoom(draft, loom.loom.treadles, loom.loom.action, None if loom.name == NO_NAME else loom)


def _ask_treadles(draft: str, others: tuple[Answer[Start], ...]) -> Asked[Start]:
    counts: list[Answer[Start]] = [
        Answer(counted(count, "treadle"), partial(_ask_action, draft, count), main=count == 6) for count in TREADLES
    ]
    other: Answer[Start] = Answer(
        ANOTHER_NUMBER, lambda: ask_number("Treadles", MOST_BUILT, partial(_ask_action, draft))
    )
    levers: Answer[Start] = Answer(
        kind_button(Action.LEVERS),
        partial(_chosen, PutOnLoom(draft, 1, Action.LEVERS)),
        detail=DOES[Action.LEVERS],
        drawn=loom_drawing(Action.LEVERS),
    )
    return Asked("How many treadles on your loom?", (*counts, other, levers), foot=others, topic="Which loom")


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
        topic="Which loom",
    )


def _chosen(start: Start) -> Answered[Start]:
    return Answered(start)
