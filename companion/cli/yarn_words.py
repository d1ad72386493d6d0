"""A yarn's size as a person writes it: `sand 20 cotton 2-ply`, where 20 is the count of one ply."""

from __future__ import annotations

from companion.cli.status import CommandError
from companion.draft.model import Draft
from companion.weaving.warp import YarnSize
from companion.weaving.yarn import Count, tex_of, tex_of_wraps

_SYSTEMS = {
    "tex": Count.TEX,
    "dtex": Count.DTEX,
    "denier": Count.DENIER,
    "nm": Count.METRIC,
    "cotton": Count.COTTON,
    "worsted": Count.WORSTED,
    "linen": Count.LINEN_LEA,
    "run": Count.WOOLLEN_RUN,
}
_WRAPS = "wraps"
"""Wraps per cm: an estimate of the size, by how close threads of firm yarn lie."""


def yarn_size(words: str, draft: Draft) -> YarnSize:
    """Return the size of one of the draft's yarns; raises CommandError that says how to write it."""
    parts = words.split()
    plies = 1
    if parts and parts[-1].endswith("-ply"):
        plies = _whole(parts.pop()[: -len("-ply")], words)
    if len(parts) < 3 or parts[-1].lower() not in (*_SYSTEMS, _WRAPS):
        raise _unreadable(words)
    system, name = parts[-1].lower(), " ".join(parts[:-2])
    known = {yarn.name.casefold(): yarn.name for yarn in draft.yarns}
    if name.casefold() not in known:
        raise CommandError(
            f"--yarn {words!r:.60}: no yarn is called {name!r:.40}; the draft has {', '.join(known.values())}"
        )
    try:
        number = float(parts[-2])
        tex = tex_of_wraps(number) * plies if system == _WRAPS else tex_of(number, _SYSTEMS[system], plies)
        return YarnSize(known[name.casefold()], tex)
    except (ValueError, ArithmeticError) as error:
        raise _unreadable(words) from error


def _whole(text: str, words: str) -> int:
    if not (text.isascii() and text.isdigit() and 1 <= int(text[:4]) <= 99 and len(text) <= 4):
        raise _unreadable(words)
    return int(text)


def _unreadable(words: str) -> CommandError:
    systems = ", ".join((*_SYSTEMS, _WRAPS))
    return CommandError(
        f'--yarn {words!r:.60}: write name, number and system ({systems}), such as "sand 20 cotton 2-ply"'
    )
