"""How a pick comes out of the cloth again, in words: which shed to open, which shuttle to pull from which side."""

from __future__ import annotations

from companion.present.wording import BETWEEN, footing_words, shed_words
from companion.weaving.taking_out import TakeOut


def take_out_words(step: TakeOut) -> str:
    """Return how one pick comes out: `pick 7 · L 2 · shafts up: 1 3 · pull sand from the left to the right`."""
    tie = "" if step.re_tie is None else f"tie stage {step.re_tie + 1} first"
    feet = "" if step.footing is None else footing_words(step.footing)
    way = f"from the {step.pull_from.value} to the {step.pull_to.value}" if step.side_known else "back (side not known)"
    pull = f"pull {step.shuttle} {way}"
    parts = (f"pick {step.pick + 1}", tie, feet, shed_words(step.shed), pull)
    return BETWEEN.join(part for part in parts if part)
