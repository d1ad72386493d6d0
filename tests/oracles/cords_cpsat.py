"""Fewest cords changed over all tie-ups on the treadles of a loom, as a model of OR-tools' CP-SAT."""

from __future__ import annotations

from ortools.sat.python import cp_model


def fewest_cords_by_cpsat(sheds, present, pulls, reach):
    """Return the fewest cords that change from `present` (masks) until every shed opens; None where that cannot be."""
    model = cp_model.CpModel()
    treadles = range(len(present))
    tied = [[model.new_bool_var("") for _ in range(pulls)] for _ in treadles]
    runs = [(t,) for t in treadles] + ([(t, t + 1) for t in treadles[:-1]] if reach == 2 else [])
    presses = sorted(
        {tuple(sorted({*one, *other})) for one in runs for other in runs if one == other or one[-1] < other[0]}
    )
    for shed in sheds:
        chosen = [model.new_bool_var("") for _ in presses]
        model.add_exactly_one(chosen)
        for taken, press in zip(chosen, presses, strict=True):
            for pull in range(pulls):
                if shed >> pull & 1:
                    model.add_bool_or([*(tied[t][pull] for t in press), ~taken])
                else:
                    for t in press:
                        model.add_implication(taken, ~tied[t][pull])
    model.minimize(
        sum(1 - tied[t][pull] if present[t] >> pull & 1 else tied[t][pull] for t in treadles for pull in range(pulls))
    )
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    solver.parameters.max_deterministic_time = 20
    status = solver.solve(model)
    assert status in (cp_model.OPTIMAL, cp_model.INFEASIBLE)
    return round(solver.objective_value) if status == cp_model.OPTIMAL else None
