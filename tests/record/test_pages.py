"""The record on a small screen says what the printed page says, a few rows at a time."""

from __future__ import annotations

from companion.draft.colours import print_colour
from companion.draft.facing import FROM_LEFT
from companion.draft.units import Units
from companion.record.page import to_html
from companion.record.pages import MOST_ROWS, record_pages
from companion.record.sheet import sheet
from companion.weaving.decide import measure
from tests.record.conftest import FORMULA, HARMFUL
from tests.weaving.world import AtLoom, lever_draft, lever_warp, two_stage_warp


def words_of(pages):
    return [f"{label} {words}" for page in pages for label, words in page.rows]


def test_every_fault_note_and_measure_of_the_journal_is_on_a_page(woven):
    pages = record_pages(sheet(woven.warp, woven.entries), Units.METRIC, FROM_LEFT)
    words = words_of(pages)
    assert any("pick 7 · end 3 · skipped end" in line and HARMFUL in line and FORMULA in line for line in words)
    assert any(f"before pick 8 · {FORMULA}" in line for line in words)
    assert any("3.5 cm under tension · 7 picks · 2.00 picks per cm" in line for line in words)
    assert not any("a mistake" in line for line in words)
    assert any("12, 2 of these taken out again" in line for line in words)


def test_a_length_says_whether_it_was_measured_or_is_reckoned():
    loom = AtLoom(lever_warp(lever_draft([0, 1] * 5), picks_per_cm=2.0))

    def told():
        words = words_of(record_pages(sheet(loom.warp, loom.entries), Units.METRIC, FROM_LEFT))
        (line,) = (line for line in words if line.startswith("Woven ") and "under tension" in line)
        return line

    loom.weave(4)
    assert told() == "Woven about 2.0 cm under tension, by the picks planned"
    loom.do(measure, 2.5)
    assert told() == "Woven 2.5 cm under tension"
    loom.weave(4)
    assert told() == "Woven about 5.0 cm under tension, reckoned on from the last measure"


def test_face_and_back_are_complements_where_threads_differ_and_lie_newest_at_the_bottom(woven):
    pages = record_pages(sheet(woven.warp, woven.entries), Units.METRIC, FROM_LEFT)
    pictures = [
        page.picture for page in pages if page.picture is not None and "newest pick at the bottom" in page.title
    ]
    assert [picture.pixels.shape for picture in pictures[:2]] == [(9, 8, 3), (9, 8, 3)]
    assert all(not picture.pixels.flags.writeable for picture in pictures)


def test_a_tie_up_is_told_with_the_time_it_was_tied():
    from companion.weaving.decide import accept_tie_up, re_tie

    loom = AtLoom(two_stage_warp())
    loom.do(accept_tie_up)
    loom.do(re_tie)
    words = words_of(record_pages(sheet(loom.warp, loom.entries), Units.METRIC, FROM_LEFT))
    assert [line for line in words if "treadles tied" in line] == ["2023-11-14 22:13 treadles tied for stage 1"]
    assert any(line.endswith("tie-up accepted") for line in words)


def test_long_lists_are_split_and_nothing_is_lost():
    from companion.weaving.decide import write_note

    loom = AtLoom(lever_warp(lever_draft([0])))
    for number in range(2 * MOST_ROWS + 1):
        loom.do(write_note, f"note {number}")
    pages = [
        page for page in record_pages(sheet(loom.warp, loom.entries), Units.METRIC, FROM_LEFT) if page.title == "Notes"
    ]
    assert [len(page.rows) for page in pages] == [MOST_ROWS, MOST_ROWS, 1]


def test_the_draft_of_each_piece_is_a_page_and_what_it_leaves_out_is_said():
    loom = AtLoom(lever_warp(lever_draft([0] * 70, ends=80)))
    (page,) = [
        page
        for page in record_pages(sheet(loom.warp, loom.entries), Units.METRIC, FROM_LEFT)
        if "the draft" in page.title
    ]
    assert page.title.endswith("the draft, first 64 of 80 ends, first 40 of 70 picks")
    assert not page.picture.pixels.flags.writeable


def test_a_row_about_a_yarn_has_its_colour_on_every_page_and_in_print():
    loom = AtLoom(lever_warp(lever_draft([0, 1, 2] * 20), lever_draft([2, 1] * 4), picks_per_cm=4.0))
    loom.weave(5)
    whole = sheet(loom.warp, loom.entries)
    colour_of = {yarn.name: yarn.colour for yarn in loom.warp.pieces[0].draft.yarns}
    told = [
        (page.rows[at], colour) for page in record_pages(whole, Units.METRIC, FROM_LEFT)
        for at, colour in page.yarns.items()
    ]  # fmt: skip
    named = [(row, colour, name) for row, colour in told for name in colour_of if name in " ".join(row).split()]
    # Three shuttles of the piece begun, then what three, two and all of them still need.
    assert len(told) == len(named) == 3 + 3 + 2 + 3
    assert all(colour == colour_of[name] for _, colour, name in named)
    page = to_html(whole, Units.METRIC, FROM_LEFT)
    assert page.count("<tr style=") == len(told)
    assert all(f"solid {print_colour(colour)}" in page for colour in colour_of.values())
