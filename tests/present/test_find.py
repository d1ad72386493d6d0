"""Finding the place, as pages of questions: at once, by what is seen, by section and repeat, by length."""

from __future__ import annotations

import pytest

from companion.draft.facing import FROM_LEFT
from companion.draft.model import Section
from companion.draft.units import Units
from companion.present.find import ask_place
from companion.present.piece_map import PieceMap
from companion.weaving.decide import jump, pause
from companion.weaving.events import ClothTold, Resumed
from companion.weaving.onward import onward
from tests.present.lost_weaver import SHOWN, LostWeaver
from tests.present.test_flows import events_of, follow, woven
from tests.screens.warps import twill_warp
from tests.weaving.world import lever_draft, lever_warp


def lost(warp, progress):
    return ask_place(warp, progress, FROM_LEFT, Units.METRIC)


@pytest.mark.parametrize("pick", range(12))
@pytest.mark.parametrize("woven_picks", [1, 6])
def test_true_answers_lead_to_the_true_place_in_a_few_touches(pick, woven_picks):
    warp = twill_warp()
    progress = woven(warp, *[onward] * woven_picks, pause)
    weaver = LostWeaver(warp, pick)
    told = events_of(warp, progress, weaver.find(lost(warp, progress)))
    assert told[0] == Resumed(looked_right=False)
    newest = woven_picks - 1
    if pick > newest:
        assert told[1:] == [ClothTold(woven=tuple(range(newest + 1, pick + 1)))]
    else:
        assert told[1:] == ([ClothTold(newest - pick)] if pick < newest else [])
    # In twelve picks of eight looks: one page of newest rows in three, then at most one page of cloth.
    assert weaver.touches <= 4, weaver.asked_for


def test_the_newest_row_is_pointed_at_on_the_first_page_and_never_among_more_than_three():
    warp = twill_warp()
    asked = lost(warp, woven(warp, *[onward] * 5))
    assert len(asked.strips) == 3
    rows = [answer.rows for answer in asked.strips]
    # Whoever sees none of these is asked about the others alone.
    asked, piece = follow(asked, "None of these"), warp.pieces[0]
    looks = [(piece.draft.weft[pick], piece.sheds[pick]) for (pick,) in rows]
    assert len(set(looks)) == 3
    shown = follow(asked, "Show what fits") if asked.words not in SHOWN else asked
    while True:
        assert 1 <= len(shown.answers) <= 3
        for answer in shown.answers:
            newest = answer.rows[0]
            assert (piece.draft.weft[newest], piece.sheds[newest]) not in looks
        if all(answer.words != "None of these" for answer in shown.foot):
            break
        shown = follow(shown, "None of these")


def test_not_sure_stands_at_one_place_on_every_page_and_asks_something_else_until_nothing_tells_more():
    warp = in_two_repeated_sections()
    progress = woven(warp, onward)
    asked, words = lost(warp, progress), []
    while asked.words != "Nothing tells them apart":
        assert asked.foot[0].words == "Not sure"
        if asked.pad:
            # It stays there while a number is typed, and what is typed goes on at the end of the foot.
            typed = follow(asked, "1")
            assert [answer.words for answer in typed.foot[:-1]] == [answer.words for answer in asked.foot[:-1]]
            assert typed.foot[-1].words == "Done"
        assert asked.words in SHOWN or asked.words not in words
        words.append(asked.words)
        asked = follow(asked, "Not sure")
    assert [answer.words for answer in asked.foot] == ["Not sure", "None of these", "By number"]
    # What is likeliest can still be pointed at.
    fits = follow(lost(warp, progress), "Not sure", "Show what fits")
    assert [(one.words, one.rows) for one in asked.answers] == [(one.words, one.rows) for one in fits.answers]
    newest = asked.answers[0].rows[0]
    assert events_of(warp, progress, asked.answers[0].leads_to()) == [ClothTold(woven=tuple(range(1, newest + 1)))]
    assert follow(asked, "Not sure").foot[0].words == "Not sure"
    assert len(words) > 5
    assert any(word.startswith("Woven since") for word in words)


