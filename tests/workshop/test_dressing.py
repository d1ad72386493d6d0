"""A loom for which no tie-up was found is told of as what is known: too few treadles, or only not found in time."""

from __future__ import annotations

import random

import pytest

from companion.present.tie_up import tie_up_signs
from companion.remap.loom.loom import Loom
from companion.remap.remapped import Verdict
from companion.remap.remapping import remap
from companion.weaving.warp import LoomProfile
from companion.workshop.dressing import CannotDressError, dress
from tests.draft.drafts import draft_of


def hard_draft():
    """Sheds at random on 16 shafts, too many for any search to end soon at reach 2."""
    chance = random.Random(16)
    plan = [chance.sample(range(1, 17), 8) for _ in range(40)]
    return draft_of(threading=list(range(1, 17)), plan=plan, shafts=16)


@pytest.mark.parametrize(
    ("treadles", "verdict", "line", "headline"),
    [
        (4, Verdict.RE_TIE, "4 treadles are too few", "Not without"),
        (20, Verdict.UNKNOWN, "20 treadles may be too few, that they do was not found in time", "With 1 stop"),
    ],
)
def test_what_is_known_of_a_loom_that_was_not_found_to_do_is_said_and_it_weaves_all_the_same(
    treadles, verdict, line, headline
):
    draft, loom = hard_draft(), Loom(16, treadles, reach=2)
    answer = remap(draft, loom, should_stop=lambda: True)
    assert answer.verdict is verdict
    profile = LoomProfile("floor loom", loom)
    with pytest.raises(CannotDressError) as caught:
        dress("towel", [draft], profile, [answer])
    assert str(caught.value).startswith(line)
    assert tie_up_signs(answer).headline.startswith(headline)
    warp = dress("towel", [draft], profile, [answer], re_tie=True)
    assert len(warp.pieces[0].stages) == len(answer.stages) > 1
