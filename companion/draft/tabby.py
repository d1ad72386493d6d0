"""Whether a threading can weave plain weave, and on which shafts.

Neighbouring ends must always lie opposite, so the shafts fall into two groups with every pair of neighbours across the
two: there are such groups exactly when the graph that joins the shafts of neighbouring ends can be coloured with two
colours (D. König, Theorie der endlichen und unendlichen Graphen, 1936: no ring of odd length).
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from companion.draft.masks import Shed, shed_of


def tabby_sheds(threading: Sequence[int | None]) -> tuple[Shed, Shed] | None:
    """Return the two sheds of plain weave on this threading (shaft index per end), or None where there are none.

    `tabby_sheds([0, 1, 2, 3, 0])` is shafts 1 and 3, then 2 and 4; the shaft of the first end is in the first shed.
    Ends on no shaft beside all others, such as floating selvedges, are passed over; one among them always lies down,
    so there is no plain weave.
    """
    places = [place for place, shaft in enumerate(threading) if shaft is not None]
    threaded = [shaft for shaft in threading if shaft is not None]
    if len(threaded) < 2 or places[-1] - places[0] + 1 > len(places):
        return None
    neighbours: dict[int, set[int]] = {shaft: set() for shaft in threaded}
    for one, other in pairwise(threaded):
        neighbours[one].add(other)
        neighbours[other].add(one)
    # Every shaft hangs together with the first through its ends, so one walk reaches all of them.
    in_first = {threaded[0]: True}
    waiting = [threaded[0]]
    while waiting:
        shaft = waiting.pop()
        for neighbour in neighbours[shaft]:
            if neighbour not in in_first:
                in_first[neighbour] = not in_first[shaft]
                waiting.append(neighbour)
            elif in_first[neighbour] == in_first[shaft]:
                return None
    first, second = (shed_of(shaft + 1 for shaft, first in in_first.items() if first == side) for side in (True, False))
    return first, second
