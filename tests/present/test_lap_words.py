"""The clause that says what stops and cords are counted for, in the words of the terminal and of the screen."""

from __future__ import annotations

from dataclasses import replace

from companion.draft.model import Section
from companion.present.lap_words import lap_words
from companion.present.tie_up import tie_up_signs
from companion.remap.loom.loom import Loom
from companion.remap.remapping import remap
from tests.draft.drafts import draft_of


def answer_with(*sections):
    """Four sheds on two treadles: one stop, before pick 5 at the latest."""
    draft = draft_of(
        threading=[1, 2, 3, 4], tieup=[[1], [2], [3], [4]], treadling=[1, 2, 1, 2, 3, 4], sections=sections
    )
    return remap(draft, Loom(4, 2))


def test_stops_and_cords_of_one_lap_are_said_to_be_that_on_the_screen_and_only_there_where_it_is_so():
    words = "counted for one lap of Body, each re-tied"
    within = answer_with(Section("Hem", 2), Section("Body", 4, until_cm=10.0))
    assert lap_words(within) == words
    assert tie_up_signs(within).cords[0] == words
    between = answer_with(Section("Hem", 4, until_cm=2.0), Section("Body", 2, until_cm=10.0))
    listed = answer_with(Section("Hem", 2), Section("Body", 4))
    for answer in (between, listed):
        assert len(answer.stages) == 2
        assert lap_words(answer) == ""
        assert len(tie_up_signs(answer).cords) == len(answer.stages)


def test_several_sections_are_each_named():
    answer = replace(answer_with(Section("Body", 6, until_cm=10.0)), tied_anew_each_lap=("Hem", "Body", "Edge"))
    assert "one lap of Hem, Body and of Edge, each" in lap_words(answer)
