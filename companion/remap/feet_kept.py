"""Which wishes for the feet an answer keeps."""

from __future__ import annotations

from companion.draft.masks import common, union
from companion.remap.loom.feet_wish import FeetWish, FirstFoot, TabbyPlace
from companion.remap.loom.targets import Column, Target
from companion.remap.loom.wished import wished_feet
from companion.remap.remapped import Remapping


def not_kept(answer: Remapping) -> FeetWish:
    """Return what of the loom's wish some stage does not keep; nothing that the draft does not ask for counts.

    Where tabby is woven by itself, or one of its sheds only, it may lie wherever.
    """
    wish, tabby = answer.loom.wish, answer.tabby
    missing = FeetWish()
    for stage in answer.stages:
        threaded = union(tabby or ())
        pressed = {feet.shed: feet.footing for feet in stage.sheds}
        sheds = {shed: Target(Column(common(shed, threaded) if tabby else shed)) for shed in pressed}
        resting = {sheds[shed] for shed, footing in pressed.items() if not (footing.left or footing.right)}
        # A shed that opens by itself is no pattern to be walked.
        woven = tuple(Target(Column(0)) if target in resting else target for target in sheds.values())
        both = None if tabby is None else (Target(Column(tabby[0])), Target(Column(tabby[1])))
        wished = wished_feet(wish, both, woven, begins=stage is answer.stages[0])
        stand = [(footing.left, footing.right) for footing in pressed.values()]
        if not wished.tabby_kept(stand):
            missing = FeetWish(wish.tabby, missing.first_foot)
        if not wished.first_kept(stand):
            missing = FeetWish(missing.tabby, wish.first_foot)
    return missing


def all_kept(answer: Remapping) -> bool:
    """Tell whether nothing that was wished for is missing."""
    return not_kept(answer) == FeetWish(TabbyPlace.WHEREVER, FirstFoot.EITHER)
