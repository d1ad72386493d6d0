"""Tie-ups for several aims side by side: in words, as ways to choose from, and with the feet marked."""

from __future__ import annotations

from dataclasses import replace

from companion.draft.masks import shed_of
from companion.draft.reading import read_draft
from companion.present.aims_compared import AIM_NAMES, aims_compared, other_aims
from companion.present.footing_in_words import foot_of_treadles
from companion.present.tie_up import harness_of
from companion.present.tie_up_choices import choice_signs, choices_of, with_spares_tied
from companion.remap.aim import Aim
from companion.remap.loom.loom import Action, Footing, Loom, Tie
from companion.remap.remapping import remap
from companion.weaving.warp import LoomProfile
from companion.workshop.places import asset
from tests.draft.drafts import draft_of

OVERSHOT = read_draft(asset("drafts/overshot-four-shaft.txt").read_bytes())
LOOM = Loom(4, 6)


def test_the_aims_that_can_be_are_offered():
    light = remap(OVERSHOT, LOOM)
    assert other_aims(light) == (Aim.TREADLES, Aim.DRAFT)
    tied = remap(OVERSHOT, LOOM, present=(Tie(up=shed_of([1, 2])),))
    assert other_aims(tied) == (Aim.FEET, Aim.TREADLES, Aim.DRAFT)
    assert other_aims(remap(OVERSHOT, Loom(4, 4))) == (Aim.TREADLES,)
    assert other_aims(remap(OVERSHOT, Loom(4, 3))) == ()
    assert other_aims(remap(OVERSHOT, Loom(4, 0, Action.LEVERS))) == ()


def test_each_is_told_by_its_treadles_cords_feet_and_footwork():
    answers = [remap(OVERSHOT, LOOM, aim=aim) for aim in (Aim.FEET, Aim.TREADLES)]
    heading, light, few = aims_compared(answers)
    assert heading == ("tied for", "treadles", "ties to make", "both feet", "footwork")
    assert light == ("light feet", "6", "12", "no picks", str(answers[0].stages[0].footwork.cost))
    both = sum(bool(footing.left and footing.right) for footing in answers[1].footings)
    cords = sum(tie.up.bit_count() for tie in answers[1].tieup)
    assert few[0] == "few treadles"
    assert few[2:4] == (str(cords), f"{both} picks")
    assert int(few[4]) > int(light[4])


def test_an_answer_that_fits_is_seen_alone_first_and_then_beside_those_for_other_aims():
    profile = LoomProfile("Floor loom", LOOM)
    choices = choices_of(remap(OVERSHOT, LOOM), profile)
    assert [choice.aim for choice in choices] == [Aim.FEET, Aim.TREADLES, Aim.DRAFT]
    alone = choice_signs(choices, 0)
    assert (alone.headline, alone.others, alone.cards) == ("It fits", True, ())
    assert alone.detail.startswith("chosen for the feet")
    beside = choice_signs(choices, 0, closely=False)
    assert [" ".join(card.name) for card in beside.cards] == ["Light feet", "Few treadles", "The draft's own"]
    *numbers, footwork = beside.cards[0].numbers
    assert numbers == ["6 treadles", "12 ties to make", "both feet: no picks"]
    assert footwork == f"footwork {choices[0].answer.stages[0].footwork.cost}"
    assert len(AIM_NAMES) == len(Aim)


def test_plain_weave_that_only_stays_tied_is_told_apart_and_what_is_left_out_is_the_headline():
    """A 2/2 twill with plain weave on two treadles more, on six treadles and on four."""
    ties = [[1, 2], [2, 3], [3, 4], [1, 4], [1, 3], [2, 4]]
    draft = draft_of(threading=[1, 2, 3, 4] * 2, tieup=ties, treadling=[1, 2, 3, 4] * 2)
    beside = choice_signs(choices_of(remap(draft, LOOM), LoomProfile("Floor loom", LOOM)), 0, closely=False)
    assert beside.headline == "It fits"
    assert beside.cards[0].numbers[:3] == ("4 treadles", "and 2 for plain weave", "12 ties to make")
    small = Loom(4, 4)
    choices = choices_of(remap(draft, small), LoomProfile("Floor loom", small))
    assert choice_signs(choices, 0).headline == "It fits, plain weave left out"
    few = replace(choices[1], answer=remap(draft, small, aim=Aim.TREADLES))
    assert choice_signs((choices[0], few), 1, closely=True).headline == "Few treadles: it fits, plain weave left out"


def test_an_answer_that_is_the_same_for_two_aims_is_one_card_with_both_names():
    choices = choices_of(remap(OVERSHOT, LOOM), LoomProfile("Floor loom", LOOM))
    known = tuple(
        replace(one, answer=one.answer or remap(OVERSHOT, LOOM, aim=one.aim, face_down=one.face_down))
        for one in choices
    )
    light, few, own = (one.answer.stages[0] for one in known)
    assert (light.tieup, light.footings) == (own.tieup, own.footings)
    assert light.tieup != few.tieup
    for chosen in range(3):
        cards = choice_signs(known, chosen, closely=False).cards
        assert [" ".join(card.name) for card in cards] == ["Light feet, the draft's own", "Few treadles"]
        assert [card.chosen for card in cards] == [chosen != 1, chosen == 1]
        # A touch chooses what the card shows, and moves no choice that is the same already.
        assert [card.way for card in cards] == [0 if chosen == 1 else chosen, 1]
    # What is not worked out yet may still be different.
    assert len(choice_signs(choices, 0, closely=False).cards) == 3


def test_each_treadle_has_the_mark_of_the_foot_that_presses_it_most():
    both = (Footing((0,), (2,)), Footing((1,), ()), Footing((), (1,)), Footing((), (1,)))
    assert foot_of_treadles(both) == (frozenset({0}), frozenset({1, 2}))
    signs = harness_of((Tie(up=shed_of([1])),) * 3, 2, both)
    assert (signs.left, signs.right) == (frozenset({0}), frozenset({1, 2}))
    assert foot_of_treadles(()) == (frozenset(), frozenset())


def test_plain_weave_on_free_treadles_is_one_more_way():
    draft = read_draft(asset("drafts/waffle-four-shaft.txt").read_bytes())
    profile = LoomProfile("Floor loom", LOOM)
    choices = with_spares_tied(choices_of(remap(draft, LOOM), profile), draft)
    assert choices[-1].name == "Plain weave too"
    signs = choice_signs(choices, len(choices) - 1, closely=False)
    assert signs.headline == "Plain weave too: it fits"
    assert signs.accept
    assert signs.cards[-1].harness.ties[4:] == ((1, 0, 1, 0), (0, 1, 0, 1))
    assert any("treadles 5 and 6 are free" in line for line in choice_signs(choices, 0).feet)
    narrow = choices_of(remap(draft, Loom(4, 4)), profile)
    assert with_spares_tied(narrow, draft) == narrow
