"""A project sheet: what another person needs to weave the cloth, in the treadles that they have."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest

from companion.draft.cloth import interlacement
from companion.draft.facing import FROM_LEFT, FROM_RIGHT, Facing, FirstPick, Side
from companion.draft.masks import shed_of, treadle_set
from companion.draft.model import Section, ThreadingBlock
from companion.draft.shorthand import parse_shorthand
from companion.draft.units import Units
from companion.record.ink import Anchor, Boxes, Letters, Paper
from companion.record.ink_pdf import pdf_of
from companion.record.letter_widths import text_width
from companion.record.needed import pressed_words
from companion.record.paper_flow import title_letters
from companion.record.project import Handout, project_sheet
from companion.record.project_pages import project_pages
from companion.remap.loom.loom import Action, Loom, Tie
from companion.remap.remapping import remap
from companion.weaving.warp import LoomProfile, Winding, YarnSize
from companion.workshop.dressing import Measures, PieceMeasures, dress, reckon_with
from companion.workshop.looms import UNNAMED_LOOM
from tests.record.printed import needs_poppler, pages_of, text_of, words_in

DRAFT = parse_shorthand("""
title: Runner for the ferry room
note: Beat squarely.
yarn: oat
yarn: sea
yarn: cream
threading: (1-4)x30
warp spacing: 0.2
weft spacing: 0.1
tie-up: 1 2, 2 3, 3 4, 1 4, 1 3, 2 4
tabby: cream 5 6
treadling:
section: Border
  sea (1-4)x5
section: Field
  sea (4-1)x6 with tabby
""")
MEASURES = Measures(
    Winding(300.0, 0.1, 0.1), 60.0, (YarnSize("oat", 100.0, "10/2 cotton"),), (PieceMeasures(length_cm=200.0),)
)


def on_loom(loom, draft=DRAFT):
    profile = LoomProfile("Barn loom", loom)
    return dress("runner", [draft], profile, [remap(draft, loom)], re_tie=True, measures=MEASURES)


def feet_told(sheet):
    """Every pick of the sheet's treadling, brackets opened, as (left treadles, right treadles), tabby put in."""
    picks, turn = [], 0
    for passage in sheet.treadling:
        words, _, tabby = passage.text.partition(". Tabby after each such pick, by turns: ")
        while match := re.search(r"\(([^()]*)\)x(\d+)", words):
            words = words[: match.start()] + " ".join([match[1]] * int(match[2])) + words[match.end() :]
        tabbies = [token for token in tabby.split() if re.fullmatch(r"[LR\d+]+", token)]
        # Every second part stood in brackets, and has its tabby.
        for part, such in enumerate(re.split(r"\(([^()]*)\) with tabby", words)):
            for token in re.findall(r"(?<!\S)(?:[LR]?\d+\+?)+(?!\S)", such):
                picks.append(token)
                if part % 2:
                    picks.append(tabbies[turn % 2])
                    turn += 1
    return picks


@pytest.mark.parametrize(
    "loom", [Loom(4, 6), Loom(4, 4, reach=2), Loom(4, 8, Action.COUNTERMARCHE), Loom(4, 8, Action.SINKING)]
)
def test_the_treadling_told_is_that_of_the_loom_pick_by_pick(loom):
    warp = on_loom(loom)
    piece = warp.pieces[0]
    sheet = project_sheet(warp, 0, Units.METRIC, Handout(on_loom=True))
    expected = [
        "+".join([*(f"L{one + 1}" for one in footing.left), *(f"R{one + 1}" for one in footing.right)])
        for footing in piece.footings
    ]
    assert feet_told(sheet) == expected
    # What is drawn is tied for this loom and weaves the same cloth.
    assert sheet.drawn.treadles == loom.treadles
    assert (interlacement(sheet.drawn) == interlacement(DRAFT)).all()
    assert len(sheet.tieups) == 1


