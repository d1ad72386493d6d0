"""The names of yarns as shorthand writes them: each its own, and in quotation marks where it needs them."""

from __future__ import annotations

import re
from collections.abc import Iterable

from companion.draft.model import Yarn
from companion.draft.wif_text import one_line

_RESERVED = {"point", "reversed", "and", "back", "with", "use", "tabby", "as", "drawn", "in"}
_PLAIN_NAME = re.compile(r"(?![xX×]\s*[0-9])[^\W\d_][\w']*")


def printed_names(yarns: Iterable[Yarn]) -> list[str]:
    """Return the yarns' names, in quotation marks where they could be read as something else: `sand`, `"sea 2"`.

    Two yarns of one name are told apart by a number behind it.
    """
    names: dict[str, None] = {}
    for yarn in yarns:
        base = name = one_line(yarn.name)
        number = 2
        while name in names:
            name, number = f"{base} {number}".strip(), number + 1
        names[name] = None
    return [name if _PLAIN_NAME.fullmatch(name) and name.lower() not in _RESERVED else quoted(name) for name in names]


def quoted(name: str) -> str:
    """Return a name in quotation marks, those within it doubled."""
    return '"' + name.replace('"', '""') + '"'
