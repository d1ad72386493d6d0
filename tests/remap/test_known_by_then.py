"""What an answer holds whenever its search ends: bounds that do not ask for the loom, a plan, and the other ways."""

from __future__ import annotations

import random

import pytest

from companion.remap import pipeline
from companion.remap.loom.loom import Action, Loom
from companion.remap.remapped import Verdict
from companion.remap.remapping import remap
from tests.bench.structured_families import treadled_drafts
from tests.draft.drafts import draft_of
from tests.remap.answers import check, random_lift_plan


def woven(treadled, repeats=1):
    shafts = range(1, treadled.shafts + 1)
    return draft_of(threading=list(shafts), plan=[sorted(shed) for shed in treadled.picks] * repeats)


def structured(*wanted):
    return [
        pytest.param(treadled, id=f"{treadled.family}, {treadled.size}")
        for treadled in treadled_drafts()
        if (treadled.family, treadled.shafts) in wanted
    ]


BOTH_WAYS = ("twill both ways", 12)


@pytest.fixture
def short_of_budget(monkeypatch):
    monkeypatch.setattr(pipeline, "EFFORTS_AT_FIRST", 0.05)
    monkeypatch.setattr(pipeline, "EFFORTS_FOR_FEWEST", 0.1)
    monkeypatch.setattr(pipeline, "EFFORTS_FOR_STAGES", 0.1)
    monkeypatch.setattr(pipeline, "EFFORTS_FOR_CONFLICT", 0.02)
    monkeypatch.setattr(pipeline, "EFFORTS_OF_OTHER_WAY", 0.02)


@pytest.mark.usefixtures("short_of_budget")
@pytest.mark.parametrize(
    "treadled", structured(BOTH_WAYS, ("turned twill blocks", 12), ("advancing twill 3/2/1/1/2/3", 8))
)
def test_a_longer_reach_never_needs_more_treadles_nor_do_the_fewest_ask_for_the_loom(treadled):
    draft = woven(treadled)
    told = {1: set(), 2: set()}
    for treadles in (min(20, len(treadled.sheds)), 14):
        answers = [remap(draft, Loom(treadled.shafts, treadles, reach=reach)) for reach in (1, 2)]
        one, two = (answer.fewest for answer in answers)
        assert two.best <= one.best
        assert answers[0].verdict is not Verdict.FITS or answers[1].verdict is Verdict.FITS
        for reach, answer in zip((1, 2), answers, strict=True):
            told[reach].add(answer.fewest.best)
    assert all(len(best) == 1 for best in told.values())


@pytest.mark.parametrize("treadled", structured(BOTH_WAYS, ("network", 16)))
@pytest.mark.parametrize("looks", [0, 5])
def test_whoever_says_stop_gets_a_plan_that_weaves_and_every_other_way_with_its_bounds(treadled, looks):
    draft, left = woven(treadled), looks

    def should_stop():
        nonlocal left
        left -= 1
        return left < 0

    answer = remap(draft, Loom(treadled.shafts, 9, reach=2), thorough=True, should_stop=should_stop)
    check(draft, answer)
    assert answer.stages
    assert answer.fewest.at_least <= answer.fewest.best <= len(treadled.sheds)
    if answer.verdict is not Verdict.FITS:
        assert len(answer.alternatives) == 3
        for way in answer.alternatives:
            assert way.fewest.at_least <= way.fewest.best


def many_lifts_with_tabby():
    """Eight shafts, every second pick plain weave, the lifts between them at random."""
    chance = random.Random(8)
    tabby = ([1, 3, 5, 7], [2, 4, 6, 8])
    lifts = [sorted(chance.sample(range(1, 9), chance.randint(1, 6))) for _ in range(18)]
    return draft_of(
        threading=list(range(1, 9)), plan=[shed for n, lift in enumerate(lifts) for shed in (lift, tabby[n % 2])]
    )


@pytest.mark.usefixtures("short_of_budget")
@pytest.mark.parametrize("treadles", [8, 12])
def test_many_lifts_and_tabby_on_a_sinking_loom_always_bring_a_plan(treadles):
    draft = many_lifts_with_tabby()
    answer = remap(draft, Loom(8, treadles, Action.SINKING))
    check(draft, answer)
    assert answer.stages
    assert answer.verdict in (Verdict.RE_TIE, Verdict.UNKNOWN, Verdict.FITS)


@pytest.mark.usefixtures("short_of_budget")
def test_whoever_listens_hears_a_first_answer_just_as_true():
    ((treadled,),) = [one.values for one in structured(BOTH_WAYS)]
    draft, heard = woven(treadled), []
    answer = remap(draft, Loom(12, 14, reach=2), so_far=heard.append)
    (first,) = heard
    check(draft, first)
    assert first.stages
    assert first.fewest.best >= answer.fewest.best
    assert first.fewest.at_least <= answer.fewest.at_least


class _HeardEnough(Exception):  # noqa: N818
    """Ends an answer once its first one has been heard."""


@pytest.mark.parametrize(("treadles", "verdict"), [(10, Verdict.RE_TIE), (14, Verdict.FITS)])
def test_a_first_answer_is_heard_before_the_plan_and_the_feet_too_where_the_number_is_proven_at_once(treadles, verdict):
    draft, heard = random_lift_plan(8, 16, 284, 0), []

    def end_it(answer):
        heard.append(answer)
        raise _HeardEnough

    with pytest.raises(_HeardEnough):
        remap(draft, Loom(8, treadles), so_far=end_it)
    (first,) = heard
    check(draft, first)
    assert first.fewest.proven
    assert first.verdict is verdict
