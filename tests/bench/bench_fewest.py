"""How long the fewest treadles take, against OR-tools CP-SAT with two workers on the same sheds in the same run.

    python tests/bench/bench_fewest.py [--quick] [--cap SECONDS] [--reach 1|2] [--action NAME] [--family WORDS]

Both must prove their number; each is stopped after the cap. A ratio is CP-SAT's time by ours: 10 means that we were ten
times faster. Where CP-SAT was stopped its cap counts as its time (a lower bound of the ratio, marked >=); where only we
were stopped our cap does. Instances that both leave open count for no ratio. `--quick` takes the small sizes of every
family with a cap of two seconds.
"""

from __future__ import annotations

import argparse
import sys
import time
from collections import defaultdict
from dataclasses import dataclass
from pathlib import Path
from statistics import median

if __package__ in (None, ""):
    sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from companion.draft.masks import shed_of
from companion.remap.loom.loom import Action
from companion.remap.loom.targets import targets_of
from companion.remap.search.answers import Solved
from companion.remap.search.fewest import fewest_treadles
from tests.bench.fewest_families import families
from tests.oracles import set_basis_cpsat

ACTIONS = (Action.RISING, Action.SINKING, Action.COUNTERMARCHE)


@dataclass(frozen=True)
class Run:
    """One instance, run by both: seconds, and the proven number or None."""

    size: str
    sheds: int
    ours_s: float
    ours: int | None
    theirs_s: float
    theirs: int | None

    @property
    def ratio(self) -> float | None:
        """CP-SAT's time by ours; None when neither proved anything."""
        return None if self.ours is None and self.theirs is None else self.theirs_s / max(self.ours_s, 1e-6)


def run(size, shafts, sheds, action, reach, cap):
    """Run one instance both ways; stops with an error when the two disagree."""
    start = time.perf_counter()
    end = start + cap
    masks = [shed_of(shed) for shed in sheds]
    outcome = fewest_treadles(targets_of(masks, shafts, action), reach, should_stop=lambda: time.perf_counter() > end)
    ours_s = time.perf_counter() - start
    ours = outcome.bounds.best if isinstance(outcome, Solved) else None
    start = time.perf_counter()
    number, proven = set_basis_cpsat.fewest(shafts, sheds, action.value, reach, workers=2, seconds=cap)
    theirs_s = time.perf_counter() - start
    theirs = number if proven else None
    if ours is not None and theirs is not None and ours != theirs:
        raise SystemExit(f"disagreement on {size} {action} reach {reach}: {ours} and {theirs} for {sheds}")
    return Run(size, len(sheds), ours_s, ours, theirs_s, theirs)


def report(title, runs):
    """Print one family's line."""
    ratios = sorted(r.ratio for r in runs if r.ratio is not None)
    open_ours = [r.size for r in runs if r.ours is None]
    only_theirs = [r.size for r in runs if r.ours is None and r.theirs is not None]
    open_theirs = sum(r.theirs is None for r in runs)
    capped = ">=" if any(r.theirs is None and r.ours is not None for r in runs) else ""
    times = f"ours median {median(r.ours_s for r in runs) * 1000:8.1f} ms, worst {max(r.ours_s for r in runs):7.2f} s"
    ratio = f"ratio median {capped}{median(ratios):7.1f}, worst {ratios[0]:7.2f}" if ratios else "no ratio"
    print(f"{title:38} {len(runs):3} instances; {times}; {ratio}; unproven ours {len(open_ours)}, CP-SAT {open_theirs}")
    for r in runs:
        if r.ratio is not None and r.ratio < 1 / 3:
            print(f"    slower than a third of CP-SAT's speed: {r.size}: {r.ours_s:.2f} s against {r.theirs_s:.2f} s")
    if only_theirs:
        print(f"    left open by us but not by CP-SAT: {', '.join(only_theirs)}")


def growth(title, runs):
    """Print median times by number of sheds, and how many numbers are proven."""
    by_sheds = defaultdict(list)
    for r in runs:
        by_sheds[r.sheds].append(r)
    cells = [
        f"{sheds}: {median(r.ours_s for r in rs) * 1000:.1f}/{median(r.theirs_s for r in rs) * 1000:.0f}"
        for sheds, rs in sorted(by_sheds.items())
    ]
    print(f"{title}: growth, ms ours/CP-SAT by sheds: {'  '.join(cells)}")
    proven, theirs = sum(r.ours is not None for r in runs), sum(r.theirs is not None for r in runs)
    print(f"{title}: of {len(runs)} numbers {proven} are proven by us, {theirs} by CP-SAT")


def main():
    """Run the families asked for and print what was measured."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--quick", action="store_true")
    parser.add_argument("--cap", type=float)
    parser.add_argument("--reach", type=int, choices=(1, 2))
    parser.add_argument("--action", choices=[action.value for action in ACTIONS])
    parser.add_argument("--family", default="")
    asked = parser.parse_args()
    cap = asked.cap or (2 if asked.quick else 10)
    print(f"cap {cap:g} s for each instance and each side; CP-SAT with 2 workers, ours on one core")
    for reach in (1, 2) if asked.reach is None else (asked.reach,):
        for action in ACTIONS:
            if asked.action not in (None, action.value):
                continue
            by_family = defaultdict(list)
            for family, size, shafts, sheds in families(reach):
                if asked.family in family and not (asked.quick and (shafts > 10 or len(sheds) > 12)):
                    by_family[family].append(run(size, shafts, sheds, action, reach, cap))
            for family, runs in by_family.items():
                report(f"reach {reach} {action.value}, {family}", runs)
            everything = [r for runs in by_family.values() for r in runs]
            if everything:
                growth(f"reach {reach} {action.value}", everything)
            sys.stdout.flush()


if __name__ == "__main__":
    main()
