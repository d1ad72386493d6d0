"""Every check of the sheds finds what it is about, with all its places, and nothing in a sound draft."""

from __future__ import annotations

from itertools import product

from hypothesis import given
from hypothesis import strategies as st

from companion.draft.checks import Finding, FindingKind, check
from companion.draft.model import Section
from tests.draft.drafts import draft_of


def kinds(draft, **loom):
    return [finding.kind for finding in check(draft, **loom)]


def only(draft, kind, **loom):
    found = [finding for finding in check(draft, **loom) if finding.kind is kind]
    assert len(found) == 1
    return found[0]


TWILL = {"threading": [1, 2, 3, 4], "tieup": [[1, 2], [2, 3], [3, 4], [1, 4]]}


def test_a_plain_twill_has_nothing_to_look_at():
    assert check(draft_of(**TWILL, treadling=[1, 2, 3, 4] * 2), counterbalanced=True) == ()


def test_a_pick_that_lifts_no_end_or_every_end_is_found():
    draft = draft_of(threading=[1, 2], plan=[[1], [], [1, 2], [2], [], [1]])
    assert only(draft, FindingKind.NO_SHAFT_UP).picks == (1, 4)
    assert only(draft, FindingKind.EVERY_SHAFT_UP).picks == (2,)


def test_shafts_without_ends_do_not_open_a_shed():
    draft = draft_of(threading=[1, 2], shafts=4, plan=[[3], [1, 2, 4], [1], [2]])
    assert only(draft, FindingKind.NO_SHAFT_UP).picks == (0,)
    assert only(draft, FindingKind.EVERY_SHAFT_UP).picks == (1,)
    assert only(draft, FindingKind.SHAFT_EMPTY).shafts == (2, 3)


def test_a_sinking_draft_is_judged_by_what_stands_up():
    draft = draft_of(threading=[1, 2], tieup=[[1, 2], [1], [2]], treadling=[1, 2, 3, 2], rising=False)
    assert only(draft, FindingKind.NO_SHAFT_UP).picks == (0,)


def test_the_same_shed_twice_is_found_only_with_the_same_shuttle():
    one = draft_of(**TWILL, treadling=[1, 1, 2, 3, 3, 3])
    assert only(one, FindingKind.SHED_REPEATED).picks == (1, 4, 5)
    two = draft_of(**TWILL, treadling=[1, 1, 2, 2, 3, 3, 4, 4], weft=[1, 2] * 4)
    assert FindingKind.SHED_REPEATED not in kinds(two)


def test_two_treadles_that_open_the_same_shed_are_the_same_shed():
    draft = draft_of(threading=[1, 2], tieup=[[1], [1], [2]], treadling=[1, 2, 3, 3])
    assert only(draft, FindingKind.SHED_REPEATED).picks == (1, 3)


def test_shafts_that_never_change_and_ends_on_no_shaft_are_found():
    draft = draft_of(threading=[1, 2, None, 3], plan=[[1, 3], [2, 3], [1, 3], [2, 3]])
    assert only(draft, FindingKind.SHAFT_IDLE).shafts == (2,)
    assert only(draft, FindingKind.END_UNTHREADED).ends == (2,)


def test_treadles_unused_untied_and_alike_are_found():
    draft = draft_of(threading=[1, 2], tieup=[[1], [2], [], [1], [2], [1]], treadling=[1, 2, 4, 2])
    assert only(draft, FindingKind.TREADLE_UNUSED).treadles == (2, 4, 5)
    assert only(draft, FindingKind.TREADLE_UNTIED).treadles == (2,)
    alike = [finding.treadles for finding in check(draft) if finding.kind is FindingKind.TREADLES_ALIKE]
    assert alike == [(0, 3, 5), (1, 4)]


def test_a_shuttle_with_an_odd_number_of_picks_ends_across():
    draft = draft_of(**TWILL, treadling=[1, 2, 3, 4, 1], weft=[1, 2, 1, 2, 1])
    assert only(draft, FindingKind.SHUTTLE_ENDS_ACROSS) == Finding(FindingKind.SHUTTLE_ENDS_ACROSS, shuttle=0)


