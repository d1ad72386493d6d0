"""Can this loom weave this draft, and how do the feet move? The whole answer, from the draft to the proof.

`remap` puts the parts together, in this order: the draft becomes a question in sheds and targets (`question`), the
search finds columns (`fewest`), a tie-up is chosen for what is aimed at, with the feet on it (`aimed`), and the cloth
is woven and compared (`proof`). Where it does not fit: what is in the way (`conflict`), where to stop and
tie anew (`plan_stages`) and what else would do (`alternatives`). The order of the parts and how long each may take
stand in `pipeline`; here is what needs no search. Nothing leaves that has not been proved.

A shaft without ends is no cloth: sheds are said of the shafts that carry ends, and lifting another changes nothing. So
a loom with fewer shafts than the draft declares weaves it as long as no end is on the missing shafts.
Otherwise the verdict says which shafts are missing.
"""

from __future__ import annotations

from dataclasses import replace

from companion.draft.masks import Shed
from companion.draft.model import Draft, distinct
from companion.draft.tabby import tabby_sheds
from companion.remap.aim import Aim
from companion.remap.askable import check_askable
from companion.remap.errors import RemapError
from companion.remap.loom.levers import lever_changes
from companion.remap.loom.loom import Action, Loom, TieUp
from companion.remap.loom.question import Question, question
from companion.remap.pipeline import Pipeline
from companion.remap.proof import ProofFailedError, same_cloth, shafts_up
from companion.remap.remapped import OnAnswer, Remapping, Verdict
from companion.remap.search.answers import (
    OnProgress,
    ShouldStop,
    never_stop,
    tell_nobody,
)
from companion.remap.search.bounds import Bounds
from companion.remap.spare_treadles import leaves_plain_weave_out, ties_plain_weave_besides, with_plain_weave
from companion.remap.turned_over import told_of_the_back, turned_over


def remap(
    draft: Draft,
    loom: Loom,
    *,
    present: TieUp | None = None,
    aim: Aim | None = None,
    face_down: bool = False,
    thorough: bool = False,
    should_stop: ShouldStop = never_stop,
    progress: OnProgress = tell_nobody,
    so_far: OnAnswer | None = None,
    plain_weave: tuple[Shed, Shed] | None = None,
    planned: bool = True,
) -> Remapping:
    """Find how this loom weaves the draft; `present` is the tie-up now on it, where that is to be kept.

    `aim` says what the tie-up is chosen for; where nobody says, fewest cords with a present tie-up, else the feet.

    What the loom's weaver wishes of the feet is kept where an answer with it is found (see `FeetWish`). `plain_weave`
    are the sheds of tabby where the threading does not tell them. Whoever only asks whether it fits, and how few
    treadles would do, says so (`planned`) and waits for no plan of tying anew.

    With `face_down` the cloth lies with its face below, and sheds, tie-up and feet are those on the loom.
    Stops as soon as it can when `should_stop` says so, with what is known by then: a plan of tying anew at the least.
    Without that every part ends at the end of its budget; `thorough` gives every part all the time there is. `so_far`
    hears a first answer, just as true, where the last one takes longer. Raises RemapError for a loom that makes no
    sense (more than 20 treadles, a present tie-up larger than the loom), for a draft to be woven face down that has an
    end on no shaft, and for an aim that cannot be: fewest cords without a present tie-up, or the draft's own tie-up
    where it has none for this loom.
    """
    wanted = turned_over(draft) if face_down else draft
    if aim is None:
        aim = Aim.FEET if present is None else Aim.CORDS
    if aim is Aim.CORDS and present is None and loom.action is not Action.LEVERS:
        raise RemapError("fewest ties are counted from the tie-up now on the loom", mend="say it with --present")

    tabby = tabby_sheds(draft.threading) if plain_weave is None else plain_weave

    def told(found: Remapping) -> Remapping:
        answer = replace(found, aim=aim, tabby=tabby)
        if aim is Aim.FEET and present is None and not face_down and ties_plain_weave_besides(draft, tabby):
            # The weaver tied it for headings and hems.
            answer = with_plain_weave(draft, answer, None) or answer
        answer = replace(answer, plain_weave_left_out=leaves_plain_weave_out(draft, answer))
        return told_of_the_back(draft, answer) if face_down else answer

    def told_early(found: Remapping) -> None:
        if so_far is not None:
            so_far(told(found))

    early = None if so_far is None else told_early
    return told(_answer(wanted, loom, present, aim, tabby, thorough, should_stop, progress, early, planned))


def _answer(
    draft: Draft,
    loom: Loom,
    present: TieUp | None,
    aim: Aim,
    tabby: tuple[Shed, Shed] | None,
    thorough: bool,
    should_stop: ShouldStop,
    progress: OnProgress,
    so_far: OnAnswer | None,
    planned: bool,
) -> Remapping:
    check_askable(loom, present)
    used = {shaft + 1 for shaft in draft.threading if shaft is not None}
    missing = tuple(sorted(shaft for shaft in used if shaft > loom.shafts))
    if missing:
        sheds = distinct(draft.sheds_of_ends())
        return Remapping(loom, Verdict.TOO_FEW_SHAFTS, Bounds(0, None), sheds, missing_shafts=missing)
    asked = question(draft, loom, present, tabby)
    if loom.action is Action.LEVERS:
        return _levers(asked)
    if not asked.sheds:
        same = same_cloth(draft, shafts_up((), draft.shafts))
        return Remapping(loom, Verdict.FITS, Bounds(0, 0), (), proven_cloth=same)
    return Pipeline(asked, aim, thorough, should_stop, progress, so_far, planned=planned).answer()


def _levers(asked: Question) -> Remapping:
    if not same_cloth(asked.draft, shafts_up(asked.shed_of_pick, asked.draft.shafts)):
        raise ProofFailedError("the levers do not weave the draft")
    changes = lever_changes(asked.shed_of_pick)
    return Remapping(asked.loom, Verdict.FITS, Bounds(0, 0), asked.sheds, proven_cloth=True, levers=changes)
