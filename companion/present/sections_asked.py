"""The sections of a draft changed by touch: what each is called, woven to what length, and which weft is laid in."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import partial

from companion.draft.model import Draft, LaidIn, Section
from companion.draft.sections import laid_in_as, sections_of, wefts_of, with_section
from companion.draft.unit_readings import length_reading, usual_length
from companion.draft.units import Units, counted, length_words
from companion.present.asking import Answer, Answered, Asked, AskedToWrite
from companion.present.button_words import DONE
from companion.present.draft_words import yarn_words
from companion.present.laid_in_asked import ask_length, how_words
from companion.present.number_pad import Wanted, ask_amount

SECTIONS = "Sections"
NAME = "Another name"
WOVEN = "Woven"
ONCE = "Once, as drafted"
_LEAST_CM, _MOST_CM = 0.5, 10_000.0
_BEGUN_CM = 30.0
_BETWEEN = ", "


@dataclass(frozen=True, slots=True)
class SectionsTold:
    """The draft as its sections are told so far, in the weaver's units."""

    draft: Draft
    units: Units

    def with_section(self, index: int, section: Section) -> SectionsTold:
        """Return what is told with this section in the place of another (index)."""
        return replace(self, draft=with_section(self.draft, index, section))


def ask_sections(told: SectionsTold) -> Asked[Draft]:
    """Show the sections in order, each changed by touching it; the draft as it is then is the result."""
    rows: tuple[Answer[Draft], ...] = tuple(
        Answer(section.name, partial(ask_section, told, index), detail=_section_words(told, index), own=True)
        for index, section in enumerate(sections_of(told.draft))
    )
    return Asked(
        SECTIONS,
        rows,
        detail="For a new one, mark its first and last pick",
        foot=(Answer(DONE, partial(_answered, told.draft), main=True),),
        as_list=True,
        bit_by_bit=SECTIONS,
        topic="Sections of a draft",
    )


def ask_section(told: SectionsTold, index: int) -> Asked[Draft]:
    """Show what one section (index) is; each fact is changed by touching it."""
    section = sections_of(told.draft)[index]
    rows: list[Answer[Draft]] = [
        Answer(WOVEN, partial(_ask_until, told, index), detail=_woven_words(section, told.units)),
    ]
    laid_in = {laid.yarn: laid for laid in section.laid_in}
    rows += [
        Answer(
            yarn_words(told.draft, yarn),
            partial(_ask_weft, told, index, yarn),
            detail=how_words(laid_in.get(yarn), told.units),
            own=True,
            yarn=told.draft.yarns[yarn].colour,
        )
        for yarn in wefts_of(told.draft, index)
    ]
    return Asked(
        section.name,
        tuple(rows),
        detail="Touch a weft that is laid in: sticks, rushes, rag strips, inlay",
        foot=(
            Answer(NAME, partial(_ask_name, told, index)),
            Answer(DONE, partial(ask_sections, told), main=True),
        ),
        as_list=True,
        bit_by_bit=f"{SECTIONS} {index}",
        own=(section.name,),
        topic="A section",
    )


def _ask_name(told: SectionsTold, index: int) -> AskedToWrite[Draft]:
    section = sections_of(told.draft)[index]

    def named(name: str) -> Asked[Draft]:
        return ask_section(told.with_section(index, replace(section, name=name)), index)

    return AskedToWrite("What is this section called?", named, section.name)


def _ask_until(told: SectionsTold, index: int) -> Asked[Draft]:
    section, reading = sections_of(told.draft)[index], length_reading(told.units)

    def until(length_cm: float | None) -> Asked[Draft]:
        return ask_section(told.with_section(index, replace(section, until_cm=length_cm)), index)

    begun_cm = usual_length(_BEGUN_CM, told.units) if section.until_cm is None else section.until_cm
    wanted = Wanted(
        "Woven until",
        reading.sign,
        reading.least(_LEAST_CM),
        reading.most(_MOST_CM),
        reading.decimals,
        reading.number(begun_cm),
        f"The {counted(section.picks, 'pick')} of it over and over",
    )
    once: Answer[Draft] = Answer(ONCE, partial(until, None))
    return ask_amount(wanted, lambda number: until(reading.amount(number)), lambda _number: (once,))


def _ask_weft(told: SectionsTold, index: int, yarn: int) -> Asked[Draft]:
    section = sections_of(told.draft)[index]

    def as_told(laid_in: LaidIn | None) -> Asked[Draft]:
        return ask_section(told.with_section(index, laid_in_as(section, yarn, laid_in)), index)

    return ask_length(
        yarn_words(told.draft, yarn),
        next((laid.length_cm for laid in section.laid_in if laid.yarn == yarn), None),
        told.units,
        lambda length_cm: as_told(LaidIn(yarn, length_cm)),
        partial(as_told, None),
    )


def _section_words(told: SectionsTold, index: int) -> str:
    section = sections_of(told.draft)[index]
    names = _BETWEEN.join(yarn_words(told.draft, laid.yarn) for laid in section.laid_in)
    return "; ".join(filter(None, (_woven_words(section, told.units), f"{names} laid in" if names else "")))


def _woven_words(section: Section, units: Units) -> str:
    picks = counted(section.picks, "pick")
    return picks if section.until_cm is None else f"{picks} until {length_words(section.until_cm, units)}"


def _answered(draft: Draft) -> Answered[Draft]:
    return Answered(draft)
