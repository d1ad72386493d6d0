"""Does a cloth hang together? Two slow answers that share no code with the product.

`can_lift_off` tries every set of threads: the definition itself. `strong_parts` builds the bipartite tournament of
upper and lower threads and asks networkx for its strongly connected components (C. R. J. Clapham, "The bipartite
tournament associated with a fabric", Discrete Mathematics 57 (1985), 195-197). A cloth is a list of picks, each a
list of booleans, True = warp up.
"""

from __future__ import annotations

from itertools import product

import networkx as nx


def can_lift_off(cloth):
    """Whether some set of threads, neither none nor all, lies above every other thread that it crosses."""
    picks, ends = len(cloth), len(cloth[0])
    for chosen in product((False, True), repeat=picks + ends):
        if all(chosen) or not any(chosen):
            continue
        pick_in, end_in = chosen[:picks], chosen[picks:]
        if all(pick_in[p] == end_in[e] or end_in[e] == cloth[p][e] for p in range(picks) for e in range(ends)):
            return True
    return False


def strong_parts(cloth):
    """The strongly connected components, each as (set of picks, set of ends), and the arcs between the threads."""
    graph = nx.DiGraph()
    for p, row in enumerate(cloth):
        graph.add_node(("pick", p))
        for e, warp_up in enumerate(row):
            upper, lower = (("end", e), ("pick", p)) if warp_up else (("pick", p), ("end", e))
            graph.add_edge(upper, lower)
    return [
        (
            frozenset(index for kind, index in part if kind == "pick"),
            frozenset(index for kind, index in part if kind == "end"),
        )
        for part in nx.strongly_connected_components(graph)
    ]
