"""Which sheds of a draft are alike: can be exchanged for each other by renaming shafts.

A straight twill is the same draft after every shaft has moved on by one. So what has been proved of one of its sheds
holds for all, and a proof is as many times shorter. The method is the usual one for graph isomorphism: colour targets
and pulls by what they meet, over and over, single out one more when that no longer helps, and check the renaming
found at the end. It gives up after a few tries, which costs speed and never truth.

Lemmas and proofs: assets/mathematics.md, "From above: savings".
"""

from __future__ import annotations

from collections.abc import Sequence

from companion.draft.masks import Shed, bits_of, is_raised, union

MOST_TRIES = 24
"""How many renamings are tried before two targets count as not alike."""

_Colours = tuple[int, ...]


class Symmetry:
    """The targets of one group, as a graph that joins every target to its pulls."""

    def __init__(self, targets: Sequence[int]) -> None:
        self._targets = tuple(targets)
        pulls = tuple(bits_of(union(Shed(target) for target in targets)))
        place = {pull: len(targets) + k for k, pull in enumerate(pulls)}
        self._meets: list[list[int]] = [[place[pull] for pull in bits_of(target)] for target in targets]
        for pull in pulls:
            self._meets.append([k for k, target in enumerate(targets) if is_raised(Shed(target), pull)])

    def orbit_of(self, target: int) -> list[int]:
        """Return the targets that a renaming of the pulls puts in the place of this one, itself among them.

        The whole orbit, or a part of it where too many renamings would have to be tried.
        """
        at = self._targets.index(target)
        start = self._refined(self._start(), at)
        return [
            other
            for k, other in enumerate(self._targets)
            if k == at or self._match(start, self._refined(self._start(), k), [MOST_TRIES])
        ]

    def _start(self) -> _Colours:
        return tuple(int(k < len(self._targets)) for k in range(len(self._meets)))

    def _refined(self, colours: _Colours, singled_out: int) -> _Colours:
        """Colour by what is met until that tells no more apart, after giving one place a colour of its own."""
        now = list(colours)
        now[singled_out] = len(now)
        number = 0
        while True:
            seen = [(now[k], tuple(sorted(now[other] for other in met))) for k, met in enumerate(self._meets)]
            names = {signature: name for name, signature in enumerate(sorted(set(seen)))}
            now = [names[signature] for signature in seen]
            if len(names) == number:
                return tuple(now)
            number = len(names)

    def _match(self, one: _Colours, other: _Colours, tries: list[int]) -> bool:
        if sorted(one) != sorted(other):
            return False
        shared = next((colour for colour in one if one.count(colour) > 1), None)
        if shared is None:
            to = {k: other.index(colour) for k, colour in enumerate(one)}
            return all({to[met] for met in self._meets[k]} == set(self._meets[to[k]]) for k in to)
        refined = self._refined(one, one.index(shared))
        for k, colour in enumerate(other):
            if colour == shared:
                tries[0] -= 1
                if tries[0] < 0:
                    return False
                if self._match(refined, self._refined(other, k), tries):
                    return True
        return False
