"""The whole answer: whatever it is, it weaves the draft's cloth, and its claims hold."""

from __future__ import annotations

import itertools

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from companion.draft.masks import Shed, shafts_of, shed_of
from companion.draft.model import Section
from companion.remap.errors import RemapError
from companion.remap.loom.cords import cord_changes
from companion.remap.loom.loom import Action, Loom, Tie
from companion.remap.remapped import Verdict
from companion.remap.remapping import remap
from tests.draft.drafts import draft_of
from tests.remap.answers import check, cords_that_count, double_faced

DOUBLE_FACED = [[1], [2], [3], [4], [1, 2, 3], [2, 3, 4], [1, 3, 4], [1, 2, 4]]


ACTIONS = (Action.RISING, Action.SINKING, Action.COUNTERMARCHE)


@st.composite
def drafts(draw):
    shafts = draw(st.integers(1, 4))
    sheds = st.lists(st.integers(1, shafts), unique=True, max_size=shafts)
    tieup = draw(st.lists(sheds, min_size=1, max_size=7))
    picks = st.lists(st.integers(1, len(tieup)), unique=True, min_size=0, max_size=2)
    treadling = draw(st.lists(picks, min_size=1, max_size=10))
    threading = draw(st.lists(st.one_of(st.none(), st.integers(1, shafts)), min_size=1, max_size=6))
    sections, left = [], len(treadling)
    while left:
        sections.append(Section(f"part {len(sections)}", draw(st.integers(1, left))))
        left -= sections[-1].picks
    return draft_of(
        threading=threading,
        tieup=tieup,
        treadling=treadling,
        shafts=shafts,
        rising=draw(st.booleans()),
        sections=tuple(sections),
    )


@st.composite
def presents(draw, loom):
    every = range(1, loom.shafts + 1)
    ties = []
    for _ in range(loom.treadles):
        ways = [draw(st.sampled_from("ud-")) for _ in every]
        up = shed_of([shaft for shaft, way in zip(every, ways, strict=True) if way == "u"])
        down = shed_of([shaft for shaft, way in zip(every, ways, strict=True) if way == "d"])
        ties.append(
            {
                Action.RISING: Tie(up=up),
                Action.SINKING: Tie(down=down),
                Action.COUNTERMARCHE: Tie(up, down),
            }[loom.action]
        )
    return tuple(ties)


@settings(max_examples=120, deadline=None)
@given(st.data())
def test_every_answer_weaves_the_very_cloth_stage_by_stage(data):
    draft = data.draw(drafts())
    loom = Loom(
        draft.shafts,
        data.draw(st.integers(1, 5)),
        data.draw(st.sampled_from(ACTIONS)),
        data.draw(st.sampled_from([1, 2])),
    )
    present = data.draw(st.one_of(st.none(), presents(loom)))
    answer = remap(draft, loom, present=present)
    check(draft, answer)
    assert (answer.verdict is Verdict.FITS) == (len(answer.stages) == 1)
    assert (answer.verdict is Verdict.FITS) == (answer.fewest.best <= loom.treadles)
    assert answer.fewest.proven
    before = None if present is None else cords_that_count(present, draft, loom)
    for stage in answer.stages:
        if before is not None:
            assert stage.changes == cord_changes(before, stage.tieup)
        else:
            assert stage.changes is None
        before = stage.tieup


@pytest.mark.parametrize(("action", "reach", "fewest"), [("rising", 1, 6), ("rising", 2, 4), ("countermarche", 1, 8)])
def test_a_double_faced_twill_fits_where_it_must_and_is_re_tied_one_treadle_short_of_it(action, reach, fewest):
    """The numbers follow from counting what two feet can open, in the docstring of tests of the search."""
    draft = double_faced()
    fitting = remap(draft, Loom(4, fewest, Action(action), reach))
    check(draft, fitting)
    assert (fitting.verdict, fitting.fewest.best) == (Verdict.FITS, fewest)
    short = remap(draft, Loom(4, fewest - 1, Action(action), reach))
    check(draft, short)
    assert (short.verdict, short.fewest.best, short.fewest.proven) == (Verdict.RE_TIE, fewest, True)


@pytest.mark.parametrize("treadles", [3, 4, 5])
def test_a_conflict_does_not_fit_and_without_any_one_of_its_sheds_the_rest_does(treadles):
    answer = remap(double_faced(), Loom(4, treadles))
    sheds = answer.conflict.sheds
    assert answer.conflict.irreducible
    assert not opens_all(sheds, treadles)
    for shed in sheds:
        assert opens_all([other for other in sheds if other != shed], treadles)


def opens_all(sheds, treadles):
    """Whether some tie-up opens these sheds at reach 1, by trying every set of columns of four shafts."""
    wanted = set(sheds)
    return any(
        wanted <= {one | other for one in columns for other in columns}
        for columns in itertools.combinations(range(1, 16), treadles)
    )


def test_stages_are_no_more_than_any_way_to_cut_the_treadling_needs():
    draft = draft_of(threading=[1, 2, 3, 4], tieup=DOUBLE_FACED, treadling=[1, 5, 2, 6, 3, 7, 4, 8, 1, 5], shafts=4)
    answer = remap(draft, Loom(4, 3))
    sheds = draft.sheds()
    for stops in range(draft.picks):
        for cuts in itertools.combinations(range(1, draft.picks), stops):
            bounds = itertools.pairwise((0, *cuts, draft.picks))
            if all(opens_all(sheds[first:stop], 3) for first, stop in bounds):
                assert len(answer.stages) == stops + 1
                return
    pytest.fail("even single picks do not fit")


