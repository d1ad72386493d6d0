"""Sections woven to a length that are tied anew within: every lap of one is, and a plan counts one lap.

How the stages themselves are found: assets/mathematics.md, "Stages".
"""

from __future__ import annotations

from collections.abc import Sequence

from companion.draft.model import Section
from companion.remap.feet.tied_stage import TiedStage


def sections_tied_anew(sections: Sequence[Section], stages: Sequence[TiedStage]) -> tuple[str, ...]:
    """Return the names of the sections woven to a length in which a stage begins after their first pick."""
    names = []
    start = 0
    for section in sections:
        within = range(start + 1, start + section.picks)
        if section.until_cm is not None and any(stage.first in within for stage in stages):
            names.append(section.name)
        start += section.picks
    return tuple(names)