@pytest.mark.parametrize("action", [Action.RISING, Action.SINKING, Action.COUNTERMARCHE])
def test_a_sheet_says_what_the_cloth_needs_and_ties_no_treadle_that_is_never_pressed(action):
    """A loom of eight shafts and eight treadles that is tied from an older warp still: nobody takes that over."""
    plain = parse_shorthand("threading: (1-4)x10\ntie-up: 1 2, 2 3, 3 4, 1 4\ntreadling: (1-4)x6")
    older = tuple(Tie(shed_of([one, 5]), shed_of([9 - one])) for one in (1, 2, 3, 4, 1, 2, 3, 4))
    loom = Loom(8, 8, action)
    answer = remap(plain, loom)
    tied = tuple(mine if mine != Tie() else left for mine, left in zip(answer.tieup, older, strict=True))
    if action is not Action.COUNTERMARCHE:
        tied = tuple(Tie(up=tie.up) if action is Action.RISING else Tie(down=tie.down) for tie in tied)
    warp = dress("plain", [plain], LoomProfile("Barn loom", loom), [answer], re_tie=True)
    piece = replace(warp.pieces[0], stages=(replace(warp.pieces[0].stages[0], tieup=tied),))
    sheet = project_sheet(replace(warp, pieces=(piece,)), 0, Units.METRIC, Handout(on_loom=True))
    pressed = {one for footing in piece.footings for one in (*footing.left, *footing.right)}
    assert len(pressed) == 4
    assert sheet.subtitle.startswith("4 shafts, 4 treadles, 40 ends")
    (drawn,) = sheet.tieups
    assert drawn.shafts == sheet.drawn.shafts == 4
    assert {treadle for treadle, tie in enumerate(drawn.tieup) if tie != Tie()} == pressed
    assert (interlacement(sheet.drawn) == interlacement(plain)).all()
    said = dict(sheet.facts)["Treadles pressed"]
    assert said.startswith("4 of 8: ")
    assert said.endswith(" stay untied")
    assert len(feet_told(sheet)) == plain.picks


@pytest.mark.parametrize(
    ("pressed", "words"),
    [
        ([2, 3, 4, 5], "4 of 8: 2 to 5; 1 and 6 to 8 stay untied"),
        ([1, 2, 4, 5, 6, 7, 8], "7 of 8: 1, 2 and 4 to 8; 3 stays untied"),
        (range(1, 9), "8 treadles"),
    ],
)
def test_treadles_that_stay_untied_are_named(pressed, words):
    assert pressed_words(treadle_set(pressed), 8) == words


def test_a_plan_of_tying_anew_is_told_stage_by_stage():
    warp = on_loom(Loom(4, 3))
    sheet = project_sheet(warp, 0, Units.METRIC, Handout(on_loom=True))
    assert len(sheet.tieups) == len(warp.pieces[0].stages) > 1
    assert [one.heading for one in sheet.treadling if one.heading.startswith("STAGE 2")]
    assert len(feet_told(sheet)) == DRAFT.picks


def test_without_a_loom_the_treadling_is_the_drafts_own():
    sheet = project_sheet(reckon_with("runner", [DRAFT], UNNAMED_LOOM), 0, Units.METRIC, Handout())
    assert sheet.drawn == DRAFT
    assert [(one.heading, one.text) for one in sheet.treadling] == [
        ("Border: picks 1 to 20", "sea (1 2 3 4)x5"),
        ("Field: picks 21 to 68", "(sea (4 3 2 1)x6) with tabby. Tabby after each such pick, by turns: cream 5 6"),
    ]
    assert [one.text for one in sheet.threading] == ["(1-4)x30"]


def test_tabby_belongs_to_the_picks_in_its_brackets_and_to_none_before_them():
    some = parse_shorthand("""
yarn: sand
yarn: sea
threading: (1-4)x4
tie-up: 1 2, 2 3, 3 4, 1 4, 1 3, 2 4
tabby: sand 5 6
treadling: sea 4 4 4 (2 3 1 1 2 4 2)x1 with tabby 4 4
""")
    sheet = project_sheet(reckon_with("tabby", [some], UNNAMED_LOOM), 0, Units.METRIC, Handout())
    assert [int(told) for told in feet_told(sheet)] == [pressed.bit_length() for pressed in some.lifting.treadling]


