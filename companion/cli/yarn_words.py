"""A yarn's size as a person writes it: `sand 20 cotton 2-ply`, `sand 20/2 cotton` or `sand=2/20 worsted`.

The number is the count of one ply. Where number and plies stand around a stroke, both orders are usual in the trade,
the count first for cotton and linen, the plies first for worsted; the smaller number is taken for the plies.
"""

from __future__ import annotations

import re
from collections.abc import Sequence

from companion.cli.status import CommandError
from companion.draft.model import Draft
from companion.draft.units import CM_PER_INCH
from companion.weaving.warp import YarnSize
from companion.weaving.yarn import Count, tex_of, tex_of_wraps

_SYSTEMS = {
    "tex": Count.TEX,
    "dtex": Count.DTEX,
    "denier": Count.DENIER,
    "nm": Count.METRIC,
    "ne": Count.COTTON,
    "cotton": Count.COTTON,
    "worsted": Count.WORSTED,
    "linen": Count.LINEN_LEA,
    "lea": Count.LINEN_LEA,
    "run": Count.WOOLLEN_RUN,
}
_WEIGHTS = (Count.TEX, Count.DTEX, Count.DENIER)
"""Systems that weigh a length: their numbers are not written with a stroke."""
_WRAPS_PER_CM = {"wraps": 1.0, "wpi": 1 / CM_PER_INCH}
"""Wraps per cm or per inch: an estimate of the size, by how close threads of firm yarn lie."""
_LONG_NAMES = {"ne cotton": "cotton", "linen lea": "linen", "woollen run": "run", "wraps per cm": "wraps"}
_MOST_PLIES = 99
_WRITTEN = re.compile(
    r"(?P<name>.*\S)(?:\s*=\s*|\s+)(?P<number>[0-9.]+(?:e[+-]?[0-9]+)?)(?:/(?P<other>[0-9.]+))?\s*"
    rf"(?P<system>{'|'.join((*_LONG_NAMES, *_SYSTEMS, *_WRAPS_PER_CM))})(?:\s+(?P<plies>[0-9]{{1,2}})-ply)?",
    re.IGNORECASE,
)


def yarn_size(words: str, drafts: Sequence[Draft]) -> YarnSize:
    """Return the size of one of the drafts' yarns; raises CommandError that says how to write it."""
    written = _WRITTEN.fullmatch(words.strip())
    if written is None:
        raise _unreadable(words)
    name = " ".join(written["name"].split())
    known = {yarn.name.casefold(): yarn.name for draft in drafts for yarn in draft.yarns}
    if name.casefold() not in known:
        raise CommandError(
            f"--yarn {words!r:.60}: no yarn is called {name!r:.40}; the draft has {', '.join(known.values())}"
        )
    system = written["system"].lower()
    try:
        tex = _tex(written, _LONG_NAMES.get(system, system))
        return YarnSize(known[name.casefold()], tex, " ".join(written.string[written.start("number") :].split()))
    except (ValueError, ArithmeticError) as error:
        raise _unreadable(words) from error


def _tex(written: re.Match[str], system: str) -> float:
    number, plies = float(written["number"]), int(written["plies"] or 1)
    count = _SYSTEMS.get(system)
    if written["other"] is not None:
        if written["plies"] is not None or count is None or count in _WEIGHTS:
            raise ValueError("a stroke is for counts alone")
        few, many = sorted((number, float(written["other"])))
        if few != int(few):
            raise ValueError("plies are whole")
        number, plies = many, int(few)
    if not 1 <= plies <= _MOST_PLIES:
        raise ValueError("no yarn has so many plies")
    return tex_of_wraps(number * _WRAPS_PER_CM[system]) * plies if count is None else tex_of(number, count, plies)


def _unreadable(words: str) -> CommandError:
    systems = ", ".join(("tex", "dtex", "denier", "Nm", "cotton", "worsted", "linen", "run", *_WRAPS_PER_CM))
    return CommandError(
        f'--yarn {words!r:.60}: write name, number and system ({systems}), such as "sand 20 cotton 2-ply"'
    )
