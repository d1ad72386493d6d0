"""Fewest treadles by OR-tools CP-SAT: an independent formulation that shares no code with the product.

The model: booleans `cord[p][x]` (treadle p carries pull x) and `press[s][p]` (shed s presses treadle p).
A pressed treadle carries no pull foreign to the shed; every pull of the shed is carried by a pressed
treadle. Reach 1 presses at most two treadles; reach 2 chooses at most two blocks of one or two neighbours.
Treadles are interchangeable at reach 1, so they are numbered in the order of their first use; at reach 2 the
unused ones come last. Source of the problem: Garey & Johnson, Computers and Intractability (1979), SP7.
"""

from __future__ import annotations

from ortools.sat.python import cp_model


def pulls_wanted(shafts, sheds, action):
    """Return each distinct shed, given as a set of raised shafts, as the set of pulls (shaft, way) it asks for."""
    wanted = []
    for shed in dict.fromkeys(frozenset(s) for s in sheds):
        up = {(shaft, "up") for shaft in shed}
        down = {(shaft, "down") for shaft in range(1, shafts + 1) if shaft not in shed}
        pulled = {"rising": up, "sinking": down, "countermarche": up | down}[action]
        if pulled:
            wanted.append(pulled)
    return wanted


def _model(wanted, treadles, reach, minimise):
    model = cp_model.CpModel()
    every_pull = sorted(set().union(*wanted))
    cord = [{x: model.NewBoolVar("") for x in every_pull} for _ in range(treadles)]
    press = [[model.NewBoolVar("") for _ in range(treadles)] for _ in wanted]
    for shed, row in zip(wanted, press, strict=True):
        for p, pressed in enumerate(row):
            for x in every_pull:
                if x not in shed:
                    model.AddBoolOr(pressed.Not(), cord[p][x].Not())
        for x in sorted(shed):
            carried = []
            for p, pressed in enumerate(row):
                both = model.NewBoolVar("")
                model.AddImplication(both, pressed)
                model.AddImplication(both, cord[p][x])
                carried.append(both)
            model.AddBoolOr(carried)
        if reach == 1:
            model.Add(sum(row) <= 2)
        else:
            blocks = [(p,) for p in range(treadles)] + [(p, p + 1) for p in range(treadles - 1)]
            chosen = {block: model.NewBoolVar("") for block in blocks}
            model.Add(sum(chosen.values()) <= 2)
            for p, pressed in enumerate(row):
                model.AddBoolOr([pressed.Not()] + [chosen[block] for block in blocks if p in block])
    if reach == 1:
        for p in range(1, treadles):
            for s, row in enumerate(press):
                model.AddBoolOr([row[p].Not()] + [press[earlier][p - 1] for earlier in range(s + 1)])
    if minimise:
        used = [model.NewBoolVar("") for _ in range(treadles)]
        for p in range(treadles):
            for row in press:
                model.AddImplication(row[p], used[p])
            if p:
                model.AddImplication(used[p], used[p - 1])
        model.Minimize(sum(used))
    return model


def _solve(model, workers, seconds):
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = workers
    solver.parameters.random_seed = 1
    if seconds is not None:
        solver.parameters.max_time_in_seconds = seconds
    return solver, solver.Solve(model)


def do(shafts, sheds, action, reach, treadles, workers=1):
    """Decide whether this many treadles do."""
    wanted = pulls_wanted(shafts, sheds, action)
    if not wanted:
        return True
    if not treadles:
        return False
    _, status = _solve(_model(wanted, treadles, reach, minimise=False), workers, None)
    assert status in (cp_model.OPTIMAL, cp_model.FEASIBLE, cp_model.INFEASIBLE)
    return status != cp_model.INFEASIBLE


def fewest(shafts, sheds, action, reach, workers=1, seconds=None):
    """Return (treadles of the best answer or None, whether it is proven to be the fewest).

    Of two ways to ask, the one that CP-SAT answers sooner (measured): at reach 1 one model that minimises the
    treadles in use; at reach 2 a yes-or-no model for each number of treadles, from what counting allows upwards.
    """
    wanted = pulls_wanted(shafts, sheds, action)
    if not wanted:
        return 0, True
    if reach == 1:
        solver, status = _solve(_model(wanted, len(wanted), reach, minimise=True), workers, seconds)
        if status == cp_model.UNKNOWN:
            return None, False
        return round(solver.ObjectiveValue()), status == cp_model.OPTIMAL
    treadles = next(n for n in range(len(wanted) + 1) if ways_to_press_two(n) >= len(wanted))
    left = seconds
    while True:
        solver, status = _solve(_model(wanted, treadles, reach, minimise=False), workers, left)
        if status in (cp_model.OPTIMAL, cp_model.FEASIBLE):
            return treadles, True
        if left is not None:
            left -= solver.WallTime()
        if status == cp_model.UNKNOWN or (left is not None and left <= 0):
            return None, False
        treadles += 1


def ways_to_press_two(treadles):
    """Count by listing: the sets that two feet can press, each foot one treadle or two neighbours."""
    runs = [{p} for p in range(treadles)] + [{p, p + 1} for p in range(treadles - 1)]
    return len({frozenset(left | right) for left in runs for right in runs})