def test_a_round_that_is_tied_anew_is_woven_whole_until_its_length():
    lengthy = parse_shorthand("""
threading: (1-4)x10
tie-up: 1 2, 2 3, 3 4, 1 4
treadling:
section: Body until 10 in
(1-4)x2
section: Hem
1 2
""")
    told = [
        one.heading
        for one in project_sheet(on_loom(Loom(4, 2), lengthy), 0, Units.INCH, Handout(on_loom=True)).treadling
    ]
    assert [one for one in told if "until" in one] == [
        "Body: from pick 8 back to pick 1, re-tied for each stage, until 10 in are woven"
    ]
    assert told.index("Hem: picks 9 to 10") > told.index(next(one for one in told if "until" in one))
    whole = project_sheet(on_loom(Loom(4, 4), lengthy), 0, Units.INCH, Handout(on_loom=True))
    assert whole.treadling[0].heading == "Body: picks 1 to 8, again and again until 10 in"


def test_the_amounts_are_those_of_the_plan_in_the_weavers_units():
    """120 ends of 3 m are 360 m; 360 m of 100 tex weigh 36 g; 60 cm are 23.6 in (C)."""
    sheet = project_sheet(on_loom(Loom(4, 6)), 0, Units.METRIC, Handout(on_loom=True, wound=True))
    assert dict(sheet.facts)["Sett"] == "2 ends per cm"
    assert dict(sheet.facts)["Warp length"] == "300.0 cm"
    assert sheet.yarns[0].amounts == ("warp 120 ends, 360.0 m, 36.0 g",)
    inches = project_sheet(on_loom(Loom(4, 6)), 0, Units.INCH, Handout(on_loom=True))
    assert dict(inches.facts)["Width in reed"] == "23.6 in"


@needs_poppler
@pytest.mark.parametrize("paper", Paper)
def test_a_sheet_takes_two_pages_and_every_word_of_it_can_be_searched(paper):
    handout = Handout(True, words=("Keep the edges slack.",), finishing=("Wash warm.",))
    sheet = project_sheet(on_loom(Loom(4, 6)), 0, Units.METRIC, handout)
    pages = project_pages(sheet, paper, FROM_RIGHT)
    data = pdf_of(sheet.title, pages)
    assert len(pages) == pages_of(data) == 2
    text = words_in(text_of(data))
    for words in ("Runner for the ferry room", "Beat squarely.", "Keep the edges slack.", "Wash warm.", "10/2 cotton"):
        assert words in text
    for absent in ("sitting", "fault", "journal"):
        assert absent not in text.lower()
    assert text.rindex("Under the loom") > text.rindex("Treadling")


