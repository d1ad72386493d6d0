"""The drafts that ship with the program, and their floats and layers counted apart from the product's own ways.

Floats are counted by run lengths and layers by networkx; the cloth itself is checked against a double loop in
test_cloth.
"""

from __future__ import annotations

from itertools import groupby
from pathlib import Path

import networkx as nx
import numpy as np

from companion.draft.cloth import Surface, interlacement
from companion.draft.reading import read_with_deviations

FOLDER = Path(__file__).resolve().parents[2] / "assets" / "drafts"
NAMES = sorted(path.name for path in FOLDER.iterdir())


def draft_in(name):
    return read_with_deviations((FOLDER / name).read_bytes()).draft


def cloth_of(name):
    """The cloth of each section by its name (or of the whole as ""), picks x ends, 1 = warp up."""
    draft = draft_in(name)
    whole = interlacement(draft).astype(int)
    parts, first = {"": whole}, 0
    for section in draft.sections:
        parts[section.name] = whole[first : first + section.picks]
        first += section.picks
    return parts


def longest(lines, value):
    """The longest run of a value along any of the lines."""
    return max((len(list(run)) for line in lines for up, run in groupby(line) if up == value), default=0)


def floats(cloth):
    """The longest warp and weft floats on the face."""
    return longest(cloth.T, 1), longest(cloth, 0)


def layers(cloth):
    """How many sets of threads hang together: strongly connected parts of "upper thread to lower thread".

    The criterion: C. R. J. Clapham, Discrete Mathematics 57 (1985), 195-197 (cited from memory).
    """
    graph = nx.DiGraph()
    for (pick, end), up in np.ndenumerate(cloth):
        threads = (("end", end), ("pick", pick))
        graph.add_edge(*(threads if up else threads[::-1]))
    return nx.number_strongly_connected_components(graph)


def is_plain_weave(cloth):
    picks, ends = np.indices(cloth.shape)
    return bool((cloth == (picks + ends + cloth[0, 0]) % 2).all())


def colours(draft, surface):
    """The colour of the thread on top at each crossing: picks x ends x 3."""
    palette = np.array([yarn.colour for yarn in draft.yarns])
    on_top = interlacement(draft) == (surface is Surface.FACE)
    return np.where(on_top[:, :, None], palette[list(draft.warp)][None], palette[list(draft.weft)][:, None])
