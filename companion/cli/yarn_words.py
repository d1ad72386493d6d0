"""A yarn's size behind `--yarn`: the yarn's name, then its size as weavers say it: `sand 8/2 cotton`, `sea=60 tex`."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from companion.cli.status import CommandError
from companion.draft.model import Draft
from companion.weaving.errors import WeavingError
from companion.weaving.warp import YarnSize
from companion.weaving.yarn_written import YARN_SAMPLES, read_yarn


def yarn_size(words: str, drafts: Sequence[Draft]) -> YarnSize:
    """Return the size of one of the drafts' yarns; raises CommandError that says how to write it."""
    known = {" ".join(yarn.name.casefold().split()): yarn.name for draft in drafts for yarn in draft.yarns}
    why, unknown = "", ""
    for name, size in _splits(words):
        called = known.get(name.casefold())
        try:
            read = read_yarn(size)
            if called is not None:
                return YarnSize(called, read.tex, size)
            unknown = unknown or name
        except (ValueError, ArithmeticError, WeavingError) as error:
            why = str(error) if called is not None else why
    if unknown:
        raise CommandError(
            f"--yarn {words!r:.60}: no yarn is called {unknown!r:.40}; the draft has {', '.join(known.values())}"
        )
    why = why or f"write name, number and system, such as the name and {YARN_SAMPLES}"
    raise CommandError(f"--yarn {words!r:.60}: {why}")


def _splits(text: str) -> Iterator[tuple[str, str]]:
    """Yield every way to part a name from a size, the longest name first."""
    words = " ".join(text.split())
    if "=" in words:
        name, _, size = words.rpartition("=")
        yield name.strip(), size.strip()
    parts = words.split(" ")
    yield from ((" ".join(parts[:count]), " ".join(parts[count:])) for count in range(len(parts) - 1, 0, -1))
