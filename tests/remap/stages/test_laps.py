"""Sections woven to a length that are tied anew within, against every cutting of a small treadling."""

from __future__ import annotations

from itertools import combinations

from companion.draft.model import Section
from companion.remap.feet.tied_stage import TiedStage
from companion.remap.stages.laps import sections_tied_anew

SECTIONS = (Section("hem", 2), Section("body", 3, until_cm=10.0), Section("edge", 2, until_cm=1.0))


def stages_cut_at(stops, picks=7):
    ends = (*stops, picks)
    return [
        TiedStage(first, end - 1, (), (), (), None, False, False) for first, end in zip((0, *stops), ends, strict=True)
    ]


def test_a_lap_is_tied_anew_where_two_picks_of_it_next_to_each_other_lie_in_two_stages():
    neighbours = {"body": [(2, 3), (3, 4)], "edge": [(5, 6)]}
    for stops in (cut for number in range(4) for cut in combinations(range(1, 7), number)):
        stages = stages_cut_at(stops)

        def stage_at(pick, stages=stages):
            return next(stage.first for stage in stages if stage.first <= pick <= stage.last)

        expected = tuple(
            name for name, pairs in neighbours.items() if any(stage_at(one) != stage_at(other) for one, other in pairs)
        )
        assert sections_tied_anew(SECTIONS, stages) == expected