def test_stops_lie_at_section_ends_where_that_costs_no_stage():
    draft = draft_of(
        threading=[1, 2, 3, 4],
        tieup=[[1], [2], [3], [4]],
        treadling=[1, 2, 1, 2, 1, 3, 4, 3, 4],
        sections=(Section("hem", 4), Section("cloth", 5)),
    )
    answer = remap(draft, Loom(4, 3))
    assert [(stage.first, stage.at_section_end) for stage in answer.stages] == [(0, False), (4, True)]


def test_alternatives_say_what_else_would_do_and_each_number_is_the_search_s_own():
    answer = remap(double_faced(), Loom(4, 5))
    ways = {other.what: other for other in answer.alternatives}
    assert set(ways) == {"face down", "reach 2", "sinking", "countermarche"}
    assert (ways["reach 2"].fewest.best, ways["reach 2"].fits) == (4, True)
    assert (ways["countermarche"].fewest.best, ways["countermarche"].fits) == (8, False)
    assert answer.alternatives[0].what == "reach 2"


def test_face_down_is_not_offered_where_an_end_hangs_on_no_shaft():
    draft = draft_of(threading=[1, 2, None, 3, 4], tieup=DOUBLE_FACED, treadling=[1, 5, 2, 6, 3, 7, 4, 8])
    assert "face down" not in {other.what for other in remap(draft, Loom(4, 5)).alternatives}


def test_face_down_helps_where_the_complements_need_fewer_treadles():
    """Sheds 123, 124, 134, 234, 12, 34 on rising treadles; turned over they are 4, 3, 2, 1, 34, 12."""
    plan = [[1, 2, 3], [1, 2, 4], [1, 3, 4], [2, 3, 4]]
    draft = draft_of(threading=[1, 2, 3, 4], plan=[[1], [2], [3], [4], *plan, [1, 2], [3, 4], [1, 4]])
    answer = remap(draft, Loom(4, 5))
    ways = {other.what: other for other in answer.alternatives}
    assert ways["face down"].fewest == ways["sinking"].fewest
    assert ways["face down"].face_down


def test_levers_change_exactly_where_the_shed_does():
    draft = draft_of(threading=[1, 2, 3], plan=[[1], [1, 2], [], [3], [3]])
    answer = remap(draft, Loom(3, 0, Action.LEVERS))
    up = set()
    for shed, change in zip(draft.sheds(), answer.levers, strict=True):
        raised, lowered = set(shafts_of(change.raise_)), set(shafts_of(change.lower))
        assert not raised & up
        assert lowered <= up
        up = up - lowered | raised
        assert up == set(shafts_of(shed))
    assert [change.moves for change in answer.levers] == [1, 1, 2, 1, 0]
    assert (answer.verdict, answer.proven_cloth, answer.stages) == (Verdict.FITS, True, ())


@pytest.mark.parametrize("action", ACTIONS)
def test_a_draft_with_nothing_to_weave_fits(action):
    answer = remap(draft_of(threading=[1, 2], plan=[], shafts=2), Loom(2, 2, action))
    assert (answer.verdict, answer.fewest.best, answer.footings, answer.proven_cloth) == (Verdict.FITS, 0, (), True)


@pytest.mark.parametrize("action", ACTIONS)
def test_sheds_with_no_shaft_and_with_every_shaft_up_are_woven(action):
    draft = draft_of(threading=[1, 2, 1], plan=[[], [1, 2], [1], [2], []], shafts=2)
    answer = remap(draft, Loom(2, 4, action))
    check(draft, answer)
    free = [feet.shed for feet in answer.stages[0].sheds if not feet.footing.left and not feet.footing.right]
    assert free == {Action.RISING: [Shed(0)], Action.SINKING: [Shed(0b11)], Action.COUNTERMARCHE: []}[action]


def test_shafts_that_carry_ends_and_that_the_loom_lacks_are_named():
    draft = draft_of(threading=[1, 5, 2, 6], plan=[[1], [5]], shafts=6)
    answer = remap(draft, Loom(4, 4))
    assert (answer.verdict, answer.missing_shafts) == (Verdict.TOO_FEW_SHAFTS, (5, 6))


def test_a_declared_shaft_without_ends_may_be_missing_from_the_loom():
    draft = draft_of(threading=[1, 2], plan=[[1, 4], [2], [1], [2, 3]], shafts=4)
    for action in ACTIONS:
        answer = remap(draft, Loom(2, 2, action))
        check(draft, answer)
        assert answer.fewest.best == 2


@pytest.mark.parametrize(
    ("loom", "present", "what"),
    [
        (Loom(4, 21), None, "21 treadles"),
        (Loom(4, 0), None, "0 treadles"),
        (Loom(4, 4, reach=3), None, "presses 3"),
        (Loom(0, 4), None, "0 shafts"),
        (Loom(4, 1), (Tie(), Tie()), "2 treadles and the loom 1"),
        (Loom(4, 1), (Tie(up=shed_of([5])),), "treadle 1 of the present"),
    ],
)
def test_a_loom_that_makes_no_sense_is_refused_in_one_line(loom, present, what):
    with pytest.raises(RemapError, match=what) as refused:
        remap(double_faced(), loom, present=present)
    assert "\n" not in str(refused.value)
