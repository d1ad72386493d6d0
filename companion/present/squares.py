"""The questions after a touch on a square of a gamp: how it is marked, and how it becomes a draft of its own.

What the draft is to be stands on one page that stays open while it is changed, as it is with the settings.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from functools import partial

from companion.draft.gamp import Area
from companion.draft.model import MOST_THREADS, Draft, Yarn
from companion.draft.square import MOST_AT_EDGE, Finish
from companion.draft.tabby import tabby_sheds
from companion.draft.units import counted
from companion.present.asking import Answer, Answered, Asked, AskedToWrite
from companion.present.new_draft import PALETTE
from companion.present.number_pad import Wanted, ask_amount
from companion.present.square_table import SquareSeen, marked_line
from companion.present.square_words import area_words

SQUARES = "Its squares"
MARK_A_SQUARE = "Mark a square"
STAR_IT, NO_STAR = "Give it a star", "Take the star away"
SOME_WORDS, OTHER_WORDS, NO_WORDS = "Words to it", "Other words", "Take the words away"
MAKE_DRAFT = "Make a draft of it"
MAKE_IT = "Make it"
KEPT = "as it is"
SQUARE_ENDS, SQUARE_PICKS = "Ends without selvedges", "Picks without borders"
"""What lies around the square is added to these."""
USUAL_SELVEDGE_ENDS = 4
USUAL_BORDER_PICKS = 8


@dataclass(frozen=True, slots=True)
class SquareWanted:
    """Make a draft of this area of the gamp, finished so."""

    area: Area
    finish: Finish


@dataclass(frozen=True, slots=True)
class MarkWanted:
    """Mark this area of the gamp with a star, with words or both; with neither the mark goes."""

    area: Area
    starred: bool
    text: str


SquareDeed = SquareWanted | MarkWanted


def ask_square(draft: Draft, square: SquareSeen, can_mark: bool) -> Asked[SquareDeed]:
    """Ask what is to become of a square; `can_mark`: it lies in cloth that is woven, so that it can be marked."""
    if not can_mark:
        return _ToFinish(draft, square.area, Finish(square.area.ends, square.area.picks)).ask()
    area, starred, text = square.area, square.starred, square.text

    def mark(star: bool, words: str) -> Callable[[], Answered[SquareDeed]]:
        return lambda: Answered(MarkWanted(area, star, words))

    def write() -> AskedToWrite[SquareDeed]:
        return AskedToWrite(f"Words to {area.name}", lambda words: Answered(MarkWanted(area, starred, words)), text)

    star: Answer[SquareDeed] = Answer(NO_STAR if starred else STAR_IT, mark(not starred, text), main=not starred)
    words: Answer[SquareDeed] = Answer(OTHER_WORDS if text else SOME_WORDS, write)
    none: tuple[Answer[SquareDeed], ...] = (Answer(NO_WORDS, mark(starred, "")),) if text else ()
    make: Answer[SquareDeed] = Answer(MAKE_DRAFT, _ToFinish(draft, area, Finish(area.ends, area.picks)).ask)
    return Asked(
        area.name,
        (star, words, *none, make),
        detail=marked_line(square) or "; ".join(filter(None, (area_words(area), square.cloth))),
        own=(area.name, text),
        topic="A square",
    )


@dataclass(frozen=True, slots=True)
class _ToFinish:
    """The page on which a square of a draft is finished; it is asked again with every change."""

    draft: Draft
    area: Area
    finish: Finish

    def ask(self) -> Asked[SquareDeed]:
        """Ask for one thing more, or for the draft to be made."""
        area, finish = self.area, self.finish
        edges = replace(self, finish=replace(finish, balanced=not finish.balanced))
        done: Answer[SquareDeed] = Answer(MAKE_IT, lambda: Answered(SquareWanted(area, finish)), main=True)
        return Asked(
            area.name,
            (
                self._ends(),
                self._picks(),
                Answer("Edges", edges.ask, detail="mirrored" if finish.balanced else "as they lie"),
                *self._around(),
                *map(self._colour, _yarns_in(self.draft, area)),
            ),
            detail="What the new draft is to be; touch to change it",
            foot=(done,),
            as_list=True,
            bit_by_bit=f"finish of {area_words(area)}",
            own=(area.name,),
            topic="A square made a draft",
        )

    def _with(self, finish: Finish) -> Asked[SquareDeed]:
        return replace(self, finish=finish).ask()

    def _ends(self) -> Answer[SquareDeed]:
        there, around = self.finish.ends or self.area.ends, 2 * self.finish.selvedge
        detail = _around_words(there, around, "selvedge", self.finish.balanced)
        wanted = _threads_wanted(SQUARE_ENDS, there, self.area.ends)
        return self._counted("Ends", detail, wanted, lambda ends: replace(self.finish, ends=ends))

    def _picks(self) -> Answer[SquareDeed]:
        there, around = self.finish.picks or self.area.picks, 2 * self.finish.border
        detail = _around_words(there, around, "border", self.finish.balanced)
        wanted = _threads_wanted(SQUARE_PICKS, there, self.area.picks)
        return self._counted("Picks", detail, wanted, lambda picks: replace(self.finish, picks=picks))

    def _counted(self, words: str, detail: str, wanted: Wanted, finish: Callable[[int], Finish]) -> Answer[SquareDeed]:
        return Answer(
            words, lambda: ask_amount(wanted, lambda number: self._with(finish(round(number)))), detail=detail
        )

    def _around(self) -> Iterator[Answer[SquareDeed]]:
        """Yield what may lie around the square: a selvedge, and plain picks where its threading weaves them."""
        finish = self.finish
        ends = Wanted(
            "Ends of selvedge",
            "",
            0,
            MOST_AT_EDGE,
            begun=str(finish.selvedge or USUAL_SELVEDGE_ENDS),
            meaning="at each side; 0 for none",
        )
        yield Answer(
            "Selvedge",
            lambda: ask_amount(ends, lambda number: self._with(replace(finish, selvedge=round(number)))),
            detail=f"{counted(finish.selvedge, 'end')} at each side" if finish.selvedge else "none",
        )
        if tabby_sheds(self.draft.threading[self.area.first_end : self.area.last_end] * 2) is None:
            return
        picks = Wanted(
            "Plain picks",
            "",
            0,
            MOST_AT_EDGE,
            begun=str(finish.border or USUAL_BORDER_PICKS),
            meaning="before and after; 0 for none",
        )
        yield Answer(
            "Border",
            lambda: ask_amount(picks, lambda number: self._with(replace(finish, border=round(number)))),
            detail=f"{counted(finish.border, 'plain pick')} before and after" if finish.border else "none",
        )

    def _colour(self, name: str) -> Answer[SquareDeed]:
        yarns = dict(self.finish.yarns or {})

        def with_colour(yarn: Yarn | None) -> Asked[SquareDeed]:
            others = {called: other for called, other in yarns.items() if called != name}
            return self._with(replace(self.finish, yarns=(others if yarn is None else {**others, name: yarn}) or None))

        def ask() -> Asked[SquareDeed]:
            kept: Answer[SquareDeed] = Answer(f"Keep {name}", partial(with_colour, None), main=True, own=True)
            colours = tuple(Answer(yarn.name, partial(with_colour, yarn)) for yarn in PALETTE)
            return Asked(
                f"Another colour for {name}", colours, foot=(kept,), own=(name,), topic="A square made a draft"
            )

        return Answer(f"Yarn: {name}", ask, detail=yarns[name].name if name in yarns else KEPT)


def _around_words(there: int, around: int, what: str, balanced: bool) -> str:
    """Return how many threads there are and lie around: `240 and 8 of selvedge: 248 in all`.

    Mirrored edges may take one thread more, so nothing is promised in all.
    """
    if not around:
        return f"{there:,}"
    return f"{there:,} and {around} of {what}{'' if balanced else f': {there + around:,} in all'}"


def _threads_wanted(words: str, there: int, in_square: int) -> Wanted:
    return Wanted(words, "", 1, MOST_THREADS, begun=str(there), meaning=f"the square has {in_square:,}")


def _yarns_in(draft: Draft, area: Area) -> list[str]:
    """Return the names of the yarns that the square is woven of, those of its warp first."""
    warp, weft = draft.warp[area.first_end : area.last_end], draft.weft[area.first_pick : area.last_pick]
    return list(dict.fromkeys(draft.yarns[yarn].name for yarn in (*warp, *weft)))
