"""The record as CSV and JSON, read back with the standard library."""

from __future__ import annotations

import csv
import io
import json
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from companion.draft.model import LaidIn, Section
from companion.draft.units import Units
from companion.record.sheet import sheet
from companion.record.tables import columns, to_csv, to_document
from companion.weaving import decide, telling
from companion.weaving.errors import WeavingError
from companion.weaving.warp import Winding, YarnSize
from tests.record.conftest import FORMULA, HARMFUL
from tests.weaving.world import AtLoom, lever_draft, lever_warp, two_stage_warp


def rows_of(loom):
    return list(csv.DictReader(io.StringIO(to_csv(sheet(loom.warp, loom.entries), Units.METRIC), newline="")))


def test_every_entry_of_the_journal_has_its_row(woven):
    rows = rows_of(woven)
    assert [int(row["entry"]) for row in rows] == [entry.number for entry in woven.entries]
    assert [row["entry"] for row in rows if row["undone"]] == ["15"]
    assert {row["what"] for row in rows} >= {"pick woven", "taken out", "fault noted", "undone", "piece begun"}


def test_a_pick_tells_its_shed_feet_shuttle_and_side():
    loom = AtLoom(two_stage_warp())
    loom.weave(2)
    second = rows_of(loom)[1]
    assert tuple(second) == columns(Units.METRIC)
    assert {key: second[key] for key in ("pick", "shafts up", "left foot", "right foot", "shuttle", "from")} == {
        "pick": "2",
        "shafts up": "2 3",
        "left foot": "",
        "right foot": "2",
        "shuttle": "sand",
        "from": "left",
    }


@given(
    weft=st.lists(st.sampled_from([0, 1, 2]), min_size=1, max_size=8),
    laid=st.sets(st.sampled_from([0, 1, 2])),
    deeds=st.lists(st.sampled_from(["weave", "weave", "weave", "out", "undo"]), max_size=16),
)
def test_the_from_cell_is_the_side_where_a_hand_found_the_boat_and_laid_in_where_there_was_none(weft, laid, deeds):
    """The oracle moves boats: each begins at the right, a throw carries it across, what is laid in moves none."""
    body = Section("body", len(weft), laid_in=tuple(LaidIn(yarn, 30.0) for yarn in sorted(laid)))
    loom = AtLoom(lever_warp(lever_draft(weft, [body])))
    expected = []
    for deed in deeds:
        woven = list(reversed(list(loom.now.cloth.newest_first())))
        try:
            loom.do({"weave": decide.weave_pick, "out": decide.take_out, "undo": decide.undo}[deed])
        except WeavingError:
            continue
        if deed == "weave":
            yarn = weft[len(woven)]
            throws = sum(weft[pick] == yarn for pick in woven)
            expected.append("laid in" if yarn in laid else ("right", "left")[throws % 2])
    rows = [row for row in rows_of(loom) if row["what"] == "pick woven"]
    assert [row["from"] for row in rows] == expected
    assert [row["shuttle"] for row in rows] == [("sand", "sea", "rust")[weft[int(row["pick"]) - 1]] for row in rows]


def test_a_pick_that_is_laid_in_has_its_row_as_any_other_and_is_so_when_it_is_taken_out():
    body = Section("Mat", 2, laid_in=(LaidIn(1, 35.56),))
    loom = AtLoom(lever_warp(lever_draft([0, 1], [body])))
    loom.weave(2)
    loom.do(decide.take_out)
    thrown, laid, out = rows_of(loom)
    assert (thrown["section"], thrown["pick"], thrown["shuttle"], thrown["from"]) == ("Mat", "1", "sand", "right")
    assert (laid["section"], laid["pick"], laid["shafts up"], laid["shuttle"], laid["from"]) == (
        "Mat",
        "2",
        "2 3",
        "sea",
        "laid in",
    )
    assert (out["what"], out["pick"], out["shuttle"], out["from"]) == ("taken out", "2", "sea", "laid in")


def test_a_shuttle_whose_side_nobody_knows_comes_from_none():
    loom = AtLoom(lever_warp(lever_draft([0, 0, 0, 0])))
    loom.weave(1)
    loom.do(telling.tell_sides, unknown=(0,))
    loom.weave(1)
    loom.do(telling.tell_sides, left=(0,))
    loom.weave(1)
    assert [row["from"] for row in rows_of(loom) if row["what"] == "pick woven"] == ["right", "", "left"]


@pytest.mark.parametrize(
    ("units", "measured", "bobbin"),
    [(Units.METRIC, ("measured (cm)", "2.54"), ("bobbin (m)", "9.144")),
     (Units.INCH, ("measured (in)", "1"), ("bobbin (yd)", "10"))],
)  # fmt: skip
def test_what_is_measured_is_a_plain_number_whose_unit_stands_in_the_heading(units, measured, bobbin):
    """1 in = 2.54 cm and 1 yd = 0.9144 m exactly (NIST Special Publication 811, appendix B)."""
    loom = AtLoom(two_stage_warp())
    loom.weave(2)
    loom.do(decide.measure, 2.54)
    loom.do(decide.change_bobbin, 0, 9.144)
    rows = list(csv.DictReader(io.StringIO(to_csv(sheet(loom.warp, loom.entries), units), newline="")))
    assert [row[measured[0]] for row in rows if row["what"] == "measured"] == [measured[1]]
    assert [row[bobbin[0]] for row in rows if row["what"] == "fresh bobbin"] == [bobbin[1]]
    assert {row[measured[0]] + row[bobbin[0]] for row in rows if row["what"] == "pick woven"} == {""}


