"""A draft from nothing by touch: shafts, treadles, threading and treadling by draws, a tie-up, colours by order."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from functools import partial
from typing import Generic

from companion.draft.colours import parse_colour
from companion.draft.from_nothing import PLAIN, Begun, Draw, InOrder, Twill, threads_of, twills_on
from companion.draft.model import MOST_SHAFTS, MOST_THREADS, Yarn
from companion.draft.units import counted
from companion.present.asking import Answer, Asked, FlowStep, Result, empty_slot
from companion.present.button_words import ANOTHER_NUMBER, DONE
from companion.present.number_pad import ask_number
from companion.remap.search.fewest import MOST_TREADLES

SHAFTS = (2, 4, 6, 8, 10, 12, 16, 24)
"""What looms are built with (common practice, no source)."""
SPARE_TREADLES = (0, 2, 4)
"""How many treadles more than shafts are offered; two more hold plain weave."""
NEW_DRAFT = "New draft"
"""What it is called until somebody gives it another name."""
ONE_OFF = "Take the last off"
_COLOURS = ("natural", "white", "gold", "rust", "madder", "pink", "plum", "sea", "sky", "moss", "charcoal", "black")
PALETTE = tuple(Yarn(word, colour) for word in _COLOURS if (colour := parse_colour(word)) is not None)
_LINES = 3
"""Draws that are told of; of more the last."""


@dataclass(frozen=True, slots=True)
class NewDraftFlow(Generic[Result]):
    """The questions, in order; `then` takes what was said of the draft and leads on."""

    then: Callable[[Begun], FlowStep[Result]]

    def ask(self) -> Asked[Result]:
        """Ask the first of them."""
        counts = [Answer(str(shafts), partial(self._ask_treadles, shafts), shafts == 4) for shafts in SHAFTS]
        other: Answer[Result] = Answer(ANOTHER_NUMBER, lambda: ask_number("Shafts", MOST_SHAFTS, self._ask_treadles))
        return Asked("How many shafts?", (*counts, other), topic="A draft from nothing")

    def _ask_treadles(self, shafts: int) -> Asked[Result]:
        def begin(treadles: int) -> Asked[Result]:
            return self._ask_threading(Begun(shafts, treadles, PALETTE))

        offered = [shafts + spare for spare in SPARE_TREADLES if shafts + spare <= MOST_TREADLES]
        counts = [Answer(str(treadles), partial(begin, treadles), treadles == shafts + 2) for treadles in offered]
        other: Answer[Result] = Answer(ANOTHER_NUMBER, lambda: ask_number("Treadles", MOST_TREADLES, begin))
        return Asked("How many treadles?", (*counts, other), detail="Two more than shafts hold plain weave")

    def _ask_threading(self, begun: Begun) -> Asked[Result]:
        def with_draws(draws: tuple[Draw, ...]) -> Asked[Result]:
            return self._ask_threading(replace(begun, threading=draws))

        draws = _Draws("Threading", "end", "shaft", begun.shafts, begun.threading, begun.shafts)
        return draws.ask(with_draws, partial(self._ask_twill, begun))

    def _ask_twill(self, begun: Begun) -> Asked[Result]:
        def tied(twill: Twill | None) -> Asked[Result]:
            return self._ask_treadling(replace(begun, twill=twill))

        offered = [Answer(twill_words(twill), partial(tied, twill)) for twill in twills_on(begun.shafts)]
        untied: Answer[Result] = Answer("Nothing yet", partial(tied, None))
        return Asked("What is tied?", (*offered, untied), detail="Each tie can be changed in the draft")

    def _ask_treadling(self, begun: Begun) -> Asked[Result]:
        def with_draws(draws: tuple[Draw, ...]) -> Asked[Result]:
            return self._ask_treadling(replace(begun, treadling=draws))

        draws = _Draws(
            "Treadling", "pick", "treadle", begun.treadles, begun.treadling, begun.twilled, begun.plain_weave
        )
        as_drawn = begun.threading if begun.treadles >= begun.shafts else ()
        return draws.ask(with_draws, partial(self._ask_warp, begun), as_drawn)

    def _ask_warp(self, begun: Begun, order: tuple[InOrder, ...] = ()) -> Asked[Result]:
        done = partial(self._ask_weft, replace(begun, warp=order or begun.warp))
        return _ask_order("Colours of the warp", "end", order, partial(self._ask_warp, begun), done)

    def _ask_weft(self, begun: Begun, order: tuple[InOrder, ...] = ()) -> Asked[Result]:
        def done() -> FlowStep[Result]:
            return self.then(replace(begun, weft=order or begun.weft))

        like: Answer[Result] = Answer("Like the warp", lambda: self.then(replace(begun, weft=begun.warp)))
        return _ask_order("Colours of the weft", "pick", order, partial(self._ask_weft, begun), done, like)


def twill_words(twill: Twill) -> str:
    """Return what a tie-up is called: `plain weave`, `2/2 twill`, shafts up before shafts down."""
    return "Plain weave" if twill == PLAIN else f"{twill.up}/{twill.down} twill"


def draw_words(draw: Draw) -> str:
    """Return a draw as it is written: `(1 2 3 4 3 2)x8`."""
    numbers = " ".join(str(index + 1) for index in draw.once)
    return numbers if draw.times == 1 else f"({numbers})x{draw.times}"


def order_words(order: Sequence[InOrder]) -> str:
    """Return colours by order as they are said: `2 sea, 1 white, over and over`."""
    parts = ", ".join(f"{part.threads} {PALETTE[part.yarn].name}" for part in order)
    return f"{parts}, over and over" if len(order) > 1 else f"all {PALETTE[order[0].yarn].name}" if order else ""


@dataclass(frozen=True, slots=True)
class _Draws:
    """Threading or treadling, one draw after the other: of `among` shafts or treadles, said so far.

    The usual draws take the first `usual` of them; `plain_weave` are two treadles that weave it.
    """

    what: str
    thread: str
    moved: str
    among: int
    said: tuple[Draw, ...]
    usual: int
    plain_weave: Draw | None = None

    def ask(
        self,
        with_draws: Callable[[tuple[Draw, ...]], Asked[Result]],
        done: Callable[[], FlowStep[Result]],
        as_drawn: tuple[Draw, ...] = (),
    ) -> Asked[Result]:
        """Ask for one more; `with_draws` asks again with it, `as_drawn` are the draws of the threading to follow."""
        last, threads = self.usual - 1, threads_of(self.said)
        room = MOST_THREADS - threads

        def often(draw: Draw) -> FlowStep[Result]:
            def drawn(times: int) -> FlowStep[Result]:
                return with_draws((*self.said, replace(draw, times=times)))

            return ask_number(f"{_short(draw)}, how often", room // draw.threads, drawn)

        def own() -> FlowStep[Result]:
            return ask_number(f"From {self.moved}", self.among, lambda first: to(first - 1))

        def to(first: int) -> FlowStep[Result]:
            return ask_number(f"From {first + 1} to {self.moved}", self.among, lambda end: turned(first, end - 1))

        def turned(first: int, end: int) -> FlowStep[Result]:
            straight, point = Draw(first, end), Draw(first, end, there_and_back=True)
            if first == end:
                # A single thread has no way back.
                return often(straight)
            ways = tuple(Answer(draw_words(draw), partial(often, draw)) for draw in (straight, point))
            return Asked("There, or there and back?", ways, topic="A draft from nothing")

        usual = (Draw(0, last), Draw(0, last, there_and_back=True), Draw(last, 0))
        named = zip(("Straight", "To the point and back", "Straight down"), usual, strict=True)
        answers = [Answer(f"{name}: {_short(draw)}", partial(often, draw)) for name, draw in named]
        answers.append(Answer(f"From one {self.moved} to another", own))
        if self.plain_weave is not None:
            answers.append(Answer(f"Plain weave: {draw_words(self.plain_weave)}", partial(often, self.plain_weave)))
        if as_drawn:
            answers.append(Answer("As drawn in", partial(with_draws, (*self.said, *as_drawn))))
        off: Answer[Result] = Answer(ONE_OFF, partial(with_draws, self.said[:-1])) if self.said else empty_slot()
        on: Answer[Result] = Answer(DONE, done, main=True) if self.said else empty_slot()
        return Asked(
            f"{self.what}: {counted(threads, self.thread)}",
            tuple(answers),
            lines=tuple(map(draw_words, self.said[-_LINES:])),
            foot=(off, on),
            bit_by_bit=self.what,
            topic="A draft from nothing",
        )


def _short(draw: Draw) -> str:
    """Return the ends of a draw, as wide as a button bears: `1 … 4`, `1 … 4 … 2`, where the next one begins at 1."""
    turned = f" … {draw.once[-1] + 1}" if draw.once[-1] != draw.last else ""
    return f"{draw.first + 1} … {draw.last + 1}{turned}"


def _ask_order(
    words: str,
    thread: str,
    order: tuple[InOrder, ...],
    asks: Callable[[tuple[InOrder, ...]], Asked[Result]],
    done: Callable[[], FlowStep[Result]],
    *also: Answer[Result],
) -> Asked[Result]:
    """Ask for one more colour of the order in which threads follow one another."""

    def how_many(yarn: int) -> FlowStep[Result]:
        return ask_number(
            f"{thread.capitalize()}s of {PALETTE[yarn].name}",
            MOST_THREADS,
            lambda threads: asks((*order, InOrder(yarn, threads))),
            () if order else (Answer(f"All {PALETTE[yarn].name}", partial(asks, (InOrder(yarn, 1),))),),
        )

    answers = tuple(Answer(yarn.name, partial(how_many, index), yarn=yarn.colour) for index, yarn in enumerate(PALETTE))
    off: Answer[Result] = Answer(ONE_OFF, partial(asks, order[:-1])) if order else empty_slot()
    return Asked(
        words,
        answers,
        detail=order_words(order) or f"all {PALETTE[0].name}, or touch the first colour",
        foot=(*also, off, Answer(DONE, done, main=True)),
        bit_by_bit=words,
    )
