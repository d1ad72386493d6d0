"""The ways to weave a draft side by side: this loom first, then every other way that fits, each with its own answer."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from textwrap import wrap

from companion.draft.model import Draft
from companion.draft.units import counted
from companion.present.aims_compared import AIM_NAMES, numbers_of, other_aims
from companion.present.loom_kinds import KINDS
from companion.present.tie_up import NOT_DONE, PLAIN_WEAVE_LEFT_OUT, TieUpCard, TieUpSigns, harness_of, tie_up_signs
from companion.present.ties_said import ties_words, to_change_words, to_make_words
from companion.remap.aim import Aim
from companion.remap.loom.loom import Loom
from companion.remap.remapped import Remapping, Verdict
from companion.remap.search.fewest import MOST_TREADLES
from companion.remap.spare_treadles import with_plain_weave
from companion.weaving.warp import LoomProfile

THIS_LOOM = "This loom"
PLAIN_WEAVE_TOO = "Plain weave too"
NAME_WIDTH = 15
"""Letters in a line of a card's name, where its words let it be broken."""
WORKED_OUT = "being worked out"


@dataclass(frozen=True, slots=True)
class WeavingChoice:
    """One way to weave the draft: the loom used so, which side of the cloth lies below, and the answer once known.

    `aim` is what its tie-up is chosen for, where that is not left open; `problem` says why there is no answer to come.
    """

    name: str
    profile: LoomProfile
    face_down: bool = False
    answer: Remapping | None = None
    problem: str = ""
    aim: Aim | None = None


def choices_of(answer: Remapping, profile: LoomProfile) -> tuple[WeavingChoice, ...]:
    """Return the ways to choose from, the answer for this loom first; where it fits, the others have other aims."""
    if aims := other_aims(answer):
        chosen = WeavingChoice(_aim_name(answer.aim), profile, answer.face_down, answer, aim=answer.aim)
        return (chosen, *(WeavingChoice(_aim_name(aim), profile, answer.face_down, aim=aim) for aim in aims))
    own = WeavingChoice(THIS_LOOM, profile, answer.face_down, answer)
    if answer.verdict not in (Verdict.RE_TIE, Verdict.UNKNOWN):
        return (own,)
    fitting = [
        WeavingChoice(
            _name(other.loom, answer.loom, other.face_down), used_otherwise(profile, other.loom), other.face_down
        )
        for other in answer.alternatives
        if other.fits
    ]
    enough = answer.fewest.best
    if enough is not None and answer.loom.treadles < enough <= MOST_TREADLES:
        larger = replace(answer.loom, treadles=enough)
        fitting.append(WeavingChoice(_name(larger, answer.loom, False), used_otherwise(profile, larger)))
    return (own, *fitting)


def with_spares_tied(choices: tuple[WeavingChoice, ...], draft: Draft) -> tuple[WeavingChoice, ...]:
    """Return the ways, and one more: the first with plain weave on treadles that it leaves free, if there are any."""
    first = choices[0]
    tied = None if first.answer is None else with_plain_weave(draft, first.answer, first.profile.present)
    return choices if tied is None else (*choices, replace(first, name=PLAIN_WEAVE_TOO, answer=tied))


def best_choice(choices: Sequence[WeavingChoice]) -> int:
    """Return the way (index) that most weavers take: this loom without a stop, where that is known; else the first."""
    own = choices[0].profile.loom
    for number, choice in enumerate(choices):
        fits = choice.answer is not None and choice.answer.verdict is Verdict.FITS
        if fits and choice.face_down is choices[0].face_down and choice.profile.loom.treadles <= own.treadles:
            return number
    return 0


def used_otherwise(profile: LoomProfile, loom: Loom) -> LoomProfile:
    """Return the weaver's loom worked in another way; its cords stay tied where they can be of use so."""
    present = profile.present
    if present is not None and (loom.action is not profile.loom.action or len(present) > loom.treadles):
        present = None
    return replace(profile, loom=loom, present=present)