def test_words_that_a_spreadsheet_would_work_out_are_led_by_an_apostrophe(woven):
    notes = [row["words"] for row in rows_of(woven) if row["what"] == "note"]
    assert notes == ["'" + FORMULA, "a mistake"]


@pytest.mark.parametrize("start", ["=1", "+1", "-1", "@A1", "a;=1", ";=1", "sea;-1;@A1"])
def test_no_cell_begins_like_a_formula(start):
    loom = AtLoom(lever_warp(lever_draft([0, 0])))
    loom.do(decide.write_note, start)
    for row in rows_of(loom):
        # Where commas stand in numbers, spreadsheets part cells at semicolons.
        parts = [part for cell in row.values() for part in cell.split(";")]
        assert not any(part.startswith(("=", "+", "-", "@", "\t", "\r")) for part in parts)


def test_words_with_commas_quotes_and_lines_come_back_whole():
    words = 'one, "two"\nthree'
    loom = AtLoom(lever_warp(lever_draft([0, 0])))
    loom.do(decide.write_note, words)
    assert rows_of(loom)[0]["words"] == words


def test_what_is_still_to_come_is_told_with_its_bounds():
    warp = lever_warp(lever_draft([0, 1] * 50), picks_per_cm=2.0)
    warp = replace(
        warp,
        loom=replace(warp.loom, loom_waste_cm=10.0),
        width_cm=50.0,
        winding=Winding(55.0),
        sizes=(YarnSize("sand", 100.0),),
    )
    loom = AtLoom(warp, gap_ms=3_000)
    loom.weave(60)
    # 40 picks are left, 20 of each shuttle, across 50 cm; 50 cm of cloth and 10 cm of waste want 60 cm of warp.
    assert to_document(sheet(loom.warp, loom.entries))["still_to_come"] == {
        "warp_cm": {"wound": 55.0, "used": 40.0, "left": 15.0, "over": -5.0, "short_for_piece": 1, "short": 5.0},
        "weft": [
            {"shuttle": "sand", "picks": 20, "metres": [10.0, 11.0, 12.0], "grams": [1.0, 1.1, 1.2], "laid_in": []},
            {"shuttle": "sea", "picks": 20, "metres": [10.0, 11.0, 12.0], "grams": None, "laid_in": []},
        ],
        "weft_of_later_pieces": [],
        "weft_in_all": [
            {"shuttle": "sand", "picks": 20, "metres": [10.0, 11.0, 12.0], "grams": [1.0, 1.1, 1.2], "laid_in": []},
            {"shuttle": "sea", "picks": 20, "metres": [10.0, 11.0, 12.0], "grams": None, "laid_in": []},
        ],
        "minutes": [1.9, 2.0, 2.1],
    }


def test_weft_of_the_pieces_after_the_one_on_the_loom_is_still_to_come():
    warp = lever_warp(lever_draft([0] * 40), lever_draft([0, 1] * 10), lever_draft([1] * 10), picks_per_cm=2.0)
    loom = AtLoom(replace(warp, width_cm=50.0, sizes=(YarnSize("sand", 100.0),)))
    loom.weave(30)
    ahead = to_document(sheet(loom.warp, loom.entries))["still_to_come"]
    # By hand: 10, 10 and no picks of sand, 10 and 10 of sea to come, 0.55 m each; of 100 tex 0.055 g.
    assert ahead["weft"] == [
        {"shuttle": "sand", "picks": 10, "metres": [5.0, 5.5, 6.0], "grams": [0.5, 0.55, 0.6], "laid_in": []}
    ]
    second, third = ahead["weft_of_later_pieces"]
    assert [(need["shuttle"], need["picks"]) for need in second["weft"]] == [("sand", 10), ("sea", 10)]
    assert third == {
        "piece": 3,
        "weft": [{"shuttle": "sea", "picks": 10, "metres": [5.0, 5.5, 6.0], "grams": None, "laid_in": []}],
    }
    sand, sea = ahead["weft_in_all"]
    assert sand == {
        "shuttle": "sand",
        "picks": 20,
        "metres": [10.0, 11.0, 12.0],
        "grams": [1.0, 1.1, 1.2],
        "laid_in": [],
    }
    assert (sea["picks"], sea["metres"], sea["grams"]) == (20, [10.0, 11.0, 12.0], None)


def test_the_document_counts_from_one_and_is_json(woven):
    document = json.loads(json.dumps(to_document(sheet(woven.warp, woven.entries))))
    assert document["warp"] == "runner " + HARMFUL
    assert (document["picks_woven"], document["picks_taken_out"], document["undone"]) == (12, 2, 1)
    assert document["pieces"][0]["picks_in_cloth"] == 9
    assert document["pieces"][0]["sheds"][0] == {"stage": None, "shafts": [1, 2], "left": [], "right": [], "picks": 2}
    fault = document["faults"][0]
    assert (fault["fault"], fault["pick"], fault["end"], fault["state"], fault["how"]) == (1, 7, 3, "mended", FORMULA)
    assert document["fault_rates"]["by_kind"] == [{"what": "skipped end", "faults": 1}]
    assert document["fault_rates"]["by_state"] == [{"what": "mended", "faults": 1}]
    assert document["measures"][0]["picks_per_cm"] == 2.0
    assert document["fault_rates"]["all"] == {
        "what": "all picks",
        "faults": 1,
        "picks": 12,
        "per_1000_picks": 83.33,
    }
