"""Floats by walking along every thread, crossing by crossing; shares no code with the product."""

from __future__ import annotations


def floats_along(thread):
    """Yield (value, first crossing, length) for each run of equal values in a list."""
    first = 0
    for at in range(1, len(thread) + 1):
        if at == len(thread) or thread[at] != thread[first]:
            yield thread[first], first, at - first
            first = at


def longest(cloth):
    """Map (threads, surface) to (length, every place as (thread, first)); `cloth` is rows, True = warp up."""
    ends = [list(column) for column in zip(*cloth, strict=True)] if cloth else []
    answer = {}
    for threads, lines, up_on_face in (("warp", ends, True), ("weft", cloth, False)):
        for surface in ("face", "back"):
            wanted = up_on_face == (surface == "face")
            found = [
                (length, thread, first)
                for thread, line in enumerate(lines)
                for value, first, length in floats_along(line)
                if value == wanted
            ]
            top = max((length for length, _, _ in found), default=0)
            answer[threads, surface] = (top, [(thread, first) for length, thread, first in found if length == top])
    return answer
