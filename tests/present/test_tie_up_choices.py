"""Ways side by side: this loom first, each other way with its own answer and numbers, one of them chosen."""

from __future__ import annotations

from dataclasses import replace

import pytest

from companion.draft.model import Section
from companion.present.tie_up_choices import THIS_LOOM, WORKED_OUT, choice_signs, choices_of, used_otherwise
from companion.remap.loom.loom import Action, Loom
from companion.remap.loom.tieup_text import parse_tieup
from companion.remap.remapping import remap
from companion.weaving.warp import LoomProfile
from tests.draft.drafts import draft_of

DRAFT = draft_of(threading=[1, 2, 3], plan=[[2, 3], [1, 3], [3], [2, 3]], shafts=3)
"""Shed 3 is in both others, so that each has a treadle; face down the sheds are 1, 2 and both: two treadles do."""


def worked_out(draft, profile):
    choices = choices_of(remap(draft, profile.loom, present=profile.present), profile)
    return tuple(
        replace(
            one,
            answer=one.answer or remap(draft, one.profile.loom, present=one.profile.present, face_down=one.face_down),
        )
        for one in choices
    )


def test_a_loom_that_fits_has_nothing_beside_it():
    profile = LoomProfile("loom", Loom(3, 3))
    answer = remap(DRAFT, profile.loom)
    signs = choice_signs(choices_of(answer, profile), 0)
    assert (signs.headline, signs.several, signs.cards) == ("It fits", False, ())


@pytest.mark.parametrize("action", [Action.RISING, Action.COUNTERMARCHE])
def test_every_other_way_that_is_offered_fits_and_says_its_own_numbers(action):
    profile = LoomProfile("loom", Loom(3, 2, action))
    choices = worked_out(DRAFT, profile)
    assert choices[0].name == THIS_LOOM
    assert ("Face down" in {choice.name for choice in choices}) == (action is Action.RISING)
    for number, choice in enumerate(choices[1:], 1):
        signs = choice_signs(choices, number)
        assert signs.headline == f"{choice.name}: it fits"
        assert signs.accept == "Set up the loom"
        used = {t for feet in choice.answer.footings for t in (*feet.left, *feet.right)}
        card = signs.cards[number]
        assert card.numbers[0] == f"{len(used)} treadle{'' if len(used) == 1 else 's'}, no stop"
        assert " ".join(card.name) == choice.name
        assert [one.chosen for one in signs.cards] == [one is choice for one in choices]
    assert choice_signs(choices, 0).cards[0].numbers[0].endswith(("stop", "stops"))


def test_a_card_says_where_its_cords_are_those_of_one_lap():
    profile = LoomProfile("loom", Loom(3, 1))
    lapping = replace(DRAFT, sections=(Section("Body", DRAFT.picks, until_cm=10.0),))
    for draft, words in ((DRAFT, "to change"), (lapping, "one lap")):
        assert choice_signs(worked_out(draft, profile), 0).cards[0].numbers[1].endswith(words)


def test_the_fewest_treadles_are_a_way_and_one_may_be_looked_at_alone():
    profile = LoomProfile("loom", Loom(3, 1))
    choices = worked_out(DRAFT, profile)
    with_more = next(number for number, one in enumerate(choices) if one.name == "With 3 treadles")
    assert choices[with_more].profile.loom == Loom(3, 3)
    alone = choice_signs(choices, with_more, closely=True)
    assert (alone.cards, alone.several, alone.headline) == ((), True, "With 3 treadles: it fits")
    assert alone.harness.ties == choice_signs(choices, with_more).cards[with_more].harness.ties


def test_a_way_that_is_not_worked_out_yet_says_so_and_cannot_be_taken():
    profile = LoomProfile("loom", Loom(3, 2))
    choices = choices_of(remap(DRAFT, profile.loom), profile)
    signs = choice_signs(choices, 1, closely=True)
    assert (signs.accept, signs.detail, signs.cards[1].numbers) == ("", WORKED_OUT, (WORKED_OUT,))


def test_cords_to_change_are_counted_from_those_on_the_loom():
    profile = LoomProfile("loom", Loom(3, 2), present=parse_tieup("2 3,1 3", Action.RISING))
    choices = worked_out(DRAFT, profile)
    more = next(number for number, one in enumerate(choices) if one.name == "With 3 treadles")
    # A third treadle with one cord is all that is missing.
    assert choice_signs(choices, more).cards[more].numbers[1] == "1 tie to change"
    unknown = worked_out(DRAFT, replace(profile, present=None))
    assert choice_signs(unknown, more).cards[more].numbers[1].endswith("to make")


def test_cords_that_cannot_stay_are_not_counted_on():
    profile = LoomProfile("loom", Loom(3, 2), present=parse_tieup("1 2,1 3", Action.RISING))
    assert used_otherwise(profile, Loom(3, 3)).present == profile.present
    assert used_otherwise(profile, Loom(3, 2, Action.COUNTERMARCHE)).present is None
    assert used_otherwise(profile, Loom(3, 1)).present is None


def test_face_down_is_named_in_the_headline_and_the_proof():
    profile = LoomProfile("loom", Loom(3, 3))
    signs = choice_signs(choices_of(remap(DRAFT, profile.loom, face_down=True), profile), 0)
    assert signs.headline == "It fits, face down"
    assert "its face below" in signs.detail
