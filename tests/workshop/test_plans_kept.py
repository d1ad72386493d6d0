"""A plan is there again with its draft, whatever file that lies in; a spoilt file tells nothing."""

from __future__ import annotations

from dataclasses import replace

import pytest

from companion.draft.reading import read_draft
from companion.draft.wif_write import write_wif
from companion.weaving.cloth_plan import WARP, ClothWished, PlanFact, PlannedYarn
from companion.weaving.planning import Weave
from companion.weaving.yarn_written import read_yarn
from companion.workshop.plans_kept import MOST_KEPT, keep_plan, plan_of, plans_file
from tests.weaving.world import lever_draft

YARN = {WARP: PlannedYarn("8/2 cotton", read_yarn("8/2 cotton"))}


@pytest.fixture(autouse=True)
def home(tmp_path, monkeypatch):
    monkeypatch.setenv("FELLSIDE_HOME", str(tmp_path / "home"))


def test_a_plan_is_found_by_what_its_draft_weaves():
    wished = ClothWished({PlanFact.WIDTH: 45.72, PlanFact.REED: 4.0}, YARN, Weave.LACE, lever_draft([0, 1]))
    keep_plan(wished)
    again = read_draft(write_wif(wished.draft))
    assert plan_of(again) == replace(wished, draft=again)
    assert plan_of(lever_draft([1, 0])).told == {}


@pytest.mark.parametrize("spoilt", ["", "[]", "{", '{"%s": 3}', '{"%s": {"told": {"height": 1}}}'])
def test_a_spoilt_file_tells_nothing_and_is_written_anew(spoilt):
    wished = ClothWished({PlanFact.WIDTH: 45.72}, {}, draft=lever_draft([0, 1]))
    keep_plan(wished)
    mark = plans_file().read_text().split('"')[1]
    plans_file().write_text(spoilt.replace("%s", mark))
    assert plan_of(wished.draft).told == {}
    keep_plan(wished)
    assert plan_of(wished.draft) == wished


def test_of_many_plans_the_oldest_is_forgotten():
    drafts = [lever_draft([0] * picks) for picks in range(1, MOST_KEPT + 2)]
    for draft in drafts:
        keep_plan(ClothWished({PlanFact.WIDTH: 50.0}, {}, draft=draft))
    assert (plan_of(drafts[0]).told, plan_of(drafts[1]).told) == ({}, {PlanFact.WIDTH: 50.0})
