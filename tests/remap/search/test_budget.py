"""Work is counted, not timed: the same budget ends after the same number of looks."""

import pytest

from companion.remap.search.budget import NO_LIMIT, Budget


def looks_until_stop(share, most=100_000):
    return next((look for look in range(most) if share()), None)


def never():
    return False


def test_a_budget_buys_fewer_nodes_where_sheds_are_many_or_a_foot_presses_two():
    looks = [looks_until_stop(Budget(never, 1).share(sheds, reach)) for sheds, reach in ((10, 1), (20, 1), (10, 2))]
    # 400,000 nodes times sheds at reach 1, 200,000 at reach 2, and 16 nodes a look.
    assert looks == pytest.approx([2500, 1250, 1250], abs=1)


def test_turns_draw_on_one_budget_and_each_has_its_own_end():
    budget = Budget(never, 1)
    assert looks_until_stop(budget.share(10, 2, most=0.4)) == pytest.approx(500, abs=1)
    assert looks_until_stop(budget.share(10, 2, most=0.4)) == pytest.approx(500, abs=1)
    last = budget.share(10, 2, most=0.4)
    assert not last.cut_short
    assert looks_until_stop(last) < 260
    assert last.cut_short


def test_without_limit_only_the_one_who_waits_says_stop():
    stopped = []
    share = Budget(lambda: bool(stopped), NO_LIMIT).share(10, 2)
    assert looks_until_stop(share) is None
    stopped.append(True)
    assert share()
    assert share.cut_short
