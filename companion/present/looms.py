"""The looms that a weaver owns: listed, described by touch, changed one fact at a touch, removed and put back."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from functools import partial

from companion.draft.units import Units, counted, length_words
from companion.present.asking import Answer, Answered, Asked, AskedToWrite
from companion.present.button_words import DONE
from companion.present.dials import Dial, DialKind
from companion.present.feet_wish import ask_feet_wish, wish_button, wish_words
from companion.present.loom_drawing import loom_drawing
from companion.present.loom_kinds import DOES, MOST_BUILT, kind_button, loom_words
from companion.present.number_pad import Wanted, ask_amount
from companion.remap.loom.feet_wish import FeetWish
from companion.remap.loom.loom import Action, Loom
from companion.weaving.warp import LoomProfile

NAMES = ("Floor loom", "Table loom", "Small loom", "Large loom", "School loom")
_NEW = LoomProfile(NAMES[0], Loom(shafts=4, treadles=6))
_MOST_SHAFTS, _MOST_HEDDLES = 32, 9_999
_WIDTH = Dial(DialKind.LENGTH, 80, 1, 1_000, "How wide it can weave")
_WASTE = Dial(DialKind.LENGTH, 60, 0, 500, "At both ends together, for one warp")
"""Begun with what is common (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class KeepLoom:
    """Keep this loom; `was` is the name that it had before, empty for a new one."""

    loom: LoomProfile
    was: str = ""


@dataclass(frozen=True, slots=True)
class RemoveLoom:
    """Take the loom of this name off the list."""

    name: str


@dataclass(frozen=True, slots=True)
class DrawTieUp:
    """Tell how this loom is tied now, square by square; then go on with it, which was called `was`."""

    loom: LoomProfile
    was: str


LoomsOutcome = KeepLoom | RemoveLoom | DrawTieUp


def ask_looms(looms: Sequence[LoomProfile], units: Units, removed: LoomProfile | None = None) -> Asked[LoomsOutcome]:
    """Ask which loom to change; `removed` was taken off the list just now, and one touch puts it back."""
    rows: list[Answer[LoomsOutcome]] = [
        Answer(loom.name, partial(ask_loom_facts, loom, loom.name, units), detail=loom_words(loom.loom), own=True)
        for loom in looms
    ]
    taken = {loom.name.casefold() for loom in looms}
    name = next((name for name in NAMES if name.casefold() not in taken), f"Loom {len(looms) + 1}")
    foot: list[Answer[LoomsOutcome]] = [
        Answer("Add a loom", partial(ask_loom_facts, replace(_NEW, name=name), "", units), main=not looms),
    ]
    if removed is not None:
        foot.insert(0, Answer(f"Put {removed.name} back", partial(_answered, KeepLoom(removed))))
    return Asked(
        "Your looms" if looms else "No loom is kept yet",
        tuple(rows),
        detail="" if looms else "A loom that is kept here is one touch away when a draft is put on it",
        foot=tuple(foot),
        as_list=True,
        topic="Your looms",
    )


def ask_loom_facts(loom: LoomProfile, was: str, units: Units) -> Asked[LoomsOutcome]:
    """Show what a loom is; each fact is changed by touching it."""

    def fact(
        words: str, ask: Callable[[LoomProfile, str, Units], Asked[LoomsOutcome] | AskedToWrite[LoomsOutcome]]
    ) -> Answer[LoomsOutcome]:
        return Answer(words, partial(ask, loom, was, units))

    machine = loom.loom
    feet: list[Answer[LoomsOutcome]] = []
    if machine.action is not Action.LEVERS:
        feet = [
            fact(counted(machine.treadles, "treadle"), _ask_treadles),
            fact(_feet_words(machine), _ask_feet),
            Answer("How it is tied", partial(_answered, DrawTieUp(loom, was))),
        ]
    width = "Width unknown" if loom.weaving_width_cm is None else f"{length_words(loom.weaving_width_cm, units)} wide"
    answers = (
        fact(counted(machine.shafts, "shaft"), _ask_shafts),
        *feet,
        fact(kind_button(machine.action), _ask_action),
        fact(width, _ask_width),
        fact(f"{length_words(loom.loom_waste_cm, units)} loom waste", _ask_waste),
        fact(_heddles_words(loom.heddles), _ask_heddles),
        fact("Another name", _ask_name),
    )
    tied = "its tie-up is known" if loom.present is not None else "its tie-up is not known yet"
    remove: tuple[Answer[LoomsOutcome], ...] = (Answer("Remove", partial(_answered, RemoveLoom(was))),) if was else ()
    keep: Answer[LoomsOutcome] = Answer(DONE, partial(_answered, KeepLoom(loom, was)), main=True)
    return Asked(
        loom.name,
        answers,
        detail=f"Touch what is different; {tied}",
        foot=(*remove, keep),
        bit_by_bit="loom",
        topic="A loom",
    )


def _reach_words(machine: Loom) -> str:
    return "Two treadles under a foot" if machine.reach == 2 else "One treadle under a foot"


def _feet_words(machine: Loom) -> str:
    wish = wish_words(machine.wish)
    return f"Feet: {wish}" if wish else _reach_words(machine)


def _ask_feet(loom: LoomProfile, was: str, units: Units) -> Asked[LoomsOutcome]:
    """Show how the feet press on this loom: a touch changes what they reach, or leads to where tabby lies."""

    def wished(wish: FeetWish) -> Asked[LoomsOutcome]:
        return _ask_feet(replace(loom, loom=replace(loom.loom, wish=wish)), was, units)

    machine = loom.loom
    other = changed(loom, replace(machine, reach=3 - machine.reach))
    done: Answer[LoomsOutcome] = Answer(DONE, partial(ask_loom_facts, loom, was, units), main=True)
    return Asked(
        f"Your feet on {loom.name}",
        (
            Answer(_reach_words(machine), partial(_ask_feet, other, was, units), detail="two must be adjacent"),
            Answer(wish_button(machine.wish), partial(ask_feet_wish, machine.wish, wished)),
        ),
        detail="Touch what is different",
        foot=(done,),
        as_list=True,
        bit_by_bit="feet",
        own=(loom.name,),
    )


def changed(loom: LoomProfile, machine: Loom) -> LoomProfile:
    """Return the loom as another machine; a tie-up that it cannot carry and heddles on other shafts are forgotten."""
    same = machine.action is loom.loom.action and machine.shafts >= loom.loom.shafts
    fits = same and loom.present is not None and len(loom.present) <= machine.treadles
    heddles = loom.heddles if machine.shafts == loom.loom.shafts else ()
    return replace(loom, loom=machine, present=loom.present if fits else None, heddles=heddles)


def _heddles_words(heddles: tuple[int, ...]) -> str:
    if not heddles:
        return "Heddles unknown"
    alike = len(heddles) > 1 and len(set(heddles)) == 1
    return f"{counted(heddles[0], 'heddle')} on each shaft" if alike else f"{counted(sum(heddles), 'heddle')} in all"


def _ask_heddles(loom: LoomProfile, was: str, units: Units) -> Asked[LoomsOutcome]:
    """Ask how many heddles hang on the shafts; where that is known, one shaft is changed at a touch."""

    def given(count: float) -> Asked[LoomsOutcome]:
        return ask_loom_facts(replace(loom, heddles=(round(count),) * loom.loom.shafts), was, units)

    def change(shaft: int, count: float) -> Asked[LoomsOutcome]:
        heddles = (*loom.heddles[:shaft], round(count), *loom.heddles[shaft + 1 :])
        return _ask_heddles(replace(loom, heddles=heddles), was, units)

    known = len(loom.heddles) == loom.loom.shafts
    begun = loom.heddles[0] if known else None
    alike: Answer[LoomsOutcome] = Answer(
        "As many on each", partial(_ask_count, "Heddles on each shaft", given, begun), main=not known
    )
    if not known:
        singly: Answer[LoomsOutcome] = Answer("Shaft by shaft", partial(_ask_shaft_by_shaft, loom, was, units, ()))
        return Asked("How many heddles are on the shafts?", (alike, singly), bit_by_bit="heddles")
    rows: list[Answer[LoomsOutcome]] = [
        Answer(
            f"Shaft {shaft + 1}",
            partial(_ask_count, _on_shaft(shaft), partial(change, shaft), count),
            detail=counted(count, "heddle"),
        )
        for shaft, count in enumerate(loom.heddles)
    ]
    unknown: Answer[LoomsOutcome] = Answer(
        "Leave it out", partial(ask_loom_facts, replace(loom, heddles=()), was, units)
    )
    done: Answer[LoomsOutcome] = Answer(DONE, partial(ask_loom_facts, loom, was, units), main=True)
    return Asked(
        "How many heddles are on the shafts?",
        tuple(rows),
        foot=(alike, unknown, done),
        as_list=True,
        bit_by_bit="heddles",
    )


def _ask_shaft_by_shaft(loom: LoomProfile, was: str, units: Units, told: tuple[int, ...]) -> Asked[LoomsOutcome]:
    """Ask for the heddles of the shaft after those that are `told`; the loom knows them when all are."""
    if len(told) == loom.loom.shafts:
        return ask_loom_facts(replace(loom, heddles=told), was, units)

    def given(count: float) -> Asked[LoomsOutcome]:
        return _ask_shaft_by_shaft(loom, was, units, (*told, round(count)))

    return _ask_count(_on_shaft(len(told)), given)


def _on_shaft(shaft: int) -> str:
    return f"Heddles on shaft {shaft + 1}"


def _ask_count(
    words: str, given: Callable[[float], Asked[LoomsOutcome]], begun: int | None = None
) -> Asked[LoomsOutcome]:
    wanted = Wanted(words, "", 0, _MOST_HEDDLES, begun="" if begun is None else str(begun))
    return ask_amount(wanted, given)


def _ask_shafts(loom: LoomProfile, was: str, units: Units) -> Asked[LoomsOutcome]:
    def given(shafts: float) -> Asked[LoomsOutcome]:
        return ask_loom_facts(changed(loom, replace(loom.loom, shafts=round(shafts))), was, units)

    return ask_amount(Wanted("Shafts", "", 1, _MOST_SHAFTS, begun=str(loom.loom.shafts)), given)


def _ask_treadles(loom: LoomProfile, was: str, units: Units) -> Asked[LoomsOutcome]:
    def given(treadles: float) -> Asked[LoomsOutcome]:
        return ask_loom_facts(changed(loom, replace(loom.loom, treadles=round(treadles))), was, units)

    return ask_amount(Wanted("Treadles", "", 1, MOST_BUILT, begun=str(loom.loom.treadles)), given)


def _ask_action(loom: LoomProfile, was: str, units: Units) -> Asked[LoomsOutcome]:
    def worked(action: Action) -> LoomProfile:
        return changed(loom, replace(loom.loom, action=action))

    return Asked(
        "Which kind of loom is it?",
        tuple(
            Answer(
                kind_button(action),
                partial(ask_loom_facts, worked(action), was, units),
                detail=DOES[action],
                drawn=loom_drawing(action),
            )
            for action in Action
        ),
    )


def _ask_width(loom: LoomProfile, was: str, units: Units) -> Asked[LoomsOutcome]:
    def given(number: float) -> Asked[LoomsOutcome]:
        return ask_loom_facts(replace(loom, weaving_width_cm=_WIDTH.reading(units).amount(number)), was, units)

    unknown: Answer[LoomsOutcome] = Answer(
        "Leave it out", partial(ask_loom_facts, replace(loom, weaving_width_cm=None), was, units)
    )
    begun = loom.weaving_width_cm or _WIDTH.begun_at(units)
    return ask_amount(_WIDTH.wanted("Weaving width", begun, units), given, lambda _number: (unknown,))


def _ask_waste(loom: LoomProfile, was: str, units: Units) -> Asked[LoomsOutcome]:
    def given(number: float) -> Asked[LoomsOutcome]:
        return ask_loom_facts(replace(loom, loom_waste_cm=_WASTE.reading(units).amount(number)), was, units)

    return ask_amount(_WASTE.wanted("Loom waste", loom.loom_waste_cm or _WASTE.begun_at(units), units), given)


def _ask_name(loom: LoomProfile, was: str, units: Units) -> Asked[LoomsOutcome]:
    def called(name: str) -> Asked[LoomsOutcome]:
        return ask_loom_facts(replace(loom, name=name), was, units)

    def write() -> AskedToWrite[LoomsOutcome]:
        return AskedToWrite("What is it called?", called, loom.name)

    names = tuple(Answer(name, partial(called, name)) for name in NAMES)
    return Asked("What is it called?", (*names, Answer("Write a name", write)))


def _answered(result: LoomsOutcome) -> Answered[LoomsOutcome]:
    return Answered(result)
