"""Few cords in a whole answer: none is changed in vain, and what is called fewest is."""

from __future__ import annotations

import itertools
import random

from companion.draft.masks import Shed, shafts_of, shed_of
from companion.remap import pipeline
from companion.remap.aim import Aim
from companion.remap.loom.footings import footings_for
from companion.remap.loom.loom import Loom, Tie
from companion.remap.remapped import Verdict
from companion.remap.remapping import remap
from tests.draft.drafts import draft_of
from tests.remap.answers import check, double_faced


def test_a_present_tie_up_that_does_already_is_left_alone():
    present = tuple(Tie(up=shed_of(shafts)) for shafts in ([1], [2], [3], [4], [1, 3], [2, 4]))
    answer = remap(double_faced(), Loom(4, 6), present=present)
    assert answer.tieup == present
    assert (answer.stages[0].cords_changed, answer.stages[0].fewest_cords) == (0, True)
    check(double_faced(), answer)


def test_no_answer_with_as_few_treadles_changes_fewer_cords():
    """Against every tie-up of four treadles: overshot sheds 12 23 34 14 with tabby 13 and 24."""
    draft = draft_of(threading=[1, 2, 3, 4], plan=[[1, 2], [2, 3], [3, 4], [1, 4], [1, 3], [2, 4]] * 2)
    present = tuple(Tie(up=shed_of(shafts)) for shafts in ([1, 2], [3], [2], [1, 4]))
    answer = remap(draft, Loom(4, 4), present=present)
    wanted = set(draft.sheds())
    least = min(
        sum((now ^ old.up).bit_count() for now, old in zip(columns, present, strict=True))
        for columns in itertools.product(range(16), repeat=4)
        if wanted <= {one | other for one, other in itertools.combinations_with_replacement(columns, 2)}
    )
    assert answer.stages[0].cords_changed == least
    check(draft, answer)


def fewest_cords_by_trying_all(sheds, present, treadles, reach):
    """The fewest cords changed by any tie-up of three shafts that uses just this many treadles and opens the sheds."""
    best = []
    for used in itertools.combinations(range(len(present)), treadles):
        for columns in itertools.product(range(1, 8), repeat=treadles):
            tied = [0] * len(present)
            for treadle, column in zip(used, columns, strict=True):
                tied[treadle] = column
            if all(footings_for(shed, tied, reach) for shed in sheds):
                best.append(sum((new ^ old).bit_count() for new, old in zip(tied, present, strict=True) if new))
    return min(best)


def test_cords_called_proven_are_the_fewest_of_all_tie_ups_and_most_are_proven():
    chance = random.Random(0)
    proven = found_fewest = asked = 0
    for _ in range(45):
        loom = Loom(3, chance.choice([3, 3, 4]), reach=chance.choice([1, 1, 2]))
        plan = [list(shafts_of(Shed(chance.randrange(1, 8)))) for _ in range(chance.randint(2, 7))]
        present = [chance.randrange(8) for _ in range(loom.treadles)]
        draft = draft_of(threading=[1, 2, 3], plan=plan, shafts=3)
        answer = remap(draft, loom, present=tuple(Tie(up=Shed(column)) for column in present), aim=Aim.TREADLES)
        if answer.verdict is not Verdict.FITS:
            continue
        stage = answer.stages[0]
        least = fewest_cords_by_trying_all(draft.sheds(), present, answer.fewest.best, loom.reach)
        # Left as it is, a tie-up may use more treadles than the fewest, and change nothing.
        assert stage.cords_changed >= least or stage.cords_changed == 0
        if stage.fewest_cords:
            assert stage.cords_changed <= least
        asked += 1
        proven += stage.fewest_cords
        found_fewest += stage.cords_changed <= least
    assert asked > 35
    assert proven > asked / 2
    assert found_fewest > asked * 0.9


def test_cords_are_not_called_fewest_where_the_search_for_the_treadles_was_stopped(monkeypatch):
    monkeypatch.setattr(pipeline, "EFFORTS_FOR_FEWEST", 0.0)
    plan = [[1, 3], [1, 2, 4], [3, 4], [1, 4], [2, 3, 4], [2, 3]]
    tied = tuple(Tie(up=shed_of(shafts)) for shafts in ([1, 2, 3, 4], [3], [1], [1, 4], [1, 2]))
    stopped = remap(draft_of(threading=[1, 2, 3, 4], plan=plan), Loom(4, 5), present=tied, aim=Aim.TREADLES)
    assert not stopped.fewest.proven
    assert not stopped.stages[0].fewest_cords
    # Of all tie-ups with as many treadles, listed one by one, some changes three cords.
    assert stopped.stages[0].cords_changed > 3
