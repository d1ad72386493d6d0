"""A wish for the feet, said of one treadling: which of its targets are tabby, and which one the first foot opens.

Lemmas and proofs: assets/mathematics.md, "Feet first".
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from companion.remap.loom.feet_wish import ANY_FEET, FeetWish, FirstFoot, TabbyPlace
from companion.remap.loom.pressing import Run
from companion.remap.loom.targets import Target

_OTHER_SIDE = {TabbyPlace.LEFT: TabbyPlace.RIGHT, TabbyPlace.RIGHT: TabbyPlace.LEFT}
_OTHER_FOOT = {FirstFoot.LEFT: FirstFoot.RIGHT, FirstFoot.RIGHT: FirstFoot.LEFT}


@dataclass(frozen=True, slots=True)
class WishedFeet:
    """A wish where it asks for something: `tabby` are the numbers of the two targets, `first` is that of the first one.

    Targets are numbered by first use. `tabby` is None where it may lie wherever, or there is no pattern beside it.
    """

    tabby: tuple[int, int] | None = None
    place: TabbyPlace = TabbyPlace.WHEREVER
    first: int | None = None
    foot: FirstFoot = FirstFoot.EITHER

    @property
    def anything(self) -> bool:
        """Whether anything is wished for."""
        return self.tabby is not None or self.first is not None

    def mirrored(self) -> WishedFeet:
        """Return what is wished of a row that is turned round, feet exchanged."""
        return replace(self, place=_OTHER_SIDE.get(self.place, self.place), foot=_OTHER_FOOT.get(self.foot, self.foot))

    def kept(self, stand: Sequence[tuple[Run, Run]]) -> bool:
        """Tell whether these treadles under the left and the right foot, for each target, are as wished."""
        return self.first_kept(stand) and self.tabby_kept(stand)

    def first_kept(self, stand: Sequence[tuple[Run, Run]]) -> bool:
        """Tell whether the foot that is to start presses at the first pick."""
        return self.first is None or bool(stand[self.first][self.foot is FirstFoot.RIGHT])

    def tabby_kept(self, stand: Sequence[tuple[Run, Run]]) -> bool:
        """Tell whether tabby has a treadle for each of its sheds, at the end of those in use that it is to have."""
        if self.tabby is None:
            return True
        (one, other), (next_one, next_other) = stand[self.tabby[0]], stand[self.tabby[1]]
        used = sorted({treadle for left, right in stand for treadle in (*left, *right)})
        match self.place:
            case TabbyPlace.LEFT:
                return not other and not next_other and {one, next_one} == {(used[0],), (used[1],)}
            case TabbyPlace.RIGHT:
                return not one and not next_one and {other, next_other} == {(used[-1],), (used[-2],)}
            case _:
                feet = {(one, other), (next_one, next_other)}
                return feet == {((used[0],), ()), ((), (used[-1],))}

    def less(self) -> Iterator[WishedFeet]:
        """Yield this wish, then what is left of it where it cannot be: tabby first, the first foot, nothing."""
        yield self
        if self.tabby is not None and self.first is not None:
            yield replace(self, first=None, foot=FirstFoot.EITHER)
            yield replace(self, tabby=None, place=TabbyPlace.WHEREVER)
        if self.anything:
            yield AS_IT_COMES


AS_IT_COMES = WishedFeet()


def wished_feet(
    wish: FeetWish, tabby: tuple[Target, Target] | None, treadling: Sequence[Target], *, begins: bool = True
) -> WishedFeet:
    """Return what is wished of these picks; `tabby` are the targets of plain weave; weaving `begins` with them."""
    if wish == ANY_FEET:
        return AS_IT_COMES
    number = {target: k for k, target in enumerate(dict.fromkeys(treadling))}
    pattern = [target for target in number if target and (tabby is None or target not in tabby)]
    wished = AS_IT_COMES
    if wish.tabby is not TabbyPlace.WHEREVER and tabby is not None and pattern and {*tabby} <= number.keys():
        one, other = sorted(number[target] for target in tabby)
        wished = replace(wished, tabby=(one, other), place=wish.tabby)
    first = next((k for target, k in number.items() if target), None)
    if wish.first_foot is not FirstFoot.EITHER and begins and first is not None:
        wished = replace(wished, first=first, foot=wish.first_foot)
    return wished
