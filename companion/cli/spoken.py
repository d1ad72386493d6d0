"""The terminal's own lines in the words of the settings, as the window has them: spelling, harness, mistake.

Names stay as the weaver wrote them, and so does whatever is typed: options, files, and words in quotation marks.
"""

from __future__ import annotations

import re
from collections.abc import Iterable

from companion.present.trade_words import Trade, in_trade_words

_TYPED = re.compile(
    r"--[\w-]+(?: [\w-]+)?"  # an option, and what it takes
    r"|(?<!\w)'[^']*'(?!\w)|\"[^\"]*\""
    r"|\S*/\S*|\S+\.(?:wif|txt|html|csv|pdf|json)\b"
)


def spoken(line: str, trade: Trade, own: Iterable[str] = ()) -> str:
    """Return a line in the words of a trade; `own` are names of the weaver's own that may stand in it."""
    return in_trade_words(line, trade, (*own, *_TYPED.findall(line)))


def tell(lines: Iterable[str], trade: Trade, own: Iterable[str] = ()) -> None:
    """Print lines in the words of a trade, each at once."""
    names = tuple(own)
    print("\n".join(spoken(line, trade, names) for line in lines), flush=True)
