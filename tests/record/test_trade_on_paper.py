"""Sheet, card and record speak the words of the weaver's trade, and leave every name as its owner wrote it."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest

from companion.draft.facing import FROM_RIGHT
from companion.draft.shorthand import parse_shorthand
from companion.draft.units import Units
from companion.present.trade_words import AS_WRITTEN, Trade
from companion.record.card import card_pages
from companion.record.ink import Letters, Paper
from companion.record.page import to_html
from companion.record.project import Handout, project_sheet
from companion.record.project_pages import project_pages
from companion.record.sheet import sheet
from companion.remap.loom.loom import Action, Loom
from companion.remap.remapping import remap
from companion.weaving import decide
from companion.weaving.events import FaultKind
from companion.weaving.warp import LoomProfile
from companion.workshop.dressing import dress
from tests.record.conftest import AtLoom

HERS = Trade(american=True, harness=True, mistake=True)
WRITTEN = re.compile(r"\b(colours?|countermarche|shafts?|faults?)\b", re.IGNORECASE)
OWN = ("Four shafts in two colours", "faultless", "fault line blue")
DRAFT = parse_shorthand("""
title: Four shafts in two colours
yarn: "faultless" white
yarn: "fault line blue" navy
warp: "faultless" "fault line blue" "faultless" "fault line blue"
threading: 1 2 3 4
tie-up: 1 2, 2 3, 3 4, 1 4
treadling:
section: faultless
  "fault line blue" (1-4)x2
""")


@pytest.fixture(scope="module")
def papers():
    profile = LoomProfile("", Loom(4, 4, Action.COUNTERMARCHE))
    answer = remap(DRAFT, profile.loom)
    loom = AtLoom(dress("faultless", [DRAFT], profile, [answer]))
    loom.weave(4)
    loom.do(decide.note_fault, FaultKind.WRONG_SHED, 2)
    loom.do(decide.write_note, "fault line blue")

    def text_of(trade):
        handout = Handout(True, words=("faultless",), trade=trade)
        of_sheet = project_pages(project_sheet(loom.warp, 0, Units.METRIC, handout), Paper.A4, FROM_RIGHT)
        of_card = card_pages("faultless", DRAFT, answer, FROM_RIGHT, Units.METRIC, trade)
        record = to_html(sheet(loom.warp, loom.entries), Units.METRIC, FROM_RIGHT, trade=trade)
        letters = [" ".join(one.text for page in pages for one in page.marks if isinstance(one, Letters))
                   for pages in (of_sheet, of_card)]  # fmt: skip
        return (*letters, re.sub(r"<style>.*</style>|<[^>]*>", " ", record, flags=re.DOTALL))

    return text_of


def without_names(text):
    for name in OWN:
        text = text.replace(name, "")
    return text


def test_no_word_of_another_trade_is_left_on_any_paper(papers):
    for hers, written in zip(papers(HERS), papers(AS_WRITTEN), strict=True):
        assert WRITTEN.search(without_names(written))
        assert not WRITTEN.search(without_names(hers))
        assert re.search(r"\bharness", hers)


def test_names_stay_as_they_are_and_so_does_all_that_is_no_word_of_a_trade(papers):
    for hers, written in zip(papers(HERS), papers(AS_WRITTEN), strict=True):
        assert [hers.count(name) for name in OWN] == [written.count(name) for name in OWN]
        assert len(hers.split()) == len(written.split())


@pytest.mark.parametrize("one", [replace(AS_WRITTEN, american=True), replace(AS_WRITTEN, mistake=True)])
def test_spelling_and_shaft_or_harness_are_chosen_each_by_itself(papers, one):
    assert all("shaft" in text and "harness" not in text for text in papers(one))
