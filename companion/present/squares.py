"""The flow from a gamp to a draft of one of its squares: which threading, which treadling, how large, which edges.

Each square is shown as a small drawing of its crossings, warp up dark, as it lies with its first pick at the bottom.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import partial
from itertools import groupby

from companion.draft.cloth import weave
from companion.draft.gamp import Area, Gamp, area_of
from companion.draft.model import MOST_THREADS, Draft
from companion.draft.square import Finish
from companion.draft.tabby import tabby_sheds
from companion.draft.units import counted
from companion.present.asking import Answer, Answered, Asked
from companion.present.loom_drawing import ACROSS, Stroke
from companion.present.number_pad import Wanted, ask_amount

SQUARES = "Its squares"
SELVEDGE_ENDS = 4
BORDER_PICKS = 8
_MOST_DRAWN = 16
"""Ends and picks of a square that are drawn; more would be too fine on a button."""


@dataclass(frozen=True, slots=True)
class SquareWanted:
    """Make a draft of this area of the gamp, finished so."""

    area: Area
    finish: Finish


def ask_square(draft: Draft, gamp: Gamp, rightmost_first: bool) -> Asked[SquareWanted]:
    """Ask for the threading of the square that is wanted; `rightmost_first`: the first end lies at the right.

    All are drawn with the first treadling, so that the pictures differ by the threading alone.
    """
    answers: tuple[Answer[SquareWanted], ...] = tuple(
        Answer(
            block.name,
            partial(_ask_section, draft, gamp, number, rightmost_first),
            detail=f"ends {block.first + 1} to {block.last}",
            own=True,
            drawn=_drawn(draft, area_of(gamp, draft, number, 0), rightmost_first),
        )
        for number, block in enumerate(gamp.blocks)
    )
    words = f"{len(gamp.blocks)} threadings by {counted(len(gamp.sections), 'treadling')}"
    return Asked("Which threading?", answers, detail=words)


def _ask_section(draft: Draft, gamp: Gamp, block: int, rightmost_first: bool) -> Asked[SquareWanted]:
    areas = [area_of(gamp, draft, block, section) for section in range(len(gamp.sections))]
    answers: tuple[Answer[SquareWanted], ...] = tuple(
        Answer(
            section.name,
            partial(_ask_ends, draft, area),
            detail=f"picks {section.first + 1} to {section.last}",
            own=True,
            drawn=_drawn(draft, area, rightmost_first),
        )
        for section, area in zip(gamp.sections, areas, strict=True)
    )
    return Asked("Which treadling on it?", answers, detail=gamp.blocks[block].name, own=(gamp.blocks[block].name,))


def _ask_ends(draft: Draft, area: Area) -> Asked[SquareWanted]:
    wanted = Wanted("Ends in all", "", 1, MOST_THREADS, begun=str(area.ends), meaning=f"the square has {area.ends}")
    return ask_amount(wanted, lambda ends: _ask_picks(draft, area, round(ends)))


def _ask_picks(draft: Draft, area: Area, ends: int) -> Asked[SquareWanted]:
    wanted = Wanted("Picks in all", "", 1, MOST_THREADS, begun=str(area.picks), meaning=f"the square has {area.picks}")
    return ask_amount(wanted, lambda picks: _ask_edges(draft, area, ends, round(picks)))


def _ask_edges(draft: Draft, area: Area, ends: int, picks: int) -> Asked[SquareWanted]:
    def answer(words: str, finish: Finish) -> Answer[SquareWanted]:
        return Answer(words, lambda: Answered(SquareWanted(area, finish)), main=not finish.balanced)

    edged = Finish(ends, picks, balanced=True, selvedge=SELVEDGE_ENDS)
    answers = [
        answer("As it lies", Finish(ends, picks)),
        answer("Both edges alike", Finish(ends, picks, balanced=True)),
        answer(f"Alike, {SELVEDGE_ENDS} ends of selvedge", edged),
    ]
    if tabby_sheds(draft.threading[area.first_end : area.last_end] * 2) is not None:
        answers.append(answer(f"And {BORDER_PICKS} plain picks", replace(edged, border=BORDER_PICKS)))
    return Asked("Which edges?", tuple(answers), detail=f"{ends} ends, {picks} picks of {area.name}", own=(area.name,))


def _drawn(draft: Draft, area: Area, rightmost_first: bool) -> tuple[Stroke, ...]:
    ends = range(area.first_end, min(area.last_end, area.first_end + _MOST_DRAWN))
    picks = range(area.first_pick, min(area.last_pick, area.first_pick + _MOST_DRAWN))
    sheds = draft.sheds()
    up = weave([draft.threading[end] for end in ends], [sheds[pick] for pick in picks])
    up = up[:, ::-1] if rightmost_first else up
    return tuple(_strokes(up.tolist(), ACROSS / max(len(ends), len(picks))))


def _strokes(rows: list[list[bool]], cell: float) -> Iterator[Stroke]:
    """Yield a stroke for each stretch of neighbouring ends that are up."""
    for row, line in enumerate(rows):
        y, column = (row + 0.5) * cell, 0
        for raised, stretch in groupby(line):
            length = len(list(stretch))
            if raised:
                # A stroke has round ends, half its thickness long.
                inset = 0.45 * cell
                yield Stroke(((column * cell + inset, y), ((column + length) * cell - inset, y)), 0.9 * cell)
            column += length
