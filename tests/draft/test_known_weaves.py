"""Weaves that books and number theory know: what they say of floats, satins and counts, against our cloth."""

from __future__ import annotations

from functools import cache
from itertools import product

import pytest

from companion.draft.cloth import Surface, crossings_of
from companion.draft.floats import Threads, longest_floats, never_interlacing
from companion.draft.layers import hangs_together, layers
from companion.draft.tabby import tabby_sheds
from tests.draft.cloths import cloth_of, repeated, satin, twill
from tests.draft.drafts import draft_of


def face_floats(rows):
    """The longest warp and weft float on the face, of three repeats each way so that no edge cuts one."""
    found = longest_floats(cloth_of(repeated(rows, 3, 3)))
    by_threads = {floats.threads: floats.length for floats in found if floats.surface is Surface.FACE}
    return by_threads[Threads.WARP], by_threads[Threads.WEFT]


WOLFENSBERGER = {
    5: [2],
    6: [],
    7: [2, 3],
    8: [3],
    9: [2, 4],
    10: [3],
    11: [2, 3, 4, 5],
    12: [5],
    13: [2, 3, 4, 5, 6],
    14: [3, 5],
    15: [2, 4, 7],
    16: [3, 5, 7],
}
"""Counters of the regular satins: A. Wolfensberger, Theory of Silk Weaving, 2nd ed. (1921), p. 33."""


