"""The cloth is the threading crossed with the sheds: checked against a plain double loop over sets of shafts."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from companion.draft.cloth import crossings, crossings_of, interlacement, weave
from companion.draft.masks import shed_of
from companion.draft.model import Colour, Treadled
from tests.draft.drafts import draft_of

WHITE, RED, BLUE = Colour(255, 255, 255), Colour(200, 0, 0), Colour(0, 0, 200)


@st.composite
def threadings_and_lifts(draw):
    """A threading (shafts from 1, None on none) and a set of raised shafts per pick, up to 40 shafts."""
    shafts = draw(st.integers(1, 40))
    shaft = st.integers(1, shafts)
    threading = draw(st.lists(st.none() | shaft, max_size=12))
    lifts = draw(st.lists(st.sets(shaft), max_size=12))
    return threading, lifts


@given(threadings_and_lifts())
def test_an_end_is_up_exactly_when_its_shaft_is_lifted(case):
    threading, lifts = case
    cloth = weave([None if shaft is None else shaft - 1 for shaft in threading], [shed_of(lift) for lift in lifts])
    assert cloth.shape == (len(lifts), len(threading))
    for pick, lift in enumerate(lifts):
        for end, shaft in enumerate(threading):
            assert cloth[pick, end] == (shaft in lift)


def test_plain_weave_on_two_shafts():
    assert weave([0, 1], [shed_of([1]), shed_of([2])]).tolist() == [[True, False], [False, True]]


def test_a_sinking_draft_lifts_the_shafts_that_are_not_tied():
    # Treadle 1 sinks shafts 1 and 2, so 3 and 4 stay up.
    draft = draft_of(threading=[1, 2, 3, 4], tieup=[[1, 2]], treadling=[[1]], rising=False)
    assert interlacement(draft).tolist() == [[False, False, True, True]]


def test_an_unthreaded_end_stays_down_on_a_sinking_draft_too():
    for rising in (True, False):
        draft = draft_of(threading=[1, None, 2], tieup=[[1], [2]], treadling=[[1], [2]], rising=rising)
        assert not interlacement(draft)[:, 1].any()


def test_several_treadles_lift_the_union_of_their_ties():
    draft = draft_of(threading=[1, 2, 3, 4], tieup=[[1], [2, 3]], treadling=[[1, 2], [], [2]])
    assert interlacement(draft).tolist() == [[True, True, True, False], [False] * 4, [False, True, True, False]]


def test_a_stretch_of_picks_is_a_stretch_of_the_whole():
    draft = draft_of(threading=[1, 2, 3, 1], tieup=[[1], [2], [3]], treadling=[[t] for t in (1, 2, 3, 2, 1, 3)])
    assert (crossings_of(draft).matrix(slice(2, 5)) == interlacement(draft)[2:5]).all()


def test_equal_sheds_and_shafts_are_kept_once_and_counted():
    woven = crossings([0, 1, 0, None], [shed_of([1]), shed_of([2]), shed_of([1])])
    assert woven.raised.shape == (2, 3)
    assert woven.picks_of_shed.tolist() == [2, 1]
    assert woven.ends_of_shaft.tolist() == [2, 1, 1]


def test_a_cloth_cannot_be_changed_by_its_reader():
    with pytest.raises(ValueError, match="read-only"):
        weave([0], [shed_of([1])])[0, 0] = False


def test_a_tie_up_and_the_lift_plan_that_says_the_same_weave_the_same():
    treadled = draft_of(threading=[1, 2, 3], tieup=[[1, 2], [3]], treadling=[[1], [2], [1, 2]])
    assert isinstance(treadled.lifting, Treadled)
    lifted = draft_of(threading=[1, 2, 3], plan=[[1, 2], [3], [1, 2, 3]])
    assert (interlacement(treadled) == interlacement(lifted)).all()
