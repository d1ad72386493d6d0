"""What the weaver stated of a warp stands in its record."""

from __future__ import annotations

from dataclasses import replace

from companion.draft.facing import FROM_LEFT
from companion.draft.units import Units
from companion.journal.warp_codec import decode_warp, encode_warp
from companion.record.page import to_html
from companion.record.sheet import sheet
from companion.record.tables import to_document
from companion.weaving.warp import Winding, YarnSize
from tests.weaving.world import AtLoom, lever_draft, lever_warp


def stated_warp():
    plan = {"picks_per_cm": 8.0, "length_cm": 120.0, "fringe_cm": 20.0, "spacer_cm": 4.0}
    warp = lever_warp(lever_draft([0, 1] * 4), **plan)
    sizes = (YarnSize("sand", 73.8, "16/2 cotton"),)
    profile = replace(warp.loom, loom_waste_cm=60.0)
    return replace(warp, loom=profile, winding=Winding(500.0, 0.1, 0.05), sizes=sizes, width_cm=42.5)


def test_the_page_tells_what_was_stated():
    page = to_html(sheet(stated_warp(), []), Units.METRIC, FROM_LEFT)
    for words in (
        "500 cm, take-up 10%, shrinkage 5%",
        "42.5 cm",
        "60 cm",
        "16/2 cotton, 73.8 tex",
        "8 picks per cm, 120 cm long, fringe 20 cm, spacer 4 cm",
    ):
        assert words in page


def test_the_document_tells_what_was_stated():
    document = to_document(sheet(stated_warp(), []))
    assert document["stated"] == {
        "wound_cm": 500.0,
        "take_up": 0.1,
        "shrinkage": 0.05,
        "width_cm": 42.5,
        "loom_waste_cm": 60.0,
        "yarns": [{"yarn": "sand", "tex": 73.8, "words": "16/2 cotton"}],
    }
    plan = {"picks_per_cm": 8.0, "length_cm": 120.0, "fringe_cm": 20.0, "spacer_cm": 4.0}
    assert document["pieces"][0]["planned"] == plan


def test_what_was_stated_comes_back_from_the_journal():
    assert decode_warp(encode_warp(stated_warp())) == stated_warp()


def test_a_warp_of_which_nothing_was_stated_says_nothing_of_it():
    warp = lever_warp(lever_draft([0, 1]))
    page = to_html(sheet(warp, AtLoom(warp).entries), Units.METRIC, FROM_LEFT)
    for words in ("Warp wound", "Width in the reed", "Loom waste", "Planned:"):
        assert words not in page
