"""The answer of `fellside remap --json`: one document, numbers from 1, keys that stay."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

from companion.draft.masks import shafts_of
from companion.draft.model import Draft
from companion.remap.feet.tied_stage import Footwork, ShedFeet, TiedStage
from companion.remap.feet_kept import all_kept
from companion.remap.loom.cords import CordChange
from companion.remap.loom.loom import Action, Footing, Tie
from companion.remap.remapped import Alternative, Remapping, Verdict
from companion.remap.spare_treadles import free_treadles, plain_weave_held


def document(draft: Draft, answer: Remapping) -> dict[str, object]:
    """Return the document; where no one tie-up does, each stage has its own and the feet of `sheds` stand there."""
    loom = answer.loom
    one = answer.stages[0] if answer.verdict is Verdict.FITS and answer.stages else None
    return {
        "draft": {
            "shafts": draft.shafts,
            "treadles": draft.treadles,
            "picks": draft.picks,
            "ends": draft.ends,
            "sheds": len(set(draft.sheds_of_ends())),
        },
        "loom": {
            "shafts": loom.shafts,
            "treadles": loom.treadles,
            "action": loom.action.value,
            "reach": loom.reach,
        },
        "outcome": answer.verdict.value,
        "fewest": {
            "treadles": answer.fewest.best,
            "proven": answer.fewest.proven,
            "at_least": answer.fewest.at_least,
        },
        "tieup": [_tie(tie, loom.action) for tie in one.tieup] if one else [],
        "sheds": [_shed(feet) for feet in one.sheds] if one else _sheds_without_feet(draft, answer),
        "picks": _lifts(draft) if answer.levers else _picks(answer.footings),
        "cloth_identical": answer.proven_cloth,
        "stages": [_stage(stage, loom.action) for stage in answer.stages] if one is None else [],
        "cords_in_all": answer.cords_in_all if one is None and answer.stages else None,
        "fewest_cords_in_all": answer.fewest_cords_in_all,
        "fewest_stages": answer.fewest_stages,
        "alternatives": [_alternative(other) for other in answer.alternatives],
        "conflict": None
        if answer.conflict is None
        else {
            "sheds": [list(shafts_of(shed)) for shed in answer.conflict.sheds],
            "irreducible": answer.conflict.irreducible,
        },
        "cords": None if one is None or one.changes is None else _cords(one),
        "aim": answer.aim.value,
        "wish": {
            "tabby": loom.wish.tabby.value,
            "first_foot": loom.wish.first_foot.value,
            "kept": all_kept(answer),
        },
        "footwork": None if one is None or one.footwork is None else footwork_document(one.footwork),
        "levers": [
            {"pick": pick, "raise": list(shafts_of(change.raise_)), "lower": list(shafts_of(change.lower))}
            for pick, change in enumerate(answer.levers, 1)
        ],
        "spare_treadles": _numbers(free_treadles(answer)),
        "plain_weave": {
            "held_by": _numbers(plain_weave_held(answer)),
            "left_out": answer.plain_weave_left_out,
        },
        "missing_shafts": list(answer.missing_shafts),
        "shafts_without_ends": list(shafts_of(draft.empty_shafts())),
    }


def _numbers(treadles: Sequence[int]) -> list[int]:
    return [treadle + 1 for treadle in treadles]


def _tie(tie: Tie, action: Action) -> object:
    if action is Action.COUNTERMARCHE:
        return {"up": list(shafts_of(tie.up)), "down": list(shafts_of(tie.down))}
    return list(shafts_of(tie.down if action is Action.SINKING else tie.up))


def _shed(feet: ShedFeet) -> dict[str, object]:
    return {
        "shafts": list(shafts_of(feet.shed)),
        "left": _numbers(feet.footing.left),
        "right": _numbers(feet.footing.right),
        "picks": feet.picks,
    }


def _sheds_without_feet(draft: Draft, answer: Remapping) -> list[dict[str, object]]:
    often = Counter(draft.sheds_of_ends())
    return [
        {"shafts": list(shafts_of(shed)), "left": [], "right": [], "picks": often[shed]}
        for shed in often
        if answer.sheds
    ]


def _picks(footings: Sequence[Footing]) -> list[dict[str, object]]:
    return [
        {"pick": pick, "left": _numbers(footing.left), "right": _numbers(footing.right)}
        for pick, footing in enumerate(footings, 1)
    ]


def _lifts(draft: Draft) -> list[dict[str, object]]:
    """Return the shafts that the levers hold up at each pick: no foot presses anything."""
    return [
        {"pick": pick, "left": [], "right": [], "shafts": list(shafts_of(shed))}
        for pick, shed in enumerate(draft.sheds_of_ends(), 1)
    ]


def _stage(stage: TiedStage, action: Action) -> dict[str, object]:
    return {
        "first": stage.first + 1,
        "last": stage.last + 1,
        "tieup": [_tie(tie, action) for tie in stage.tieup],
        "sheds": [_shed(feet) for feet in stage.sheds],
        # No stop comes before the first stage: without a present tie-up nothing is changed there, all is tied.
        "cords_changed": stage.cords_changed or 0,
        "changes": [_change(change) for change in stage.changes or ()],
        "at_section_end": stage.at_section_end,
    }


def _cords(stage: TiedStage) -> dict[str, object]:
    return {
        "changed": stage.cords_changed,
        "proven": stage.fewest_cords,
        "changes": [_change(change) for change in stage.changes or ()],
    }


def _change(change: CordChange) -> dict[str, object]:
    return {
        "treadle": change.treadle + 1,
        "untie": {"up": list(shafts_of(change.untie_up)), "down": list(shafts_of(change.untie_down))},
        "tie": {"up": list(shafts_of(change.tie_up)), "down": list(shafts_of(change.tie_down))},
    }


def footwork_document(footwork: Footwork) -> dict[str, object]:
    """Return what the feet pay, as `remap --json` has it."""
    return {
        "cost": footwork.cost,
        "at_least": footwork.at_least,
        "proven": footwork.proven,
        "both_feet_picks": footwork.both_feet_picks,
        "travel_widths": footwork.travel_widths,
        "draft_cost": footwork.draft_cost,
    }


def _alternative(other: Alternative) -> dict[str, object]:
    return {
        "what": other.what,
        "treadles": other.fewest.best,
        "proven": other.fewest.proven,
        "at_least": other.fewest.at_least,
        "fits": other.fits,
        "action": other.loom.action.value,
        "reach": other.loom.reach,
        "face_down": other.face_down,
    }