def test_a_length_off_the_tape_leaves_the_places_that_it_fits():
    """Plain weave of one weft, 300 picks at 5 in a cm: only counting and measuring tell more than odd from even."""
    warp = lever_warp(lever_draft([0] * 300, sheds=(0b01, 0b10)), picks_per_cm=5.0)
    asked = lost(warp, woven(warp, *[onward] * 20))
    while "since the piece began" not in asked.words:
        asked = follow(asked, "Not sure")
    shown = follow(asked, "4", "1", "Done")
    # 41 cm are 205 picks; within 4 % and a centimetre lie picks 192 to 218.
    shown = follow(shown, "Show what fits") if shown.words not in SHOWN else shown
    assert shown.detail.split(" · ")[-2].endswith("of 27")


def test_a_place_at_the_end_of_a_lap_leads_to_another_lap_until_the_length_is_reached():
    draft = lever_draft([0, 0, 1, 2], [Section("body", 3, until_cm=5.0), Section("end", 1)])
    for picks_per_cm, after in ((2.0, 0), (0.6, 3)):
        warp = lever_warp(draft, picks_per_cm=picks_per_cm)
        progress = woven(warp, onward, onward, onward)
        assert progress.now.next_pick == after
        assert events_of(warp, progress, LostWeaver(warp, 2).find(lost(warp, progress))) == []


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (["2 further"], ClothTold(woven=(5, 6))),
        (["3 back"], ClothTold(3)),
        (["4+ off", "4 further"], ClothTold(woven=(5, 6, 7, 8))),
        (["4+ off", "5 back"], ClothTold(5)),
    ],
)
def test_a_few_picks_further_or_back_are_told_in_one_touch_and_some_more_in_two(words, told):
    warp = twill_warp()
    progress = woven(warp, *[onward] * 5)
    assert events_of(warp, progress, follow(lost(warp, progress), *words)) == [told]


def test_no_more_picks_are_offered_than_the_piece_and_the_cloth_have():
    """Of twelve picks five lie in the cloth: seven more come, and five can be out of it."""
    warp = twill_warp()
    progress = woven(warp, *[onward] * 5)
    offered = [answer.words for answer in follow(lost(warp, progress), "4+ off").answers]
    assert offered == ["4 further", "4 back", "5 further", "5 back", "6 further", "", "7 further", ""]
    few = lost(warp, woven(warp, onward, onward))
    assert [answer.words for answer in few.answers][3:] == ["1 back", "2 back", ""]


def test_a_pick_number_is_told_and_only_where_it_is_not_clear_the_way_there_is_asked_for():
    warp = twill_warp()
    progress = woven(warp, *[onward] * 5)
    further = follow(lost(warp, progress), "4+ off", "By number", "8", "At that pick")
    assert events_of(warp, progress, further) == [ClothTold(woven=(5, 6, 7))]
    back = follow(lost(warp, progress), "4+ off", "By number", "2", "At that pick")
    assert events_of(warp, progress, back) == [ClothTold(3)]
    jumped = woven(warp, *[onward] * 3, lambda w, p: jump(w, p, 6))
    asked = follow(lost(warp, jumped), "4+ off", "By number", "9", "At that pick")
    assert [answer.words for answer in asked.answers] == ["Picks 7 to 9 woven", "Only pick 9 woven"]
    # Who is not sure sees what lies in the cloth either way.
    seen = follow(asked, "Not sure")
    assert (seen.words, [answer.rows for answer in seen.answers]) == (
        "Which of these is your cloth?",
        [(8, 7, 6, 2, 1, 0), (8, 2, 1, 0)],
    )
    counted = follow(seen, "Not sure")
    assert (counted.words, counted.with_cloth, counted.foot[2].words) == ("Nothing tells them apart", True, "By number")
    assert events_of(warp, jumped, follow(counted, "2 back")) == [ClothTold(2)]
    seen = follow(seen, "Only pick 9 woven")
    told = events_of(warp, jumped, follow(seen, "Not sure"))
    assert told == [ClothTold(woven=(8,), unknown=(warp.pieces[0].draft.weft[8],))]


