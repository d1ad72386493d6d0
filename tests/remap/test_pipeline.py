"""How long each part of an answer takes: whoever stops it, or runs out of budget, still has what is true."""

from __future__ import annotations

import pytest

from companion.draft.masks import shed_of
from companion.remap import pipeline
from companion.remap.aim import Aim
from companion.remap.loom.loom import Loom, Tie
from companion.remap.remapped import Verdict
from companion.remap.remapping import remap
from companion.remap.search.answers import Part
from companion.remap.search.fewest import fewest_treadles
from companion.remap.search.remembered import LastFew
from tests.remap.answers import check, double_faced, random_lift_plan


def test_a_search_that_is_stopped_at_once_says_unknown_or_shows_an_answer_that_weaves():
    draft = double_faced()
    roomy = remap(draft, Loom(4, 8), should_stop=lambda: True)
    check(draft, roomy)
    assert roomy.fewest.at_least <= roomy.fewest.best
    tight = remap(draft, Loom(4, 5), should_stop=lambda: True)
    assert tight.verdict in (Verdict.UNKNOWN, Verdict.RE_TIE)
    check(draft, tight)
    assert tight.alternatives


@pytest.mark.parametrize(
    ("treadles", "reach", "seed", "present"), [(8, 2, 16, None), (6, 1, 24, None), (6, 2, 3, [[1, 2]] * 6)]
)
def test_parts_whose_budget_ends_are_called_not_proven_and_the_cloth_is_woven_all_the_same(
    monkeypatch, treadles, reach, seed, present
):
    short_of_budget(monkeypatch)
    draft = random_lift_plan(8, 20, 30, seed)
    tied = None if present is None else tuple(Tie(up=shed_of(shafts)) for shafts in present)
    answer = remap(draft, Loom(8, treadles, reach=reach), present=tied)
    assert answer == remap(draft, Loom(8, treadles, reach=reach), present=tied)
    assert answer.verdict is not Verdict.UNKNOWN or answer.fewest.at_least <= treadles
    check(draft, answer)
    assert not all(way.fewest.proven for way in answer.alternatives)
    for stage in answer.stages:
        assert len({feet.shed for feet in stage.sheds}) > 0


def test_progress_names_the_part_that_is_worked_at():
    told = []
    remap(double_faced(), Loom(4, 5), progress=told.append)
    assert list(dict.fromkeys(progress.part for progress in told)) == [
        Part.FEWEST,
        Part.STAGES,
        Part.CONFLICT,
        Part.OTHER_WAYS,
    ]


def test_the_fewest_treadles_are_searched_for_once_for_all_aims_unless_somebody_said_stop(monkeypatch):
    asked = []

    def counted(*question, **more):
        asked.append(question)
        return fewest_treadles(*question, **more)

    monkeypatch.setattr(pipeline, "fewest_treadles", counted)
    monkeypatch.setattr(pipeline, "_sought_last", LastFew(6))
    draft, loom = double_faced(), Loom(4, 8, reach=2)
    remap(draft, loom, should_stop=lambda: True)
    assert len(asked) == 2
    light, few = (remap(draft, loom, aim=aim) for aim in (Aim.FEET, Aim.TREADLES))
    assert len(asked) == 4
    assert light.fewest == few.fewest


def test_a_thorough_answer_leaves_nothing_open():
    draft = random_lift_plan(5, 10, 10, 5)
    answer = remap(draft, Loom(5, 4), thorough=True)
    check(draft, answer)
    assert answer.fewest.proven
    assert answer.fewest_stages
    assert answer.conflict.irreducible
    assert all(way.fewest.proven for way in answer.alternatives)


def stopped_after(looks, part):
    """Return what says stop so many looks after this part has ended, and the listener that tells it so."""
    left, begun = None, False

    def told(progress):
        nonlocal left, begun
        begun = begun or progress.part is part
        if begun and progress.part is not part and left is None:
            left = looks

    def should_stop():
        nonlocal left
        if left is not None:
            left -= 1
        return left is not None and left < 0

    return should_stop, told


def short_of_budget(monkeypatch):
    for part in ("FOR_FEWEST", "FOR_OTHERS", "FOR_STAGES", "FOR_CONFLICT", "OF_OTHER_WAY"):
        monkeypatch.setattr(pipeline, f"EFFORTS_{part}", 0.02)


@pytest.mark.parametrize("looks", [0, 20, 60])
def test_who_waits_longer_for_a_thorough_answer_never_has_less_for_it(monkeypatch, looks):
    short_of_budget(monkeypatch)
    draft, loom = random_lift_plan(8, 20, 30, 24), Loom(8, 6)
    patient = remap(draft, loom)
    assert not patient.fewest.proven
    should_stop, told = stopped_after(looks, Part.OTHER_WAYS)
    stopped = remap(draft, loom, thorough=True, should_stop=should_stop, progress=told)
    check(draft, stopped)
    assert not stopped.fewest.proven
    assert stopped.fewest.at_least >= patient.fewest.at_least
    assert stopped.fewest.best <= patient.fewest.best
    assert (stopped.stages, stopped.conflict) == (patient.stages, patient.conflict)
    assert len(stopped.alternatives) == len(patient.alternatives)


def test_a_thorough_answer_goes_on_to_the_fewest_treadles_whatever_the_budget_for_them(monkeypatch):
    draft, loom = random_lift_plan(8, 18, 16, 7), Loom(8, 18)
    proven = remap(draft, loom).fewest
    assert proven.proven
    short_of_budget(monkeypatch)
    assert not remap(draft, loom).fewest.proven
    assert remap(draft, loom, thorough=True).fewest == proven


@pytest.mark.parametrize("looks", [0, 20])
def test_a_thorough_search_for_fewer_treadles_takes_no_time_from_the_feet(monkeypatch, looks):
    short_of_budget(monkeypatch)
    draft, loom = random_lift_plan(8, 20, 30, 24), Loom(8, 20)
    patient = remap(draft, loom, aim=Aim.TREADLES)
    assert not patient.fewest.proven
    should_stop, told = stopped_after(looks, Part.FEET)
    stopped = remap(draft, loom, aim=Aim.TREADLES, thorough=True, should_stop=should_stop, progress=told)
    check(draft, stopped)
    assert stopped.fewest.best == patient.fewest.best
    assert stopped.stages[0].footwork.cost <= patient.stages[0].footwork.cost


@pytest.mark.parametrize("present", [None, [[1], [2], [3], [4], [1, 3, 5], [2, 4, 7]]])
def test_while_fewer_treadles_may_do_no_cords_are_called_the_fewest(monkeypatch, present):
    short_of_budget(monkeypatch)
    tied = None if present is None else tuple(Tie(up=shed_of(shafts)) for shafts in present)
    answer = remap(random_lift_plan(8, 20, 30, 24), Loom(8, 20), present=tied, aim=Aim.TREADLES)
    assert answer.verdict is Verdict.FITS
    assert not answer.fewest.proven
    assert not answer.stages[0].fewest_cords
