"""The tie-up screen's contents: what was found, drawn and in words, and what can be done with it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from enum import Enum

from companion.draft.masks import is_raised, print_shed
from companion.draft.units import counted, numbered
from companion.present import wording
from companion.present.cords import ALL_TIED, change_words
from companion.present.feet_wish import wish_told
from companion.present.footing_in_words import aim_words, foot_of_treadles, stage_footing_words
from companion.present.lap_words import lap_words
from companion.present.shed import HarnessSigns
from companion.present.spare_words import spare_words
from companion.present.ties_said import they_change_words
from companion.remap.loom.cords import cord_changes
from companion.remap.loom.loom import Action, Footing, TieUp
from companion.remap.remapped import Alternative, Remapping, Verdict
from companion.remap.search.answers import SearchProgress
from companion.remap.search.bounds import Bounds

WEAVES_THE_CLOTH = "weaves the draft's cloth (checked)"
NOT_DONE = "That did not work"
WEAVE_IT = "Weave it"
SET_UP = "Set up the loom"
"""Takes an answer that asks for ties: what is to be done at the loom comes before the first pick."""


class TieUpDeed(Enum):
    """What the weaver asks for on the tie-up screen, besides choosing a way and looking closely."""

    ACCEPT = "take the answer"
    ACCEPT_TIED = "take it, the treadles are tied so"
    SAVE = "save the card"
    TELL_MORE = "tell more of the warp first"
    STOP = "have waited long enough"
    LEAVE = "go back"


@dataclass(frozen=True, slots=True)
class ChooseWay:
    """Look at this one (index) of several ways."""

    number: int


@dataclass(frozen=True, slots=True)
class LookClosely:
    """See the chosen way alone, or all side by side again."""

    closely: bool


@dataclass(frozen=True, slots=True)
class TieUpCard:
    """One of several ways side by side: its `name` in lines, its tie-up drawn where there is one, and its numbers.

    `way` is the way (index) that a touch chooses.
    """

    name: tuple[str, ...]
    harness: HarnessSigns | None
    numbers: tuple[str, ...]
    chosen: bool
    way: int = 0


@dataclass(frozen=True, slots=True)
class TieUpSigns:
    """Everything that the tie-up screen says. `accept` are the words on the button that takes the answer, if any.

    `tied` are those on the button that takes it and says that the treadles are tied so already, where they may be.
    `several`: this is one of several ways; where these are shown side by side, `cards` has them all. `others`:
    there are other ways, not yet seen. `on_loom`: it is what lies on the loom, and there is only its card to ask for.
    """

    headline: str
    detail: str
    harness: HarnessSigns | None
    cords: tuple[str, ...]
    feet: tuple[str, ...]
    accept: str = ""
    tied: str = ""
    searching: bool = False
    several: bool = False
    others: bool = False
    on_loom: bool = False
    cards: tuple[TieUpCard, ...] = ()


PLAIN_WEAVE_LEFT_OUT = ", plain weave left out"
"""Behind what fits, where the draft ties plain weave besides and there are no treadles for it."""


def searching_signs(progress: SearchProgress | None) -> TieUpSigns:
    """Return what is shown while the search goes on."""
    if progress is None:
        return TieUpSigns("Looking for a tie-up", "", None, (), (), searching=True)
    best = "none found yet" if progress.bounds.best is None else f"{progress.bounds.best} will do"
    detail = f"at least {progress.bounds.at_least} treadles; {best}"
    return TieUpSigns("Looking for a tie-up", detail, None, (), (), searching=True)


def said_signs(headline: str, line: str) -> TieUpSigns:
    """Return two lines and nothing to take: what came of it, and more about it."""
    return TieUpSigns(headline, line, None, (), ())


def tie_up_signs(answer: Remapping, present: TieUp | None = None) -> TieUpSigns:
    """Return what is shown of an answer; `present` is the tie-up now on the loom, where known."""
    loom = answer.loom
    if answer.verdict is Verdict.TOO_FEW_SHAFTS:
        shafts = " ".join(map(str, answer.missing_shafts))
        return TieUpSigns("Too few shafts", f"ends are threaded on shafts {shafts}, which the loom lacks", None, (), ())
    if loom.action is Action.LEVERS:
        return TieUpSigns("By levers", f"{WEAVES_THE_CLOTH}, shed by shed", None, (), (), accept=WEAVE_IT)
    harness = harness_of(answer.tieup, loom.shafts, answer.stages[0].footings if answer.stages else ())
    known = None if present is None or not answer.stages else answer.stages[0].changes
    # The answer knows which cords of the present tie-up count.
    changes = cord_changes(present or (), answer.tieup) if known is None else known
    cords = tuple(change_words(change, loom.action) for change in changes)
    cloth = f"{WEAVES_THE_CLOTH}, its face below" if answer.face_down else WEAVES_THE_CLOTH
    aimed = f"{aim_words(answer)}{wording.BETWEEN}" if answer.verdict is Verdict.FITS else ""
    detail = f"{aimed}{_fewest_words(answer.fewest)}{wording.BETWEEN}{cloth}"
    down = ", face down" if answer.face_down else ""
    if answer.verdict is Verdict.FITS:
        # Where the tie-up on the loom is known, the cords that are to change are known too: they are not tied yet.
        tied = ALL_TIED if present is None else ""
        accept = SET_UP if changes else WEAVE_IT
        left_out = PLAIN_WEAVE_LEFT_OUT if answer.plain_weave_left_out else ""
        return TieUpSigns(f"It fits{down}{left_out}", detail, harness, cords, _feet(answer), accept=accept, tied=tied)
    again = f"{counted(len(answer.stages) - 1, 'stop')} to re-tie"
    return TieUpSigns(
        (f"Not without {again}" if answer.verdict is Verdict.RE_TIE else f"With {again}, or fewer") + down,
        detail,
        harness,
        (*filter(None, (lap_words(answer), spare_words(answer))), *_stage_words(answer)),
        _other_ways(answer.alternatives),
        accept="Weave it this way",
    )


def _fewest_words(fewest: Bounds) -> str:
    if fewest.best is None:
        return f"it needs at least {fewest.at_least} treadles"
    certain = "proven" if fewest.proven else f"at least {fewest.at_least} are needed"
    return f"{fewest.best} treadles are the fewest ({certain})"


def harness_of(tieup: TieUp, shafts: int, footings: Iterable[Footing] = ()) -> HarnessSigns:
    """Return a tie-up to be drawn; where the feet are told, each treadle has the mark of its foot."""
    left, right = foot_of_treadles(footings)
    return HarnessSigns(
        shafts=shafts,
        ties=tuple(
            tuple(int(is_raised(tie.up, shaft)) - int(is_raised(tie.down, shaft)) for shaft in range(shafts))
            for tie in tieup
        ),
        left=left,
        right=right,
        raised=(False,) * shafts,
    )


def _feet(answer: Remapping) -> tuple[str, ...]:
    if not answer.stages:
        return ()
    (stage,) = answer.stages
    sheds = (
        f"{print_shed(feet.shed)} up: {_footing(feet.footing)} ({counted(feet.picks, 'pick')})" for feet in stage.sheds
    )
    more = filter(None, (wish_told(answer), spare_words(answer)))
    return (stage_footing_words(answer, stage), *more, *sheds)


def _footing(footing: Footing) -> str:
    return wording.footing_words(footing)


def _stage_words(answer: Remapping) -> tuple[str, ...]:
    return tuple(
        numbered("pick", stage.first, stage.last)
        + ("" if stage.cords_changed is None else f": {they_change_words(stage.cords_changed)} before")
        for stage in answer.stages
    )


def _other_ways(alternatives: tuple[Alternative, ...]) -> tuple[str, ...]:
    return tuple(
        f"{other.what}: {other.fewest.best} treadles{'' if other.fewest.proven else ' or fewer'}"
        for other in alternatives
        if other.fewest.best is not None
    )
