"""What a planned cloth takes of each yarn: sections that are woven to a length as the loom weaves them."""

from __future__ import annotations

from hypothesis import example, given, settings
from hypothesis import strategies as st

from companion.draft.model import Colour, Section, Yarn
from companion.weaving.cloth_plan import ClothWished, PlanFact, plan_cloth
from tests.weaving.world import lever_draft

RED, SEA = Colour(200, 30, 30), Colour(30, 90, 160)


@example(2, 17, 7)
@settings(max_examples=30)
@given(st.integers(1, 40), st.integers(1, 60), st.integers(1, 12))
def test_a_section_woven_to_a_length_takes_whole_repeats_as_at_the_loom(picks, until, per_cm):
    """Of 30 cm at 4 picks per cm a repeat of 100 picks is woven twice, not 120 picks of it."""
    sections = [Section("A", picks, until_cm=float(until)), Section("B", 3)]
    draft = lever_draft((0,) * picks + (1,) * 3, sections, yarns=(Yarn("red", RED), Yarn("sea", SEA)))
    laps = next(laps for laps in range(1, 10_000) if laps * picks >= until * per_cm)
    told = {PlanFact.WIDTH: 50.0, PlanFact.SETT: 6.0, PlanFact.PICKS: float(per_cm), PlanFact.SHRINKAGE: 0.0}
    finished = (laps * picks + 3) / per_cm
    planned = plan_cloth(ClothWished({**told, PlanFact.LENGTH: finished}, {}, draft=draft))
    assert {need.name: need.threads for need in planned.weft} == {"red": laps * picks, "sea": 3}
