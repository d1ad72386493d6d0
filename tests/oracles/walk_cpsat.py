"""Least walk of two feet with a treadle for every shed, as a model of OR-tools' CP-SAT: any order, any division."""

from __future__ import annotations

from ortools.sat.python import cp_model


def least_walk(steps, sheds, seconds):
    """Return the least cost found, and what CP-SAT proved that none is below, for steps (numbers of sheds) walked once.

    The price is the help page's: 4 for a treadle's width, 2 more past the neighbour, 12 more for the foot that pressed
    the pick before.
    """
    model = cp_model.CpModel()
    place = [model.new_int_var(0, sheds - 1, "") for _ in range(sheds)]
    model.add_all_different(place)
    left = [model.new_bool_var("") for _ in range(sheds)]
    split = model.new_int_var(0, sheds, "")
    for at, is_left in zip(place, left, strict=True):
        model.add(at < split).only_enforce_if(is_left)
        model.add(at >= split).only_enforce_if(~is_left)
    priced = {}

    def price(one, other):
        """Return what the way between two treadles costs."""
        key = min(one, other), max(one, other)
        if key not in priced:
            apart, far = model.new_int_var(1, sheds, ""), model.new_bool_var("")
            model.add_abs_equality(apart, place[key[0]] - place[key[1]])
            model.add(apart >= 2).only_enforce_if(far)
            model.add(apart == 1).only_enforce_if(~far)
            priced[key] = 4 * apart + 2 * far
        return priced[key]

    costs = []
    for i, one in enumerate(steps):
        between = []
        for j in range(i + 1, len(steps)):
            other = steps[j]
            if other != one and other not in between and one not in between:
                cost = model.new_int_var(0, 4 * sheds + 14, "")
                hurry = 12 if j == i + 1 else 0
                for same, apart in (
                    (left, [~left[b] for b in between]),
                    ([~x for x in left], [left[b] for b in between]),
                ):
                    model.add(cost >= price(one, other) + hurry).only_enforce_if([same[one], same[other], *apart])
                costs.append(cost)
            if other == one:
                break
            between.append(other)
    model.minimize(sum(costs))
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 2
    solver.parameters.max_time_in_seconds = seconds
    status = solver.solve(model)
    found = round(solver.objective_value) if status in (cp_model.OPTIMAL, cp_model.FEASIBLE) else None
    return found, round(solver.best_objective_bound)