def in_two_repeated_sections():
    """A loom at pick 3 of a border of 8 picks and a body of 40, both in repeats of 4."""
    draft = lever_draft([0, 1, 2, 1] * 12, [Section("border", 8), Section("body", 40)])
    return lever_warp(draft, picks_per_cm=4.0)


def test_one_touch_leads_to_the_sections_and_then_to_the_repeat():
    warp = in_two_repeated_sections()
    progress = woven(warp, *[onward] * 3)
    asked = follow(lost(warp, progress), "A section")
    assert [(answer.words, answer.detail) for answer in asked.answers] == [
        ("border", "picks 1 to 8"),
        ("body", "picks 9 to 48"),
    ]
    repeat = follow(asked, "body")
    assert repeat.words.startswith("Which repeat of body")
    assert "Not sure" in [answer.words for answer in asked.foot]
    assert [answer.words for answer in repeat.answers] == [str(number) for number in range(1, 11)]
    shown = follow(repeat, "7")
    # Four picks in a repeat, each told from its neighbours by its rows: one picture, and how far off it is.
    assert (shown.words, shown.detail) == ("How far is your cloth from this picture?", "Pick 33 is its newest row")
    assert shown.rows[:5] == (32, 31, 30, 29, 28)
    for words, pick in (("This is it", 33), ("3 further", 36)):
        assert events_of(warp, progress, follow(shown, words)) == [ClothTold(woven=tuple(range(3, pick)))]


def test_who_knows_the_section_and_not_the_repeat_is_asked_what_lies_there():
    warp = in_two_repeated_sections()
    progress = woven(warp, *[onward] * 3)
    asked = follow(lost(warp, progress), "A section", "body", "Not sure")
    shown = follow(asked, "Show what fits")
    assert shown.answers[0].words == "Pick 9, repeat 1"
    assert not asked.words.startswith("Which repeat")


def test_a_piece_of_one_section_asks_for_none():
    warp = lever_warp(lever_draft([0, 1, 2] * 8))
    asked = lost(warp, woven(warp, onward))
    assert "A section" not in [answer.words for answer in (*asked.answers, *asked.foot)]


def pointed_at(asked, pick):
    """Touch the picture of the piece at a pick (index)."""
    wanted = asked.by_number
    drawn = PieceMap(wanted.least - 1, wanted.most - wanted.least + 1)
    return asked.pointed.leads_to(*drawn.place_of(pick))


def asked_where(warp, progress):
    asked = lost(warp, progress)
    while asked.pointed is None:
        asked = follow(asked, "Not sure")
    return asked


def test_a_touch_in_the_picture_of_the_piece_leads_to_the_places_near_it_the_nearest_first():
    warp = lever_warp(lever_draft([0] * 120, sheds=(0b01, 0b10)))
    progress = woven(warp, *[onward] * 10)
    shown = pointed_at(asked_where(warp, progress), 83)
    shown = follow(shown, "Show what fits") if shown.words not in SHOWN else shown
    assert 84 in [answer.rows[0] + 1 for answer in shown.answers]
    assert all(abs(answer.rows[0] - 83) <= 2 for answer in shown.answers)


@pytest.mark.parametrize("touched", [0, 40, 119])
def test_a_touch_beside_it_rules_nothing_out(touched):
    """Whoever says "None of these" often enough comes to every pick of the piece."""
    warp = lever_warp(lever_draft([0] * 120, sheds=(0b01, 0b10)))
    shown = pointed_at(asked_where(warp, woven(warp, *[onward] * 10)), touched)
    shown = follow(shown, "Show what fits") if shown.words not in SHOWN else shown
    picks = []
    while True:
        picks += [answer.rows[0] for answer in shown.answers]
        if all(answer.words != "None of these" for answer in shown.foot):
            break
        shown = follow(shown, "None of these")
    assert sorted(picks) == list(range(120))