@pytest.mark.parametrize("picks", [400, 3_000])
def test_a_long_treadling_is_printed_whole_on_as_many_pages_as_it_takes(picks):
    moves = " ".join(str(1 + (pick * pick + pick // 5) % 4) for pick in range(picks))
    draft = parse_shorthand(f"threading: (1-4)x10\ntie-up: 1 2, 2 3, 3 4, 1 4\ntreadling: {moves}")
    sheet = project_sheet(reckon_with("long", [draft], UNNAMED_LOOM), 0, Units.METRIC, Handout())
    pages = project_pages(sheet, Paper.LETTER, FROM_RIGHT)
    printed = " ".join(mark.text for page in pages for mark in page.marks if isinstance(mark, Letters))
    assert sheet.treadling[0].text[-40:] in printed
    assert sum(len(part) for part in sheet.treadling[0].text.split()) <= sum(len(part) for part in printed.split())
    for page in pages:
        for mark in page.marks:
            if isinstance(mark, Letters):
                assert 0 < mark.y < page.height


@pytest.mark.parametrize("paper", Paper)
@pytest.mark.parametrize(("picks", "pages"), [(4, 1), (60, 2)])
def test_a_short_sheet_is_one_page_and_draws_no_less_of_its_draft_than_two_would(paper, picks, pages):
    draft = parse_shorthand(f"threading: (1-4)x6\ntie-up: 1 2, 2 3, 3 4, 1 4\ntreadling: (1-4)x{picks // 4}")
    sheet = project_sheet(
        reckon_with("short", [draft], UNNAMED_LOOM), 0, Units.METRIC, Handout(words=("Slack. " * picks,))
    )
    printed = project_pages(sheet, paper, FROM_RIGHT)
    assert len(printed) == pages
    words = [mark.text for page in printed for mark in page.marks if isinstance(mark, Letters)]
    for heading in ("Draft", "Tie-up", "Threading", "Treadling, in order", "From your teacher", f"{pages} of {pages}"):
        assert words.count(heading) == 1
    squares = [len(mark.places) for page in printed for mark in page.marks if isinstance(mark, Boxes)]
    assert max(squares) >= 24 * picks // 2
    assert all(mark.y < printed[-1].height for mark in printed[-1].marks if isinstance(mark, Letters))


def test_what_has_no_name_between_sections_that_have_is_a_divider():
    draft = parse_shorthand("""
threading: (1-4)x4
tie-up: 1 2, 2 3, 3 4, 1 4
treadling:
section: One
(1-4)x2
section:
1 3
section: Two
(4-1)x2
""")
    sheet = project_sheet(reckon_with("parted", [draft], UNNAMED_LOOM), 0, Units.METRIC, Handout())
    assert [one.heading.partition(":")[0] for one in sheet.treadling] == ["One", "Divider", "Two"]


def test_for_levers_the_draft_is_drawn_as_a_lift_plan_of_the_same_cloth():
    sheet = project_sheet(on_loom(Loom(4, 0, Action.LEVERS)), 0, Units.METRIC, Handout(on_loom=True))
    assert sheet.drawn.treadles == 0
    assert "lift plan" in sheet.subtitle
    assert (interlacement(sheet.drawn) == interlacement(DRAFT)).all()


@pytest.mark.parametrize("paper", Paper)
@pytest.mark.parametrize("facing", [Facing(side, pick) for side in Side for pick in FirstPick])
def test_no_word_of_a_sheet_lies_beyond_its_paper_or_in_the_column_beside(paper, facing):
    long = "A name of a section that is a good deal longer than any column of a sheet is wide"
    sections = (Section(long, 20), Section(f"{long}, again", 48))
    draft = replace(DRAFT, sections=sections, blocks=(ThreadingBlock(long, 120),))
    warp = reckon_with("long names", [draft], UNNAMED_LOOM)
    for page in project_pages(project_sheet(warp, 0, Units.INCH, Handout()), paper, facing):
        letters = [mark for mark in page.marks if isinstance(mark, Letters) and mark.anchor is Anchor.START]
        for one in letters:
            right = one.x + text_width(one.text, one.size, one.bold)
            assert 0 <= one.x < right <= page.width
            beside = [other for other in letters if other.x > one.x + 1 and abs(other.y - one.y) < 1]
            assert all(right <= other.x for other in beside), one.text


def test_notes_that_tell_of_treadles_are_said_to_mean_those_of_the_draft():
    told = replace(DRAFT, notes=("Treadle 1 lays the pattern weft over shaft 1.",))
    for on, said in ((True, True), (False, False)):
        warp = on_loom(Loom(4, 6), told) if on else reckon_with("told", [told], UNNAMED_LOOM)
        (_, page) = project_pages(project_sheet(warp, 0, Units.METRIC, Handout(on_loom=on)), Paper.A4, FROM_RIGHT)
        words = " ".join(mark.text for mark in page.marks if isinstance(mark, Letters))
        assert ("not of this loom" in words) is said


@pytest.mark.parametrize(("words", "lines", "whole"), [(3, 1, True), (6, 1, True), (12, 2, True), (80, 2, False)])
def test_a_title_is_whole_in_the_height_of_one_line_as_long_as_two_lines_hold_it(words, lines, whole):
    title = " ".join(f"Blanket {number}" for number in range(words))
    letters = title_letters(title, 50, 40, 480)
    assert len(letters) == lines
    assert (" ".join(line.text for line in letters) == title) == whole
    for line in letters:
        assert text_width(line.text, line.size, bold=True) <= 480
        assert 40 <= line.y <= 60


def test_weft_of_a_section_woven_to_a_length_is_told_as_no_more_than_known():
    draft = parse_shorthand(
        "yarn: sea\nthreading: (1-4)x4\ntie-up: 1 2, 3 4\ntreadling:\nsection: Body until 40 in\n  (1 2)x2\n"
    )
    warp = replace(reckon_with("runner", [draft], UNNAMED_LOOM), width_cm=10.0)
    sheet = project_sheet(warp, 0, Units.METRIC, Handout())
    assert sheet.yarns[0].amounts[-1].endswith(" and more, until a length is reached")
    assert "4 picks and more, until a length is reached" in sheet.subtitle
    planned = replace(warp, pieces=(replace(warp.pieces[0], picks_per_cm=8.0),))
    told = project_sheet(planned, 0, Units.METRIC, Handout())
    assert "and more" not in " ".join((told.subtitle, *told.yarns[0].amounts))


def test_treadles_tied_for_plain_weave_besides_are_drawn_and_named_on_the_sheet():
    """Two of a loom's treadles are tied for hems: 1 3 and 2 4 on a straight draw (common practice, no source)."""
    draft = parse_shorthand("threading: (1-4)x4\ntie-up: 1 2, 2 3, 3 4, 1 4\ntreadling: (1-4)x4")
    plain = (Tie(up=shed_of([1, 3])), Tie(up=shed_of([2, 4])), Tie(up=shed_of([1])))
    loom = Loom(4, 7)
    warp = dress("hems", [draft], LoomProfile("barn", loom), [remap(draft, loom)])
    (piece,) = warp.pieces
    (stage,) = piece.stages
    assert len(stage.tieup) == 7
    assert set(stage.tieup[4:]) == {Tie()}
    tied = replace(warp, pieces=(replace(piece, stages=(replace(stage, tieup=(*stage.tieup[:4], *plain)),)),))
    sheet = project_sheet(tied, 0, Units.METRIC, Handout(on_loom=True))
    assert dict(sheet.facts)["Treadles pressed"] == (
        "4 of 7: 1 to 4; 5 and 6 for plain weave, as in heading and hems; 7 stays untied"
    )
    assert sheet.tieups[0].tieup[4:] == (*plain[:2], Tie())
    # With one of the two alone no plain weave can be woven: it is left out as before.
    half = replace(warp, pieces=(replace(piece, stages=(replace(stage, tieup=(*stage.tieup[:4], plain[0])),)),))
    told = dict(project_sheet(half, 0, Units.METRIC, Handout(on_loom=True)).facts)["Treadles pressed"]
    assert told == "4 of 7: 1 to 4; 5 to 7 stay untied"


@pytest.mark.parametrize("facing", [FROM_LEFT, Facing(Side.RIGHT, FirstPick.AT_BOTTOM)])
@pytest.mark.parametrize("threading", ["1", "(1-4)x10"])
def test_a_draft_without_picks_is_a_sheet_of_its_threading(threading, facing):
    draft = parse_shorthand(f"threading: {threading}")
    for warp, handout in (
        (reckon_with("n", [draft], UNNAMED_LOOM, Measures()), Handout()),
        (on_loom(Loom(4, 4), draft), Handout(on_loom=True)),
        (on_loom(Loom(4, 0, action=Action.LEVERS), draft), Handout(on_loom=True)),
    ):
        (page,) = project_pages(project_sheet(warp, 0, Units.METRIC, handout), Paper.A4, facing)
        words = [mark.text for mark in page.marks if isinstance(mark, Letters)]
        assert "No picks are written, so there is no cloth to show." in words
        assert "Face" not in words
        assert threading in " ".join(words)


@needs_poppler
@pytest.mark.parametrize(("shafts", "ends"), [(9, 72), (9, 130), (24, 40), (32, 40)])
def test_the_numbers_of_neighbouring_columns_are_read_apart(shafts, ends):
    columns = range(1, shafts + 1)
    threading = " ".join(str(end * end % shafts + 1) for end in range(ends))
    lifts = " ".join(map(str, columns))
    draft = parse_shorthand(f"threading: {threading}\nshafts: {shafts}\nlift plan: {lifts}")
    sheet = project_sheet(reckon_with("n", [draft], UNNAMED_LOOM, Measures()), 0, Units.METRIC, Handout())
    lines = text_of(pdf_of("n", project_pages(sheet, Paper.A4, FROM_LEFT))).splitlines()
    words = [line.split() for line in lines]
    assert [str(column) for column in columns] in words or [str(column) for column in columns[::2]] in words
