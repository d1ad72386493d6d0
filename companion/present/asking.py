"""Questions put to the weaver as values: words, a few answers, and what each answer leads to.

A flow (fault, measure, find, resume, start) is a chain of questions that ends in a result; the screen that shows it
knows none of them. Answers lead on by a call, so that a flow without end (one centimetre more, one more) is never built
ahead. `Result` is what a flow ends in: for flows at the loom, commands.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from enum import Enum
from typing import Any, Generic, TypeVar

from companion.draft.model import Colour
from companion.present.fell import Picture
from companion.present.loom_drawing import Shape
from companion.present.shed import HarnessSigns
from companion.weaving.decide import Command
from companion.weaving.dressing_way import DressingWay
from companion.weaving.progress import Progress
from companion.weaving.warp import Warp

Result = TypeVar("Result")

Commands = tuple[Command, ...]
"""What a flow at the loom ends in: carried out in order, then the pick is shown again."""


class Elsewhere(Enum):
    """What a flow at the loom may end in instead: the weaver goes from the loom to something else."""

    OTHER_WARP = "another warp"
    RECORD = "the record of this warp"
    TIE_UP = "the tie-up of this piece"
    SETTINGS = "the settings"
    SHEET = "the sheet of this warp for somebody else"
    SQUARES = "the squares of the piece on the loom"
    SWITCHED_OFF = "home"
    DRESSING = "the dressing of the loom for this warp"
    WEAVING = "the weaving of this warp"
    CORDS = "the cords to tie before the next pick"


@dataclass(frozen=True, slots=True)
class AndThen:
    """Commands in the middle of a flow: on disk before the next question, which is asked of how things stand then."""

    commands: Commands
    asks: Asks


AtLoom = Commands | Elsewhere | AndThen


AtDressing = Commands | Elsewhere | DressingWay
"""What a flow at the dressing ends in: commands, another place, or another way to go on."""


@dataclass(frozen=True, slots=True)
class Answered(Generic[Result]):
    """The end of a flow."""

    result: Result


@dataclass(frozen=True, slots=True)
class Answer(Generic[Result]):
    """One answer: its words, and what comes after it. `main`: the answer that most weavers give here.

    `detail` is read beside the words, where the answers stand as a list or are `drawn`, which is a picture. `own`: the
    words are the weaver's, a name; `own_detail`: names stand in the detail, too, and no word of the trade besides.
    `rows` are the picks (indices, newest first) of cloth that is drawn on it, to point at.
    `picture` stands before the words in a list, and above them otherwise, `icon` before words that leave room for it.
    `yarn` is the colour of the yarn or shuttle that it stands for, shown with the words: no name of a colour is as sure
    as the colour.
    `brief` says the same where the words find no room on a button.
    Without words it only keeps a place (see `empty_slot`).
    """

    words: str
    leads_to: Callable[[], FlowStep[Result]]
    main: bool = False
    detail: str = ""
    own: bool = False
    own_detail: bool = False
    drawn: tuple[Shape, ...] = ()
    rows: tuple[int, ...] = ()
    picture: Picture | None = None
    yarn: Colour | None = None
    icon: tuple[Shape, ...] = ()
    brief: str = ""


@dataclass(frozen=True, slots=True)
class Sign:
    """Words in a picture, their lower edge so far `across` and `down` it, from 0 (its left, its top edge) to 1."""

    words: str
    across: float
    down: float


@dataclass(frozen=True, slots=True)
class ByNumber(Generic[Result]):
    """A number typed where nothing can be touched, within its bounds, in its `unit`: what may be meant by it.

    The first of these `answers` is meant where nothing else is said. `whole`: no part of one. `lines` are read first.
    """

    least: float
    most: float
    answers: Callable[[float], tuple[Answer[Result], ...]]
    unit: str = ""
    whole: bool = True
    lines: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class PointedAt(Generic[Result]):
    """A picture that is itself touched: `draw` draws it so wide and high in pixels on a ground, None where it cannot.

    `leads_to` takes where the finger lay across it and down it, from 0 (its left, its top edge) up to 1. Of the `signs`
    in it those are left out that find no room.
    """

    draw: Callable[[float, float, Colour], Picture | None]
    leads_to: Callable[[float, float], FlowStep[Result]]
    signs: tuple[Sign, ...] = ()


@dataclass(frozen=True, slots=True)
class Asked(Generic[Result]):
    """One question; `detail` is a smaller line below it, `with_cloth` shows the rows at the fell beside it.

    `rows` are the picks (indices) of the rows drawn there, newest first, where they are not those of the journal; the
    row `marked` (0 is the newest) is the one that the question is about; `by_row` takes one of them that is touched.
    `lines` stand above the answers, to be read first. `foot` are answers in a row below the others, on every page where
    there are more answers than one page holds. `as_list`: the answers stand below one another, as wide as the screen.
    `strips` are cloth to point at, a few rows across the whole width each, above the other answers.
    `pad` are the twelve keys of a number pad beside the answers, row by row. What leads back is no answer: it is at the
    same place on every page.
    `harness` is the loom to draw large beside the answers, with the shed to open.
    `pointed` is a picture to touch, in the place of the answers.
    `refused` are the words of a question in writing and what was typed there and refused: it waits there to be mended.
    `by_number` is what a number means here that is typed, where it is touched on a pad or pointed at.
    `by_back` is what "back" by foot or key means here, where it is not one question back.
    `own` are words of the weaver's own in it, such as the name of a folder. `pictured`: each answer of the list begins
    with a picture, or with the room for one that comes later.
    Questions that follow one another with the same `bit_by_bit` (one more, one more) are one to whoever goes back.
    `topic` names the help for what can be answered; a question without one has that of the question that led to it.
    """

    words: str
    answers: tuple[Answer[Result], ...]
    detail: str = ""
    with_cloth: bool = False
    rows: tuple[int, ...] = ()
    marked: int | None = None
    by_row: Callable[[int], FlowStep[Result]] | None = None
    lines: tuple[str, ...] = ()
    foot: tuple[Answer[Result], ...] = ()
    as_list: bool = False
    pad: tuple[Answer[Result], ...] = ()
    strips: tuple[Answer[Result], ...] = ()
    bit_by_bit: str = ""
    harness: HarnessSigns | None = None
    own: tuple[str, ...] = ()
    pictured: bool = False
    by_back: Answer[Result] | None = None
    pointed: PointedAt[Result] | None = None
    topic: str = ""
    by_number: ByNumber[Result] | None = None
    refused: tuple[str, str] | None = None

    @property
    def main(self) -> Answer[Result] | None:
        """The answer that most weavers give here, where there is one."""
        return next((answer for answer in (*self.strips, *self.answers, *self.foot) if answer.main), None)


@dataclass(frozen=True, slots=True)
class AskedToWrite(Generic[Result]):
    """A question answered in the weaver's own words: a note, a name. `written` stands there to begin with.

    `leads_to` takes what was written, never an empty line. `signs`: it begins with digits and signs, not with letters.
    `topic` names the help for it.
    """

    words: str
    leads_to: Callable[[str], FlowStep[Result]]
    written: str = ""
    signs: bool = False
    topic: str = "Words to write"


Asks = Callable[[Warp, Progress], "FlowStep[AtLoom]"]
"""A question that is put to how things stand when it is asked."""

FlowStep = Asked[Result] | AskedToWrite[Result] | Answered[Result]
"""What an answer leads to: another question, or the end of the flow."""


def nothing() -> Answered[AtLoom]:
    """Go back to the pick and change nothing."""
    return Answered(())


def empty_slot() -> Answer[Any]:
    """Return the place of an answer that cannot be given now: nothing stands there, so that the others keep theirs."""
    return Answer("", nothing)
