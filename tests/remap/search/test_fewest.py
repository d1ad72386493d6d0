"""The fewest treadles: known answers, what is promised about the outcome, and the three-shaft world in full."""

from itertools import chain, combinations

import pytest

from companion.draft.masks import NO_SHAFT, Shed, shafts_of, shed_of
from companion.remap.errors import RemapError
from companion.remap.loom.loom import Action
from companion.remap.loom.targets import Column, Target, targets_of
from companion.remap.search.answers import OutOfBudget, ProvedImpossible, Solved
from companion.remap.search.bounds import Bounds
from companion.remap.search.fewest import fits, minimal_answers
from tests.oracles import set_basis_brute as brute
from tests.oracles import set_basis_cpsat as cpsat
from tests.remap.opening import assert_opens_every_shed, search_for, tied

R, S, C = Action.RISING, Action.SINKING, Action.COUNTERMARCHE


def sheds(words):
    return [shed_of(map(int, word)) for word in words.split()]


DOUBLE_FACED = sheds("1 2 3 4 123 234 134 124")
EVERY_SHED_OF_FOUR = [Shed(mask) for mask in range(1, 15)]
OVERSHOT_WITH_TABBY = sheds("12 23 34 14 13 24")


@pytest.mark.parametrize(
    ("wanted", "action", "reach", "treadles"),
    [
        # Rising, all 14 sheds: the skeleton tie-up of weaving handbooks; that 5 do not do was found by listing.
        (EVERY_SHED_OF_FOUR, R, 1, 6),
        (EVERY_SHED_OF_FOUR, R, 2, 4),
        # Countermarche, all 14 sheds, 8 treadles: common practice, no source.
        (EVERY_SHED_OF_FOUR, C, 1, 8),
        (DOUBLE_FACED, R, 1, 6),
        (DOUBLE_FACED, R, 2, 4),
        (DOUBLE_FACED, S, 1, 6),
        (DOUBLE_FACED, C, 1, 8),
        (OVERSHOT_WITH_TABBY, R, 1, 4),
    ],
)
def test_known_answers_for_four_shafts(wanted, action, reach, treadles):
    outcome = search_for(wanted, 4, action, reach)
    assert isinstance(outcome, Solved)
    assert outcome.bounds == Bounds(treadles, treadles)
    assert_opens_every_shed(tied(outcome.columns, wanted, 4, action, reach), 4, action, reach)


def test_all_sheds_of_four_shafts_have_exactly_three_skeletons():
    """Four singles and 12 & 34, 13 & 24 or 14 & 23 (found by listing all tie-ups of six treadles)."""
    found = {
        frozenset(shafts_of(Shed(column)) for column in columns)
        for columns in minimal_answers(targets_of(EVERY_SHED_OF_FOUR, 4, R), 1, 6)
    }
    singles = {(1,), (2,), (3,), (4,)}
    assert found == {frozenset(singles | pair) for pair in ({(1, 2), (3, 4)}, {(1, 3), (2, 4)}, {(1, 4), (2, 3)})}


def test_eight_shafts_one_at_a_time_need_eight_treadles():
    """The identity matrix has Boolean rank n (standard)."""
    for reach in (1, 2):
        assert search_for([shed_of([shaft]) for shaft in range(1, 9)], 8, R, reach).bounds.best == 8