def test_a_number_may_be_a_pick_or_how_far_off_it_is():
    warp = twill_warp()
    progress = woven(warp, *[onward] * 5)
    for words, told in (("So many further", ClothTold(woven=(5, 6, 7, 8))), ("So many back", ClothTold(4))):
        asked = follow(lost(warp, progress), "4+ off", "By number", "4")
        assert events_of(warp, progress, follow(asked, words)) == [told]
    beyond = follow(lost(warp, progress), "4+ off", "By number", "9")
    assert [answer.words for answer in beyond.answers] == ["At that pick", "", ""]


def test_a_picture_alone_tells_how_far_off_the_cloth_is_and_leads_on_where_it_is_further():
    """Thirty picks that are told by their rows: what is pointed at is near, and the rest is said beside its picture."""
    warp = lever_warp(lever_draft([(pick * pick // 3) % 3 for pick in range(60)]))
    progress = woven(warp, *[onward] * 3)
    asked = pointed_at(asked_where(warp, progress), 30)
    assert asked.words == "How far is your cloth from this picture?"
    assert asked.rows[0] == 30
    for words, pick in (("2 further", 32), ("3 back", 27)):
        assert events_of(warp, progress, follow(asked, words)) == [ClothTold(woven=tuple(range(3, pick + 1)))]
    further = follow(asked, "Further still")
    assert further.rows[0] == 37
    assert events_of(warp, progress, follow(further, "3 back")) == [ClothTold(woven=tuple(range(3, 35)))]
    assert follow(further, "Further back").rows[0] == 30


def test_more_picks_since_the_change_than_anybody_counts_leave_the_places_where_there_are_more():
    warp = lever_warp(lever_draft([1] + [0] * 24 + [2] + [0] * 34))
    asked = lost(warp, woven(warp, *[onward] * 3))
    while not asked.words.startswith("How many picks since"):
        asked = follow(asked, "Not sure")
    shown = follow(asked, "More than 20", "Show what fits")
    picks = []
    while True:
        picks += [answer.rows[0] + 1 for answer in shown.answers]
        if all(answer.words != "None of these" for answer in shown.foot):
            break
        shown = follow(shown, "None of these")
    # Picks 2 to 25 are of one weft, and so are picks 27 to 60.
    assert sorted(picks) == [22, 23, 24, 25, *range(47, 61)]


def test_in_a_section_of_one_weft_woven_to_a_length_any_number_of_picks_since_the_change_is_taken():
    """A body of four picks woven five times over: the treadling lists four of one weft, the cloth has up to twenty."""
    draft = lever_draft(
        [1, 2, 0, 0, 0, 0, 1, 2], [Section("hem", 2), Section("body", 4, until_cm=5.0), Section("end", 2)]
    )
    warp = lever_warp(draft, picks_per_cm=4.0)
    asked = lost(warp, woven(warp, *[onward] * 9))
    while not asked.words.startswith("How many picks since"):
        asked = follow(asked, "Not sure")
    told = follow(asked, "1", "5", "Done")
    told = follow(told, "Show what fits") if told.words not in SHOWN else told
    # The fifteenth pick of the body is the third of its lap: pick 5, and no other.
    assert [answer.rows[0] + 1 for answer in told.answers] == [5]


def test_of_a_piece_without_picks_no_place_is_asked_for():
    warp = lever_warp(lever_draft([]))
    asked = lost(warp, woven(warp))
    assert (asked.words, asked.answers, asked.foot) == (
        "The draft has no picks, so there is no place to find",
        (),
        (),
    )
