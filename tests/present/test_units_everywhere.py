"""Every length, weight, yarn and density of every question is in the weaver's units, and in no others."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest

from companion.draft.facing import FROM_LEFT
from companion.draft.model import LaidIn, Section
from companion.draft.units import Units
from companion.present.asking import Asked, AskedToWrite
from companion.present.bobbin import ask_bobbin
from companion.present.dents import ask_dents
from companion.present.dress_questions import ask_tasks
from companion.present.elsewhere import ask_elsewhere
from companion.present.fault import ask_fault
from companion.present.find import ask_place
from companion.present.looms import ask_looms
from companion.present.measure import ask_measure
from companion.present.new_warp import ask_new_warp
from companion.present.note import ask_note
from companion.present.pause import ask_pause
from companion.present.plan_cloth import ask_plan
from companion.present.resume import ask_resume
from companion.present.sections_asked import SectionsTold, ask_sections
from companion.weaving import decide
from companion.weaving.cloth_plan import WARP, WEFT, ClothWished, PlanFact, PlannedYarn
from companion.weaving.dressing_way import DressingWay
from companion.weaving.warp import Winding, YarnSize
from companion.weaving.yarn_written import read_yarn
from tests.present.test_looms import FLOOR
from tests.present.test_new_warp import LOOKUP, new_warp
from tests.weaving.world import AtLoom, lever_draft, lever_warp

MOST = 40
"""So many questions of each flow, the nearest to its beginning."""
SIGNS = {
    Units.METRIC: re.compile(r"\d (?:in(?! a dent)|yd|oz|lb|yd/lb)\b|per inch"),
    Units.INCH: re.compile(r"\d (?:cm|mm|m|g|kg|tex)\b|per cm"),
}
"""What must not stand there; a yarn's size as the weaver said it, such as `30 tex`, is her own word."""
OWN_WORDS = re.compile(r"3360 yd/lb, 30 tex|of [\d,]+ yd in a pound")
"""Samples of what may be typed, and what the number of a count means."""
DRAFT = lever_draft([0, 1, 0, 1], [Section("Hem", 2, until_cm=5.0), Section("Mat", 2, laid_in=(LaidIn(1, 35.0),))])


def flows(units):
    warp = lever_warp(DRAFT, lever_draft([0, 1] * 4), picks_per_cm=4.0)
    sizes = (YarnSize("sand", 100.0),)
    warp = replace(warp, width_cm=50.0, winding=Winding(300.0, 0.1, 0.1), sizes=sizes)
    loom = AtLoom(warp, gap_ms=12_000)
    loom.weave(3)
    loom.do(decide.measure, 1.0)
    warp, progress = loom.warp, loom.progress
    yield ask_fault(warp, progress, FROM_LEFT)
    yield ask_place(warp, progress, FROM_LEFT, units)
    yield ask_elsewhere(warp, progress)
    yield ask_bobbin(warp, progress, 0, units)
    yield from (ask(warp, progress, units) for ask in (ask_note, ask_measure))
    yield ask_resume(warp, progress, FROM_LEFT, units, 0)
    yield ask_tasks(warp, progress, DressingWay(), units, FROM_LEFT)
    yield ask_dents(warp, progress, units)
    loom.do(decide.pause)
    yield ask_pause(warp, loom.progress, units, FROM_LEFT)
    yield ask_looms((FLOOR,), units)
    told = {"LENGTH": 300.0, "PICKS_PER_CM": 4.0, "WIDTH": 50.0, "FRINGE": 10.0, "SPACER": 5.0}
    yield ask_new_warp(new_warp(2, **told), replace(LOOKUP, units=units))
    yarn = PlannedYarn("8/2 cotton", read_yarn("8/2 cotton"))
    wished = {PlanFact.WIDTH: 45.0, PlanFact.LENGTH: 90.0, PlanFact.REED: 4.0, PlanFact.PUT_UP: 200.0}
    yield ask_plan(ClothWished(wished, {WARP: yarn, WEFT: yarn}, draft=DRAFT), "Plan", units)
    yield ask_sections(SectionsTold(DRAFT, units))


def said_in(asked):
    if isinstance(asked, AskedToWrite):
        return (asked.words,)
    answers = (*asked.strips, *asked.answers, *asked.foot)
    return (asked.words, asked.detail, *asked.lines, *(line for one in answers for line in (one.words, one.detail)))


def everything_said(units):
    for flow in flows(units):
        waiting, met = [flow], set()
        while waiting and len(met) < MOST:
            asked = waiting.pop(0)
            lines = said_in(asked)
            if lines in met:
                continue
            met.add(lines)
            yield from lines
            if isinstance(asked, Asked):
                steps = (one.leads_to() for one in (*asked.answers, *asked.foot, *asked.pad[:2]) if one.words)
                waiting += [step for step in steps if isinstance(step, Asked | AskedToWrite)]


@pytest.fixture(scope="module")
def said():
    return {units: set(everything_said(units)) for units in Units}


@pytest.mark.parametrize("units", Units)
def test_no_question_says_an_amount_in_units_that_are_not_the_weavers(said, units):
    assert {line for line in said[units] if SIGNS[units].search(OWN_WORDS.sub("", line))} == set()


@pytest.mark.parametrize("units", Units)
def test_and_in_the_weavers_own_each_kind_of_amount_is_said(said, units):
    found = {match for line in said[units] for match in re.findall(r"(?<=\d )[a-z/]+\b", line)}
    signs = {Units.METRIC: {"cm", "m", "g", "tex"}, Units.INCH: {"in", "yd", "oz", "yd/lb"}}
    assert signs[units] <= found
