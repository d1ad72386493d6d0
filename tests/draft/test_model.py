"""A draft that exists can be woven: its parts fit together, and a draft that does not fit is refused with a reason."""

from __future__ import annotations

import dataclasses

import pytest

from companion.draft.errors import DraftError, SourceLocation
from companion.draft.masks import shed_of, treadle_set
from companion.draft.model import MOST_SHAFTS, Layout, Lifted, Section, Treadled, distinct
from tests.draft.drafts import draft_of


def twill(**changes):
    draft = draft_of(threading=[1, 2, 3, 4], tieup=[[1, 2], [2, 3], [3, 4], [1, 4]], treadling=[1, 2, 3, 4])
    return dataclasses.replace(draft, **changes)


def test_counts_are_those_of_its_parts():
    draft = twill()
    assert (draft.ends, draft.picks, draft.treadles) == (4, 4, 4)
    lifted = draft_of(threading=[1, 2, 1], plan=[[1], [2]])
    assert (lifted.ends, lifted.picks, lifted.treadles) == (3, 2, 0)


def test_the_sheds_are_the_shafts_that_stand_up_however_the_draft_says_it():
    ties = [[1, 2], [3]]
    rising = draft_of(threading=[1, 2, 3], tieup=ties, treadling=[1, 2, [1, 2], []])
    sinking = dataclasses.replace(rising, rising=False)
    lifted = draft_of(threading=[1, 2, 3], plan=[[1, 2], [3], [1, 2, 3], []])
    assert rising.sheds() == lifted.sheds() == tuple(map(shed_of, ([1, 2], [3], [1, 2, 3], [])))
    assert sinking.sheds() == tuple(map(shed_of, ([3], [1, 2], [], [1, 2, 3])))


def test_shuttles_come_in_the_order_of_first_use():
    draft = draft_of(threading=[1, 2], plan=[[1], [2], [1], [2]], weft=[2, 1, 2, 2])
    assert draft.shuttles() == (1, 0)


def test_distinct_sheds_come_in_the_order_of_first_use():
    assert distinct((shed_of([2]), shed_of([1]), shed_of([2]))) == (shed_of([2]), shed_of([1]))


@pytest.mark.parametrize(
    ("changes", "reason"),
    [
        ({"shafts": 0}, "0 shafts"),
        ({"shafts": MOST_SHAFTS + 1}, f"{MOST_SHAFTS + 1} shafts"),
        ({"threading": (0, 1, 4, 3)}, "end 3 is on shaft 5 of 4"),
        ({"threading": (0, 1, 2)}, "4 colours for 3 ends"),
        ({"warp": (0, 0, 5, 0)}, "end 3 names yarn 6 of 2"),
        ({"weft": (0, 0, 0, -1)}, "pick 4 names yarn 0 of 2"),
        ({"weft": (0, 0, 0)}, "4 picks are treadled but 3 have a weft"),
        ({"lifting": Lifted((shed_of([1]),) * 5)}, "5 picks are treadled but 4 have a weft"),
        ({"lifting": Lifted((shed_of([5]),) * 4)}, "beyond the 4"),
        ({"lifting": Treadled((shed_of([1, 5]),), (treadle_set([1]),) * 4)}, "beyond the 4"),
        ({"lifting": Treadled((shed_of([1]),), (*(treadle_set([1]),) * 3, treadle_set([2])))}, "pick 4 uses a treadle"),
        ({"sections": (Section("hem", 3),)}, "do not add up"),
        ({"warp_layout": Layout(spacing_cm=(0.1,) * 3)}, "3 thread sizes for 4 threads"),
        ({"weft_layout": Layout(thickness_cm=(0.1,) * 5)}, "5 thread sizes for 4 threads"),
    ],
)
def test_a_draft_whose_parts_do_not_fit_is_refused_with_a_reason(changes, reason):
    with pytest.raises(DraftError, match=reason) as refused:
        twill(**changes)
    assert "\n" not in str(refused.value)


def test_an_odd_cloth_is_no_error():
    """No picks, no ends, an end on no shaft, a shed that lifts nothing: all can be woven as they stand."""
    assert draft_of(threading=[], shafts=1, plan=[]).picks == 0
    assert draft_of(threading=[None], shafts=1, plan=[[]]).sheds() == (0,)


def test_drafts_are_values():
    assert twill() == twill()
    assert hash(twill()) == hash(twill())
    with pytest.raises(dataclasses.FrozenInstanceError):
        twill().title = "another"


@pytest.mark.parametrize(
    ("place", "said"),
    [
        (SourceLocation(), ""),
        (SourceLocation(section="TIEUP", key="3", line=12), "[TIEUP], key 3, line 12"),
        (SourceLocation(line=2, column=7), "line 2, column 7"),
    ],
)
def test_a_place_is_told_as_far_as_it_is_known(place, said):
    assert str(place) == said


def test_an_error_is_one_line_of_where_what_and_how_to_mend():
    error = DraftError("shaft 9 of 8", place=SourceLocation(section="THREADING", key="1", line=4), mend="give 1 to 8")
    assert str(error) == "[THREADING], key 1, line 4: shaft 9 of 8; give 1 to 8"
