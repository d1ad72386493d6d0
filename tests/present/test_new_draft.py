"""A draft begun by touch: the questions lead to the draft that a weaver would have written down."""

from __future__ import annotations

from companion.draft.masks import shafts_of, treadles_of
from companion.present.asking import Answered, Asked
from companion.present.button_words import DONE
from companion.present.new_draft import ONE_OFF, NewDraftFlow


def touched(asked, *words):
    """What stands there after these were touched one after the other; digits are keys of the pad."""
    for word in words:
        assert isinstance(asked, Asked), f"nothing is asked where {word!r} is to be touched"
        (found,) = (one for one in (*asked.answers, *asked.pad, *asked.foot) if one.words == word)
        asked = found.leads_to()
    return asked


def begun_at(*words):
    return touched(NewDraftFlow(Answered).ask(), *words)


def often(times):
    return (*str(times), DONE)


THREADED = ("4", "6", "Straight: 1 … 4", *often(10), DONE)
TWILL = (*THREADED, "2/2 twill", "As drawn in", DONE)


def test_a_two_two_twill_towel_is_said_in_a_dozen_touches():
    end = begun_at(*TWILL, DONE, "sea", *often(1), DONE)
    draft = end.result.draft()
    assert [shaft + 1 for shaft in draft.threading] == [1, 2, 3, 4] * 10
    assert [shafts_of(tie) for tie in draft.lifting.tieup] == [(1, 2), (2, 3), (3, 4), (1, 4), (1, 3), (2, 4)]
    assert [treadles_of(pressed) for pressed in draft.lifting.treadling] == [(1,), (2,), (3,), (4,)] * 10
    assert {draft.yarns[yarn].name for yarn in draft.warp} == {"natural"}
    assert {draft.yarns[yarn].name for yarn in draft.weft} == {"sea"}


def test_the_usual_draws_tread_the_twill_and_the_hem_has_the_plain_weave_tied_beside_it():
    asked = begun_at(*THREADED, "2/2 twill")
    assert [answer.words for answer in asked.answers][:3] == [
        "Straight: 1 … 4",
        "To the point and back: 1 … 4 … 2",
        "Straight down: 4 … 1",
    ]
    hemmed = touched(asked, "Plain weave: 5 6", *often(3), "Straight: 1 … 4", *often(2), DONE, DONE, DONE)
    draft = hemmed.result.draft()
    assert [treadles_of(pressed) for pressed in draft.lifting.treadling][:8] == [(5,), (6,)] * 3 + [(1,), (2,)]
    # On treadles that nobody tied yet every one is trodden; where none is left for it no plain weave is offered.
    assert begun_at(*THREADED, "Nothing yet").answers[0].words == "Straight: 1 … 6"
    for tight in (("4", "4", *THREADED[2:], "2/2 twill"), (*THREADED, "Plain weave")):
        assert not any(answer.words.startswith("Plain weave:") for answer in begun_at(*tight).answers)


def test_what_was_said_stands_on_the_page_and_the_last_can_be_taken_off():
    asked = begun_at("8", "10", "To the point and back: 1 … 8 … 2", *often(3), "Straight: 1 … 8", *often(2))
    assert asked.words == "Threading: 58 ends"
    assert asked.lines == ("(1 2 3 4 5 6 7 8 7 6 5 4 3 2)x3", "(1 2 3 4 5 6 7 8)x2")
    assert touched(asked, ONE_OFF).words == "Threading: 42 ends"


def test_one_colour_for_all_is_a_touch_and_no_number():
    draft = begun_at(*TWILL, DONE, "sea", "All sea", DONE).result.draft()
    assert {draft.yarns[yarn].name for yarn in draft.weft} == {"sea"}
    # With another colour by its side it is one of an order, and has a number.
    second = begun_at(*TWILL, DONE, "sea", *often(2), "white")
    assert "All white" not in [answer.words for answer in (*second.answers, *second.foot)]


def test_plain_weave_is_tied_on_every_treadle_and_no_pick_only_floats():
    own = ("From one treadle to another", "1", DONE, "6", DONE, "1 2 3 4 5 6", *often(3))
    draft = begun_at(*THREADED, "Plain weave", *own, DONE, DONE, DONE).result.draft()
    assert [shafts_of(tie) for tie in draft.lifting.tieup] == [(1, 3), (2, 4)] * 3


def test_nothing_leads_on_before_there_is_a_thread():
    assert DONE not in [answer.words for answer in begun_at("4", "6").foot]


def test_a_draw_goes_from_any_shaft_to_any_and_back():
    asked = begun_at("8", "10", "From one shaft to another", "5", DONE, "8", DONE, "5 6 7 8 7 6", *often(2))
    assert asked.lines == ("(5 6 7 8 7 6)x2",)


def test_a_single_thread_is_not_asked_for_its_way_back():
    asked = begun_at("8", "10", "From one shaft to another", "1", DONE, "1", DONE, *often(1))
    assert asked.lines == ("1",)


def test_colours_follow_in_order_and_the_weft_can_be_like_the_warp():
    asked = begun_at(*TWILL, "black", *often(2), "white", *often(1))
    assert asked.detail == "2 black, 1 white, over and over"
    draft = touched(asked, DONE, "Like the warp").result.draft()
    names = [draft.yarns[yarn].name for yarn in draft.warp]
    assert names[:6] == ["black", "black", "white"] * 2
    assert [draft.yarns[yarn].name for yarn in draft.weft] == names[: draft.picks]


def test_fewer_treadles_than_shafts_cannot_weave_as_drawn_in():
    asked = begun_at("8", "Another number", "4", DONE, "Straight: 1 … 8", *often(1), DONE, "2/2 twill")
    assert "As drawn in" not in [answer.words for answer in asked.answers]


def test_odd_shafts_are_given_in_figures():
    asked = begun_at("Another number", "5", DONE, "5", "Straight: 1 … 5", *often(4), DONE)
    assert [answer.words for answer in asked.answers] == [
        "2/3 twill",
        "3/2 twill",
        "1/4 twill",
        "4/1 twill",
        "Nothing yet",
    ]
