"""A weft that follows its shuttle edge by edge: which turns go round the outermost end."""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st

from companion.draft.checks import FindingKind, check
from companion.draft.cloth import crossings_of
from companion.draft.layers import Layer, layers
from companion.draft.selvedge import Edge, Selvedges, floating_ends, selvedges, turns_of
from tests.draft.drafts import draft_of


def walk(cloth, weft, shuttle, start):
    """Follow one shuttle across the cloth; yield (pick, edge, caught) at each turn. The rule, told naively."""
    at_first = start is Edge.FIRST_END
    last = None
    for pick, yarn in enumerate(weft):
        if yarn != shuttle:
            continue
        if last is not None:
            end = 0 if at_first else len(cloth[0]) - 1
            yield last, Edge.FIRST_END if at_first else Edge.LAST_END, cloth[pick][end] != cloth[last][end]
        at_first = not at_first
        last = pick


def one_cloth(draft):
    """The draft's threads as one layer, whether or not they hold each other."""
    return (Layer(tuple(range(draft.picks)), tuple(range(draft.ends))),)


def selvedges_of(draft) -> Selvedges:
    return selvedges(draft, layers(crossings_of(draft)))


@settings(deadline=None)
@given(st.data())
def test_the_missed_turns_are_those_of_the_naive_walk(data):
    ends = data.draw(st.integers(1, 5))
    lifts = data.draw(st.lists(st.sets(st.integers(1, ends)), min_size=1, max_size=10))
    weft = data.draw(st.lists(st.integers(1, 2), min_size=len(lifts), max_size=len(lifts)))
    draft = draft_of(threading=list(range(1, ends + 1)), shafts=ends, plan=lifts, weft=weft)
    cloth = crossings_of(draft).matrix().tolist()
    for shuttle in draft.shuttles():
        for start in Edge:
            found = turns_of(draft, one_cloth(draft), shuttle, start)
            walked = list(walk(cloth, draft.weft, shuttle, start))
            assert found.turns == len(walked)
            for edge, missed in ((Edge.FIRST_END, found.missed_first), (Edge.LAST_END, found.missed_last)):
                assert list(missed) == [pick for pick, at, caught in walked if at is edge and not caught]


def test_plain_weave_catches_every_turn_from_either_side():
    draft = draft_of(threading=[1, 2, 1, 2], plan=[[1], [2]] * 5)
    assert all(turns_of(draft, one_cloth(draft), 1, start).missed == 0 for start in Edge)
    assert not selvedges_of(draft).needs_floating


def test_a_straight_two_two_twill_catches_both_edges_when_started_from_the_right_one():
    draft = draft_of(threading=[1, 2, 3, 4], tieup=[[1, 2], [2, 3], [3, 4], [1, 4]], treadling=[1, 2, 3, 4] * 2)
    # By hand: end 1 is up in picks 1 and 4, end 4 in picks 3 and 4. So end 1 changes after picks 1 and 3, end 4
    # after picks 2 and 4: the first turn must be at end 1.
    assert turns_of(draft, one_cloth(draft), 1, Edge.LAST_END).missed == 0
    assert turns_of(draft, one_cloth(draft), 1, Edge.FIRST_END).missed == 7
    assert selvedges_of(draft).shuttles[0].start is Edge.LAST_END
    assert not selvedges_of(draft).needs_floating


def test_a_basket_weave_misses_every_other_turn_and_wants_a_floating_selvedge():
    draft = draft_of(threading=[1, 1, 2, 2], plan=[[1], [1], [2], [2]] * 2)
    found = selvedges_of(draft)
    assert found.needs_floating
    turns = found.shuttles[0]
    assert turns.missed == 4
    assert set(turns.missed_first + turns.missed_last) == {0, 2, 4, 6}


def test_an_outermost_end_in_no_heddle_is_a_floating_selvedge_already():
    draft = draft_of(threading=[None, 1, 1, 2, 2, None], plan=[[1], [1], [2], [2]] * 2)
    assert not selvedges_of(draft).needs_floating


def test_each_shuttle_is_judged_by_its_own_picks():
    """Two picks of each in turn: the white always in shed 1, the indigo in plain weave."""
    draft = draft_of(threading=[1, 2], plan=[[1], [1], [1], [2]] * 3, weft=[1, 2, 1, 2] * 3)
    white, indigo = selvedges_of(draft).shuttles
    assert (white.shuttle, white.turns, white.missed) == (0, 5, 5)
    assert (indigo.shuttle, indigo.turns, indigo.missed) == (1, 5, 0)


def test_a_draft_without_ends_has_no_selvedge():
    (turns,) = selvedges_of(draft_of(threading=[], shafts=1, plan=[[1], [1]])).shuttles
    assert (turns.turns, turns.missed) == (1, 0)


def test_a_tube_has_no_selvedge_to_miss():
    """Plain double cloth with one shuttle (C. P. Brooks, Cotton Manufacturing, 1888, p. 69): every turn is a fold."""
    draft = draft_of(threading=[1, 2, 3, 4] * 3, plan=[[1], [1, 2, 4], [2], [1, 2, 3]] * 3)
    assert not selvedges_of(draft).needs_floating


def test_each_cloth_of_a_double_weave_is_judged_by_its_own_outermost_end():
    """A shuttle for each cloth, both plain weave: no turn is missed though the other cloth's ends lie outside."""
    draft = draft_of(threading=[3, 1, 4, 2] * 3, plan=[[1], [1, 2, 4], [2], [1, 2, 3]] * 3, weft=[1, 2] * 6)
    assert not selvedges_of(draft).needs_floating
    assert [turns.turns for turns in selvedges_of(draft).shuttles] == [5, 5]


def test_an_outermost_end_on_no_shaft_is_a_floating_selvedge_and_no_fault():
    draft = draft_of(threading=[None, 1, 2, 1, 2, None], plan=[[1], [2], [1], [2]])
    assert floating_ends(draft) == (0, 5)
    assert FindingKind.END_UNTHREADED not in [finding.kind for finding in check(draft)]
    within = draft_of(threading=[1, None, 2, 1, 2], plan=[[1], [2], [1], [2]])
    assert floating_ends(within) == ()
    assert FindingKind.END_UNTHREADED in [finding.kind for finding in check(within)]
    assert floating_ends(draft_of(threading=[None, None], plan=[[1]])) == ()