@pytest.mark.parametrize("ends", WOLFENSBERGER)
def test_a_counter_makes_a_satin_exactly_when_the_table_has_it(ends):
    """With a counter that shares a divisor with the number of ends, some ends are never lifted and lie loose."""
    made = [
        counter for counter in range(2, (ends + 1) // 2) if never_interlacing(cloth_of(satin(ends, counter))).ends == ()
    ]
    assert made == WOLFENSBERGER[ends]
    for counter in made:
        assert hangs_together(layers(cloth_of(satin(ends, counter))))
        assert face_floats(satin(ends, counter)) == (1, ends - 1)
        assert face_floats(satin(ends, counter, warp_faced=True)) == (ends - 1, 1)


@pytest.mark.parametrize(
    ("ends", "counter", "lifts"),
    [
        (5, 2, [1, 3, 5, 2, 4]),
        (12, 5, [1, 6, 11, 4, 9, 2, 7, 12, 5, 10, 3, 8]),
        (8, 3, [1, 4, 7, 2, 5, 8, 3, 6]),
    ],
)
def test_a_satin_lifts_its_ends_in_the_printed_order_and_never_two_that_touch(ends, counter, lifts):
    """C. P. Brooks, Cotton Manufacturing (1888), "Cloths Woven by Tappets" (5 and 12 ends); Wolfensberger p. 33 (8)."""
    draft = draft_of(threading=list(range(1, ends + 1)), plan=[[end] for end in lifts])
    assert crossings_of(draft).matrix().tolist() == satin(ends, counter)
    touching = [
        (one, other)
        for one, other in zip(lifts, lifts[1:] + lifts[:1], strict=True)
        if (one - other) % ends in (1, ends - 1)
    ]
    assert touching == []


def test_doeskin_prunella_and_cassimere():
    """K. H. Watson, Textiles and Clothing (1907), p. 54: weft over 1 under 2, over 2 under 1, and 2/2 both ways."""
    assert face_floats(twill(2, 1)) == (2, 1)
    assert face_floats(twill(1, 2)) == (1, 2)
    assert face_floats(twill(2, 2)) == (2, 2)


def test_plain_weave_on_four_shafts_needs_only_two_lifts():
    """J. T. Taylor, Cotton Weaving and Designing, 6th ed., p. 152: 1 tied with 2 and 3 with 4 on his draft."""
    threading = [1, 3, 2, 4] * 3
    assert crossings_of(draft_of(threading=threading, plan=[[1, 2], [3, 4]])).matrix().tolist() == [
        [end % 2 == 0 for end in range(12)],
        [end % 2 == 1 for end in range(12)],
    ]
    assert tabby_sheds([shaft - 1 for shaft in threading]) == (0b0011, 0b1100)


def orbits(cloths, moves):
    """The classes of cloths (tuples of tuples) that the moves carry into each other."""
    left = set(cloths)
    classes = []
    while left:
        reached, waiting = set(), [left.pop()]
        while waiting:
            cloth = waiting.pop()
            if cloth not in reached:
                reached.add(cloth)
                waiting += [move(cloth) for move in moves]
        left -= reached
        classes.append(reached)
    return classes


def turn_picks(cloth):
    return cloth[1:] + cloth[:1]


def turn_ends(cloth):
    return tuple(row[1:] + row[:1] for row in cloth)


def mirror_picks(cloth):
    return cloth[::-1]


def mirror_ends(cloth):
    return tuple(row[::-1] for row in cloth)


@cache
def binds_everywhere(rows_in_order):
    """Whether every end and every pick interlaces; the order of the picks does not matter, so it is asked once."""
    found = never_interlacing(cloth_of(list(rows_in_order)))
    return found.ends == found.picks == ()


def cloths_that_bind_everywhere(picks, ends):
    rows = list(product((False, True), repeat=ends))
    for cloth in product(rows, repeat=picks):
        if binds_everywhere(tuple(sorted(cloth))):
            yield cloth


@pytest.mark.parametrize(("size", "number"), [(1, 0), (2, 1), (3, 14), (4, 1446)])
def test_square_repeats_that_bind_everywhere_are_as_many_as_they_should_be(size, number):
    """OEIS A270858: n x n, both colours in every line, up to cyclic moves of rows and columns."""
    assert len(orbits(cloths_that_bind_everywhere(size, size), [turn_picks, turn_ends])) == number


@pytest.mark.parametrize(("picks", "number"), [(1, 0), (2, 3), (3, 30), (4, 465)])
def test_four_shaft_patterns_on_a_straight_threading_are_as_many_as_they_should_be(picks, number):
    """OEIS A359972, with n = 2 listed there as 0001 and 1110, 0011 and 1100, 0101 and 1010.

    That cloths count as the same when moved cyclically or mirrored, either way, was inferred from its first terms.
    """
    moves = [turn_picks, turn_ends, mirror_picks, mirror_ends]
    assert len(orbits(cloths_that_bind_everywhere(picks, 4), moves)) == number


def twill_classes(period):
    """One line of each twill of this period, up to a shift, reading backwards, and exchanging warp and weft."""
    lines = orbits(
        product((False, True), repeat=period),
        [lambda line: line[1:] + line[:1], lambda line: line[::-1], lambda line: tuple(not up for up in line)],
    )
    return [min(line) for line in lines]


def twill_of(line):
    n = len(line)
    return [[line[(end - pick) % n] for end in range(n)] for pick in range(n)]


@pytest.mark.parametrize(("period", "number"), list(enumerate([0, 1, 1, 3, 3, 7, 8, 17, 22, 43], 1)), ids=str)
def test_twills_that_hang_together_are_as_many_as_they_should_be(period, number):
    """B. Grünbaum and G. C. Shephard, "Satins and twills", Mathematics Magazine 53 (1980), theorem 2; OEIS A056357."""
    assert sum(hangs_together(layers(cloth_of(twill_of(line)))) for line in twill_classes(period)) == number


@pytest.mark.parametrize(("period", "split"), [(4, [1, 1, 1]), (8, [1, 4, 5, 3, 2, 1, 1])])
def test_twills_split_by_their_longest_float(period, split):
    """The method is that of J. A. Hoskins, C. E. Praeger, A. P. Street, Bull. Austral. Math. Soc. 28 (1983), 255-281.

    The paper's tables were not seen: the split was worked out by an independent script.
    """
    longest = [max(face_floats(twill_of(line))) for line in twill_classes(period) if any(line) and not all(line)]
    assert [longest.count(length) for length in range(1, period)] == split
