"""A loom for which no tie-up was found is told of as what is known: too few treadles, or only not found in time."""

from __future__ import annotations

import pytest

from companion.present.tie_up import tie_up_signs
from companion.remap.loom.loom import Loom
from companion.remap.remapped import Remapping, Verdict
from companion.remap.search.bounds import Bounds
from companion.weaving.warp import LoomProfile
from companion.workshop.dressing import CannotDressError, dress
from tests.screens.warps import twill_draft

LOOM = Loom(shafts=4, treadles=6)


@pytest.mark.parametrize(
    ("at_least", "line", "headline"),
    [
        (7, "6 treadles are too few: it needs at least 7; take a loom with more", "It does not fit"),
        (
            6,
            "no tie-up was found in time; at least 6 treadles are needed; try a loom with more",
            "Not found in time",
        ),
    ],
)
def test_what_is_known_of_a_loom_without_an_answer_is_said(at_least, line, headline):
    draft = twill_draft()
    answer = Remapping(LOOM, Verdict.UNKNOWN, Bounds(at_least, 9), draft.sheds())
    with pytest.raises(CannotDressError) as caught:
        dress("towel", [draft], LoomProfile("floor loom", LOOM), [answer])
    assert str(caught.value) == line
    assert tie_up_signs(answer).headline == headline
