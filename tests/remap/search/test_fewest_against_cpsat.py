"""2,400 random looms and drafts: the same fewest treadles as OR-tools CP-SAT finds, of every action and reach.

That our number is enough is seen by pressing the treadles of our answer; that one less is not enough is CP-SAT's word,
from a model that shares no code with the product.
"""

import random

import pytest

from companion.draft.masks import shed_of
from companion.remap.loom.loom import Action
from companion.remap.search import portfolio
from tests.oracles import set_basis_cpsat as cpsat
from tests.remap.opening import assert_opens_every_shed, search_for, tied

R, S, C = Action.RISING, Action.SINKING, Action.COUNTERMARCHE


def hidden_tieup(rng, shafts, most, treadles=(3, 5)):
    """Return sheds that one or two treadles of a random tie-up open, so that there is something to save."""
    ties = [{s for s in range(1, shafts + 1) if rng.random() < 0.4} for _ in range(rng.randint(*treadles))]
    return [rng.choice(ties) | rng.choice(ties) for _ in range(most)]


def random_sheds(rng, shafts, most):
    """Return sheds at random."""
    up = rng.choice((0.3, 0.5, 0.7))
    return [{s for s in range(1, shafts + 1) if rng.random() < up} for _ in range(rng.randint(1, most))]


@pytest.mark.parametrize("seed", range(8))
@pytest.mark.parametrize(
    ("action", "reach", "most_shafts", "most_sheds", "instances"),
    [(R, 1, 8, 10, 100), (S, 1, 6, 9, 40), (C, 1, 5, 8, 50), (R, 2, 6, 8, 40), (S, 2, 5, 8, 30), (C, 2, 4, 7, 40)],
)
def test_no_answer_with_fewer_treadles_exists(action, reach, most_shafts, most_sheds, instances, seed):
    rng = random.Random(f"{action.value} {reach} {seed}")
    for _ in range(instances):
        shafts = rng.randint(2, most_shafts)
        wanted = rng.choice((hidden_tieup, random_sheds))(rng, shafts, most_sheds)
        masks = [shed_of(shed) for shed in wanted]
        outcome = search_for(masks, shafts, action, reach)
        assert outcome.bounds.proven
        assert_opens_every_shed(tied(outcome.columns, masks, shafts, action, reach), shafts, action, reach)
        if outcome.bounds.best:
            assert not cpsat.do(shafts, wanted, action.value, reach, outcome.bounds.best - 1), (shafts, wanted)


@pytest.mark.parametrize(("action", "reach"), [(R, 1), (C, 1), (R, 2), (C, 2)])
def test_cpsat_also_finds_our_number_by_itself(action, reach):
    """The oracle must be able to say yes too."""
    rng = random.Random(f"yes {action.value} {reach}")
    for _ in range(20):
        wanted = random_sheds(rng, 4, 6)
        masks = [shed_of(shed) for shed in wanted]
        outcome = search_for(masks, 4, action, reach)
        assert cpsat.fewest(4, wanted, action.value, reach) == (outcome.bounds.best, True)


@pytest.mark.parametrize("action", [R, S, C])
def test_prices_and_corners_agree_too_when_they_take_part_from_the_start(action, monkeypatch):
    """Hidden tie-ups with more sheds, where treadles are saved but not most: the drafts that prices are for."""
    monkeypatch.setattr(portfolio, "LATE_AFTER", 1)
    rng = random.Random(f"between {action.value}")
    for _ in range(12):
        shafts = rng.randint(5, 8)
        wanted = hidden_tieup(rng, shafts, 18, treadles=(5, 8))
        masks = [shed_of(shed) for shed in wanted]
        outcome = search_for(masks, shafts, action, 1)
        assert outcome.bounds.proven
        assert_opens_every_shed(tied(outcome.columns, masks, shafts, action, 1), shafts, action, 1)
        assert not cpsat.do(shafts, wanted, action.value, 1, outcome.bounds.best - 1), (shafts, wanted)