@pytest.mark.parametrize("shafts", [8, 16, 24])
def test_a_half_and_half_twill_saves_nothing(shafts):
    """A circulant of d ones and d zeros has full Boolean rank 2d (Haviv and Parnas, from memory)."""
    twill = [shed_of((first + x) % shafts + 1 for x in range(shafts // 2)) for first in range(shafts)]
    assert search_for(twill, shafts, R, 1).bounds.best == shafts


@pytest.mark.parametrize(("sets", "rank"), [(3, 3), (4, 4), (6, 4), (7, 5)])
def test_all_but_one_needs_no_less_than_its_boolean_rank(sets, rank):
    """J - I has Boolean rank k, the least with n <= C(k, k//2): de Caen, Gregory and Pullman (1981)."""
    wanted = [shed_of(x for x in range(1, sets + 1) if x != left_out) for left_out in range(1, sets + 1)]
    for reach in (1, 2):
        assert search_for(wanted, sets, R, reach).bounds.best >= rank


@pytest.mark.parametrize("blocks", [2, 3, 5, 8])
def test_a_unit_weave_needs_two_treadles_more_than_blocks(blocks):
    """Two ties and b blocks: a treadle for each, two feet for each pick (common practice, no source)."""
    wanted = [shed_of([tie, 2 + block]) for tie in (1, 2) for block in range(1, blocks + 1)]
    outcome = search_for(wanted, blocks + 2, R, 1)
    assert outcome.bounds.proven
    assert outcome.bounds.best <= blocks + 2


def test_a_sinking_loom_is_a_rising_one_for_the_cloth_face_down():
    wanted = sheds("1 12 123 24 34")
    face_down = [Shed(0b1111 & ~shed) for shed in wanted]
    assert search_for(wanted, 4, S, 1).bounds.best == search_for(face_down, 4, R, 1).bounds.best


def test_a_shed_that_opens_by_itself_needs_no_treadle():
    assert search_for([NO_SHAFT], 4, R, 1).bounds.best == 0
    assert search_for([Shed(0b1111)], 4, S, 1).bounds.best == 0
    assert search_for([NO_SHAFT], 4, C, 1).bounds.best == 1
    with_tabby = search_for([NO_SHAFT, *sheds("13 24")], 4, R, 1)
    assert with_tabby.bounds.best == 2
    assert tied(with_tabby.columns, [NO_SHAFT], 4, R, 1).footings[0].pressed == 0


def test_a_table_loom_has_no_treadles_to_ask_for():
    with pytest.raises(RemapError, match="levers and no treadles"):
        search_for(DOUBLE_FACED, 4, Action.LEVERS, 1)


def test_no_sheds_need_no_treadles():
    assert search_for([], 4, R, 2).bounds.best == 0


def test_the_answer_does_not_depend_on_the_order_of_the_sheds():
    for reach in (1, 2):
        one = search_for(DOUBLE_FACED, 4, R, reach)
        other = search_for(DOUBLE_FACED[::-1] * 2, 4, R, reach)
        assert one.columns == other.columns


def test_too_few_treadles_are_refused_with_proof():
    for reach, fewest in ((1, 6), (2, 4)):
        refused = search_for(EVERY_SHED_OF_FOUR, 4, R, reach, most=fewest - 1)
        assert isinstance(refused, ProvedImpossible)
        assert refused.bounds.at_least == fewest
        assert isinstance(fits(targets_of(EVERY_SHED_OF_FOUR, 4, R), reach, fewest - 1), ProvedImpossible)


def test_an_answer_that_fits_uses_no_more_than_was_allowed():
    for allowed in (6, 7, 20):
        outcome = fits(targets_of(EVERY_SHED_OF_FOUR, 4, R), 1, allowed)
        assert isinstance(outcome, Solved)
        assert len(outcome.columns) == outcome.bounds.best <= allowed
        assert_opens_every_shed(tied(outcome.columns, EVERY_SHED_OF_FOUR, 4, R, 1), 4, R, 1)


def hard_sheds():
    """Thirty sheds of sixteen shafts without much in common: no search is through with these at once."""
    return [Shed((0x9E3779B1 * (k + 1) >> 7) & 0xFFFF | 1 << k % 16) for k in range(30)]


def test_a_stopped_search_says_what_it_knows():
    asked = iter(range(10_000))
    seen = []
    outcome = search_for(hard_sheds(), 16, R, 2, should_stop=lambda: next(asked) >= 3, progress=seen.append)
    assert isinstance(outcome, OutOfBudget)
    assert 0 < outcome.bounds.at_least <= len(outcome.columns) == outcome.bounds.best <= 30
    assert_opens_every_shed(tied(outcome.columns, hard_sheds(), 16, R, 2), 16, R, 2)
    assert seen[-1].bounds == outcome.bounds


def test_progress_only_ever_closes_in():
    for reach in (1, 2):
        seen = []
        outcome = search_for(DOUBLE_FACED, 4, R, reach, progress=seen.append)
        assert [p.bounds.at_least for p in seen] == sorted(p.bounds.at_least for p in seen)
        assert [p.bounds.best for p in seen] == sorted((p.bounds.best for p in seen), reverse=True)
        assert seen[-1].bounds == outcome.bounds
        assert outcome.bounds.proven


def test_forty_shafts_are_no_trouble():
    wanted = [shed_of(range(first, first + 20)) for first in range(1, 21)]
    outcome = search_for(wanted, 40, R, 1)
    assert outcome.bounds.best == 20
    assert outcome.bounds.proven


@pytest.mark.parametrize("reach", [0, 3])
def test_a_foot_presses_one_or_two(reach):
    with pytest.raises(RemapError, match="reach of 1 or 2"):
        search_for(DOUBLE_FACED, 4, R, reach)


def test_a_shed_beyond_the_loom_is_refused():
    with pytest.raises(RemapError, match="beyond the 3"):
        search_for(DOUBLE_FACED, 3, R, 1)


def test_other_answers_differ_and_all_open_every_shed():
    for reach in (1, 2):
        answers = list(minimal_answers(targets_of(DOUBLE_FACED, 4, R), reach, 6))
        assert len(set(answers)) == len(answers) >= 2
        for columns in answers:
            assert len(columns) == len(answers[0])
            assert_opens_every_shed(tied(columns, DOUBLE_FACED, 4, R, reach), 4, R, reach)


def test_sheds_that_share_no_shaft_with_the_others_take_no_answer_away():
    many = tuple(Target(Column(shed)) for shed in (162, 43, 45, 147, 210, 167, 182, 205, 213, 119, 239))
    apart = tuple(Target(Column(shed)) for shed in (0x100, 0x200, 0x300))
    answers = {frozenset(columns) for columns in minimal_answers(many, 1, 9)}
    assert len(answers) > 64
    assert {frozenset(columns) for columns in minimal_answers(many + apart, 1, 11)} == {
        answer | {0x100, 0x200} for answer in answers
    }


@pytest.mark.parametrize("reach", [1, 2])
@pytest.mark.parametrize("action", [R, S, C])
def test_every_collection_of_the_six_sheds_of_three_shafts_agrees_with_listing_all_tieups(action, reach):
    """Six treadles, one for each shed, always do. Where the list of tie-ups is too long, CP-SAT answers for all six."""
    six = [frozenset(shafts) for shafts in chain(combinations((1, 2, 3), 1), combinations((1, 2, 3), 2))]
    listed = 5 - (reach == 2) - (action is C)
    openable = {
        treadles: brute.best_collections(3, action.value, reach, treadles, set(six)) for treadles in range(listed + 1)
    }
    for treadles in range(listed + 1, 6):
        assert cpsat.do(3, six, action.value, reach, treadles) == (
            search_for([shed_of(shed) for shed in six], 3, action, reach).bounds.best <= treadles
        )
    for size in range(7):
        for wanted in map(frozenset, combinations(six, size)):
            masks = [shed_of(shed) for shed in sorted(wanted, key=sorted)]
            outcome = search_for(masks, 3, action, reach)
            assert outcome.bounds.proven
            assert_opens_every_shed(tied(outcome.columns, masks, 3, action, reach), 3, action, reach)
            for treadles, collections in openable.items():
                can = any(wanted <= opened for opened in collections)
                assert can == (outcome.bounds.best <= treadles), (wanted, treadles)
                fitting = fits(targets_of(masks, 3, action), reach, treadles)
                assert isinstance(fitting, Solved) == can