def choice_signs(choices: Sequence[WeavingChoice], chosen: int, closely: bool | None = None) -> TieUpSigns:
    """Return what the screen says with these ways to choose from; `closely`: the chosen one is looked at alone.

    Where nobody has said how to look, an answer that fits is seen alone, and others side by side.
    """
    choice = choices[chosen]
    if choice.answer is None:
        signs = TieUpSigns(choice.name, choice.problem or WORKED_OUT, None, (), ())
    else:
        signs = tie_up_signs(choice.answer, choice.profile.present)
    if len(choices) == 1:
        return signs
    if closely is None and choice.aim is not None:
        return replace(signs, others=True)
    if chosen and choice.answer is not None and choice.answer.verdict is Verdict.FITS:
        down = ", face down" if choice.answer.face_down and choice.aim is not None else ""
        left_out = PLAIN_WEAVE_LEFT_OUT if choice.answer.plain_weave_left_out else ""
        signs = replace(signs, headline=f"{choice.name}: it fits{down}{left_out}")
    if closely and signs.harness is not None:
        return replace(signs, several=True)
    return replace(signs, several=True, cards=_cards(choices, chosen))


def _name(loom: Loom, asked: Loom, face_down: bool) -> str:
    if face_down:
        return "Face down"
    if loom.reach != asked.reach:
        return "Two treadles under one foot" if loom.reach == 2 else "One treadle under each foot"
    if loom.treadles != asked.treadles:
        return f"With {loom.treadles} treadles"
    return f"As a {KINDS[loom.action]} loom"


def _aim_name(aim: Aim) -> str:
    return f"{AIM_NAMES[aim][0].upper()}{AIM_NAMES[aim][1:]}"


def _cards(choices: Sequence[WeavingChoice], chosen: int) -> tuple[TieUpCard, ...]:
    """Return a card for each way that differs from those before; one that is the same has its name on theirs."""
    alike: dict[object, list[int]] = {}
    for way, choice in enumerate(choices):
        alike.setdefault(_woven_so(choice) or way, []).append(way)
    return tuple(
        replace(_card(_named(choices, ways), chosen in ways), way=chosen if chosen in ways else ways[0])
        for ways in alike.values()
    )


def _woven_so(choice: WeavingChoice) -> tuple[object, ...] | None:
    """Return all that parts one way from another but its name; None where it is not worked out."""
    answer = choice.answer
    if answer is None or not answer.stages:
        return None
    stages = tuple((stage.tieup, stage.footings, stage.changes) for stage in answer.stages)
    return answer.loom, answer.face_down, stages


def _named(choices: Sequence[WeavingChoice], ways: Sequence[int]) -> WeavingChoice:
    first, *others = (choices[way] for way in ways)
    return replace(first, name=", ".join((first.name, *(f"{one.name[0].lower()}{one.name[1:]}" for one in others))))


def _card(choice: WeavingChoice, chosen: bool) -> TieUpCard:
    answer = choice.answer
    name = tuple(wrap(choice.name, NAME_WIDTH))
    if answer is None:
        return TieUpCard(name, None, (NOT_DONE if choice.problem else WORKED_OUT,), chosen)
    if not answer.stages:
        return TieUpCard(name, None, ("not found in time",), chosen)
    return TieUpCard(
        name,
        harness_of(answer.tieup, answer.loom.shafts, answer.stages[0].footings),
        _numbers(answer) if choice.aim is None or answer.verdict is not Verdict.FITS else _aim_numbers(answer),
        chosen,
    )


def _aim_numbers(answer: Remapping) -> tuple[str, ...]:
    treadles, _, both, footwork = numbers_of(answer)
    pressed, *held = treadles.split(" ", 1)
    walked = (f"footwork {footwork}",) if footwork else ()
    return counted(int(pressed), "treadle"), *held, _cords(answer), f"both feet: {both}", *walked


def _numbers(answer: Remapping) -> tuple[str, ...]:
    used = {treadle for footing in answer.footings for treadle in (*footing.left, *footing.right)}
    stops = len(answer.stages) - 1
    proven = answer.fewest.proven if answer.verdict is Verdict.FITS else answer.fewest_stages
    return (
        f"{counted(len(used), 'treadle')}, {counted(stops, 'stop') if stops else 'no stop'}",
        _cords(answer),
        "proven the fewest" if proven else "not proven",
    )


def _cords(answer: Remapping) -> str:
    if answer.stages[0].cords_changed is None and len(answer.stages) == 1:
        tied = sum(tie.up.bit_count() + tie.down.bit_count() for tie in answer.tieup)
        return to_make_words(tied)
    if answer.tied_anew_each_lap:
        return f"{ties_words(answer.cords_in_all)}, one lap"
    return to_change_words(answer.cords_in_all)