def test_a_section_woven_to_a_length_must_bring_each_shuttle_back():
    sections = (Section("hem", 3), Section("body", 3, until_cm=40), Section("end", 2))
    draft = draft_of(**TWILL, treadling=[1, 2, 3, 4, 1, 2, 3, 4], sections=sections)
    # The hem may end across: it is woven once, and the whole comes out even.
    assert only(draft, FindingKind.SHUTTLE_ENDS_ACROSS) == Finding(
        FindingKind.SHUTTLE_ENDS_ACROSS, shuttle=1, section=1
    )


def test_sheds_far_from_balanced_matter_only_where_shafts_pull_against_each_other():
    """At most a quarter of the shafts with ends on one side is far from balanced (common practice, no source)."""
    for shafts in range(1, 10):
        every = list(range(1, shafts + 1))
        for up in range(shafts + 1):
            draft = draft_of(threading=every, plan=[every[:up], every[up:]] * 2)
            unbalanced = 0 < up < shafts and min(up, shafts - up) / shafts <= 1 / 4
            assert (FindingKind.SHED_UNBALANCED in kinds(draft, counterbalanced=True)) == unbalanced
            assert FindingKind.SHED_UNBALANCED not in kinds(draft)


@given(st.data())
def test_findings_come_in_the_order_of_their_kinds_and_name_places_that_exist(data):
    shafts = data.draw(st.integers(1, 5))
    shaft = st.integers(1, shafts)
    threading = data.draw(st.lists(st.none() | shaft, max_size=8))
    tieup = data.draw(st.lists(st.sets(shaft), max_size=5))
    treadling = data.draw(st.lists(st.sets(st.integers(1, max(len(tieup), 1)) if tieup else st.nothing()), max_size=9))
    draft = draft_of(threading=threading, shafts=shafts, tieup=tieup, treadling=treadling)
    found = check(draft, counterbalanced=True)
    order = [list(FindingKind).index(finding.kind) for finding in found]
    assert order == sorted(order)
    for finding in found:
        assert all(0 <= pick < draft.picks for pick in finding.picks)
        assert all(0 <= end < draft.ends for end in finding.ends)
        assert all(0 <= shaft < draft.shafts for shaft in finding.shafts)
        assert all(0 <= treadle < draft.treadles for treadle in finding.treadles)
        for places in (finding.picks, finding.ends, finding.shafts, finding.treadles):
            assert list(places) == sorted(set(places))


def seen_end_by_end(threading, plan):
    """What there is to find with one shuttle, from who lies above whom: kinds with picks, ends or shafts.

    Common practice, no source.
    """
    threaded = {shaft for shaft in threading if shaft}
    inner = range(1, len(threading) - 1) if threaded else range(len(threading))
    up = [{shaft for shaft in threaded if shaft in lift} for lift in plan]
    found = {
        FindingKind.NO_SHAFT_UP: [pick for pick, raised in enumerate(up) if not raised],
        FindingKind.EVERY_SHAFT_UP: [pick for pick, raised in enumerate(up) if raised and raised == threaded],
        FindingKind.SHED_REPEATED: [pick for pick in range(1, len(up)) if up[pick] == up[pick - 1]],
        FindingKind.SHAFT_EMPTY: [shaft - 1 for shaft in (1, 2, 3) if shaft not in threaded],
        FindingKind.SHAFT_IDLE: [shaft - 1 for shaft in sorted(threaded) if len({shaft in r for r in up}) == 1],
        FindingKind.END_UNTHREADED: [end for end in inner if threading[end] is None],
    }
    return {kind: places for kind, places in found.items() if places}


def test_of_every_small_draft_exactly_what_there_is_to_find_is_found():
    """All threadings of three ends on three shafts or none, with all lifts of two picks."""
    lifts = [[shaft for shaft in (1, 2, 3) if number >> (shaft - 1) & 1] for number in range(8)]
    for threading, plan in product(product((None, 1, 2, 3), repeat=3), product(lifts, repeat=2)):
        draft = draft_of(threading=threading, shafts=3, plan=plan)
        found = {finding.kind: [*finding.picks, *finding.ends, *finding.shafts] for finding in check(draft)}
        assert found == seen_end_by_end(threading, plan), (threading, plan)
