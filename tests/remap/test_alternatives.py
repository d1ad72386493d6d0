"""Ways that ask the same of the treadles are searched once, and each number is that of a search of its own."""

import random

import pytest

from companion.draft.masks import complement
from companion.remap import alternatives
from companion.remap.loom.loom import Action, Loom
from companion.remap.loom.question import question
from companion.remap.search.answers import OutOfBudget
from companion.remap.search.bounds import Bounds
from companion.remap.search.budget import NO_LIMIT
from companion.remap.search.fewest import fewest_treadles
from tests.draft.drafts import draft_of
from tests.remap.opening import search_for

ACTIONS = (Action.RISING, Action.SINKING, Action.COUNTERMARCHE)


def random_draft(seed):
    rng = random.Random(f"other ways {seed}")
    shafts = rng.randint(2, 5)
    plan = [[s for s in range(1, shafts + 1) if rng.random() < 0.5] for _ in range(8)]
    return draft_of(threading=list(range(1, shafts + 1)), plan=plan, shafts=shafts)


@pytest.mark.parametrize("action", ACTIONS)
@pytest.mark.parametrize("reach", [1, 2])
def test_each_way_has_the_number_of_its_own_search(action, reach):
    for seed in range(8):
        draft = random_draft(seed)
        asked = question(draft, Loom(draft.shafts, 2, action, reach), None)
        found = fewest_treadles(asked.wanted, reach)
        for way in alternatives.other_ways(asked, found, 1.0, lambda: False):
            sheds = [complement(s, asked.shafts) for s in asked.sheds] if way.face_down else asked.sheds
            alone = search_for(sheds, asked.shafts, way.loom.action, way.loom.reach).bounds
            assert way.fewest == alone
            assert alone.proven
            assert way.fits == (alone.best <= 2)


def test_a_rising_loom_needs_one_search_for_face_down_and_sinking(monkeypatch):
    searched = []

    def counting(targets, reach, **more):
        searched.append(reach)
        return fewest_treadles(targets, reach, **more)

    draft = draft_of(threading=[1, 2, 3], plan=[[1], [2, 3], [1, 2], [3]], shafts=3)
    asked = question(draft, Loom(3, 1), None)
    found = fewest_treadles(asked.wanted, 1)
    monkeypatch.setattr(alternatives, "fewest_treadles", counting)
    ways = alternatives.other_ways(asked, found, 1.0, lambda: False)
    assert {way.what for way in ways} == {"face down", "reach 2", "sinking", "countermarche"}
    assert sorted(searched) in ([1, 1, 2], [1, 2])


def test_what_was_left_open_is_narrowed_later_and_what_is_proven_is_not_asked_again(monkeypatch):
    asked_for = []

    def open_at_first(targets, reach, **more):
        asked_for.append(targets)
        return OutOfBudget(None, Bounds(1, None)) if len(asked_for) == 1 else fewest_treadles(targets, reach, **more)

    draft = draft_of(threading=[1, 2], plan=[[1], [2], [1, 2]], shafts=2)
    asked = question(draft, Loom(2, 1), None)
    found = fewest_treadles(asked.wanted, 1)
    monkeypatch.setattr(alternatives, "fewest_treadles", open_at_first)
    before = alternatives.other_ways(asked, found, 1.0, lambda: False)
    still_open = sum(not way.fewest.proven for way in before)
    assert still_open
    asked_for.clear()
    asked_for.append(None)
    after = alternatives.other_ways(asked, found, NO_LIMIT, lambda: False, before)
    assert all(way.fewest.proven for way in after)
    assert len(asked_for) - 1 <= still_open


def test_with_no_time_at_all_every_way_is_told_with_its_bounds():
    draft = draft_of(threading=[1, 2, 3], plan=[[1], [2, 3], [1, 2], [3]], shafts=3)
    asked = question(draft, Loom(3, 1), None)
    ways = alternatives.other_ways(asked, fewest_treadles(asked.wanted, 1), 0.0, lambda: True)
    assert {way.what for way in ways} == {"face down", "reach 2", "sinking", "countermarche"}
    for way in ways:
        exact = search_for(asked.sheds, 3, way.loom.action, way.loom.reach).bounds
        assert way.face_down or way.fewest.at_least <= exact.best <= way.fewest.best
