"""Floats against a slow walk along every thread, and against lengths that the handbooks print."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from companion.draft import floats as floats_module
from companion.draft.cloth import Surface, crossings, crossings_of
from companion.draft.floats import Threads, longest_floats, never_interlacing
from companion.draft.masks import shed_of
from tests.draft.cloths import cloth_of, repeated, satin, twill
from tests.draft.drafts import draft_of
from tests.oracles import slow_floats


def lengths(woven):
    """Warp and weft on the face, warp and weft on the back."""
    return tuple(floats.length for floats in longest_floats(woven))


@st.composite
def small_crossings(draw):
    shafts = draw(st.integers(1, 5))
    shaft = st.integers(0, shafts - 1)
    threading = draw(st.lists(st.none() | shaft, max_size=12))
    lifts = draw(st.lists(st.sets(shaft), max_size=12))
    return crossings(threading, [shed_of(shaft + 1 for shaft in lift) for lift in lifts])


@pytest.mark.parametrize("many_lines", [0, 1_000_000], ids=["all threads at once", "thread by thread"])
@settings(max_examples=120, deadline=None)
@given(small_crossings())
def test_every_longest_float_and_its_places_are_those_of_the_slow_walk(many_lines, woven):
    with pytest.MonkeyPatch.context() as patched:
        patched.setattr(floats_module, "_MANY_LINES", many_lines)
        found = longest_floats(woven, places=10_000)
    cloth = woven.matrix().tolist()
    expected = slow_floats.longest(cloth)
    for floats in found:
        length, places = expected[floats.threads.value, floats.surface.value]
        assert floats.length == length
        assert [(place.thread, place.first) for place in floats.places] == places
        assert floats.count == len(places)
        assert all(place.length == length for place in floats.places)


@settings(max_examples=40, deadline=None)
@given(small_crossings(), st.integers(0, 4))
def test_only_as_many_places_are_named_as_were_asked_for(woven, places):
    for few, all_of_them in zip(longest_floats(woven, places), longest_floats(woven, 10_000), strict=True):
        assert few.places == all_of_them.places[:places]
        assert few.count == all_of_them.count


@settings(max_examples=50, deadline=None)
@given(small_crossings())
def test_turning_a_cloth_over_exchanges_face_and_back(woven):
    turned = cloth_of([[not up for up in row] for row in woven.matrix().tolist()]) if woven.picks else woven
    by_surface = {(f.threads, f.surface): f.length for f in longest_floats(woven)}
    for floats in longest_floats(turned):
        other = Surface.BACK if floats.surface is Surface.FACE else Surface.FACE
        if woven.picks:
            assert floats.length == by_surface[floats.threads, other]


@settings(max_examples=50, deadline=None)
@given(small_crossings())
def test_threads_that_never_interlace_are_those_that_are_all_up_or_all_down(woven):
    cloth = woven.matrix().tolist()
    found = never_interlacing(woven)
    assert list(found.picks) == [pick for pick, row in enumerate(cloth) if len(set(row)) <= 1]
    columns = zip(*cloth, strict=True) if cloth else [()] * woven.ends
    assert list(found.ends) == [end for end, column in enumerate(columns) if len(set(column)) <= 1]


@pytest.mark.parametrize(
    ("cloth", "longest"),
    [
        (twill(1, 1), 1),
        (twill(2, 2), 2),
        ([[True, True, False, False]] * 2 + [[False, False, True, True]] * 2, 2),
        ([twill(2, 2)[row] for row in (0, 1, 3, 2)], 2),
        (twill(1, 3), 3),
        (twill(3, 1), 3),
        ([twill(1, 3)[row] for row in (0, 1, 3, 2)], 3),
        (satin(5, 2), 4),
        (satin(8, 3), 7),
    ],
    ids=["plain", "2/2", "basket 2/2", "broken 2/2", "1/3", "3/1", "broken 1/3", "satin 5", "satin 8"],
)
def test_the_longest_float_of_a_weave_follows_from_its_definition(cloth, longest):
    """Three repeats each way, so that no float is cut by an edge; the longest is the run that the name states."""
    assert max(lengths(cloth_of(repeated(cloth, 3, 3)))) == longest


def test_plain_double_cloth_floats_over_three():
    """C. P. Brooks, Cotton Manufacturing (1888), p. 69: a thread passes one of its own cloth and two others."""
    draft = draft_of(threading=[1, 2, 3, 4] * 3, plan=[[1], [1, 2, 4], [2], [1, 2, 3]] * 3)
    assert max(lengths(crossings_of(draft))) == 3


def test_honeycomb_has_weft_floats_of_seven_and_warp_floats_of_five():
    """Encyclopaedia Britannica, 11th ed., "Honeycomb": the longest run of white is 7 and of black 5, the smallest 1.

    The perfect honeycomb on 8 x 8: a lattice of diamonds i = +-j, one diamond filled with warp.
    """
    cloth = [
        [
            (i - j) % 8 == 0 or (i + j) % 8 == 0 or abs(i - 4) + abs(j) <= 2 or abs(i - 4) + abs(j - 8) <= 2
            for j in range(8)
        ]
        for i in range(8)
    ]
    face = {f.threads: f.length for f in longest_floats(cloth_of(repeated(cloth, 3, 3))) if f.surface is Surface.FACE}
    assert face == {Threads.WARP: 5, Threads.WEFT: 7}


def test_point_twills_float_further_at_the_points():
    """Computed by hand from the draw 1 2 3 4 3 2: where the line turns, the float passes the point twice."""
    point = [1, 2, 3, 4, 3, 2] * 3
    two_two = [[1, 2], [2, 3], [3, 4], [1, 4]]
    straight = crossings_of(draft_of(threading=point, tieup=two_two, treadling=[1, 2, 3, 4] * 4))
    as_drawn = crossings_of(draft_of(threading=point, tieup=two_two, treadling=[1, 2, 3, 4, 3, 2] * 4))
    one_three = crossings_of(draft_of(threading=point, tieup=[[1], [2], [3], [4]], treadling=[1, 2, 3, 4] * 4))

    def longest(woven, threads):
        return max(f.length for f in longest_floats(woven) if f.threads is threads)

    assert longest(straight, Threads.WEFT) == 3
    assert longest(straight, Threads.WARP) == 2
    assert longest(as_drawn, Threads.WARP) == 3
    assert longest(one_three, Threads.WEFT) == 5


def test_a_float_that_reaches_the_edge_counts_with_its_length_in_the_piece():
    warp_face, weft_face, _, _ = longest_floats(cloth_of(["xx..", "x..."]))
    assert (warp_face.length, warp_face.places[0].thread, warp_face.places[0].first) == (2, 0, 0)
    assert (weft_face.length, weft_face.places[0].thread, weft_face.places[0].first) == (3, 1, 1)


def test_a_cloth_of_nothing_has_no_floats():
    for woven in (crossings([], []), crossings([0, 1], []), crossings([], [shed_of([1])])):
        assert all((f.length, f.count, f.places) == (0, 0, ()) for f in longest_floats(woven))
