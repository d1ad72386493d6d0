"""A warp, with the drafts of its pieces and its loom, to and from JSON."""

from __future__ import annotations

import json
from typing import Any, cast

from companion.journal.codec import dump
from companion.journal.plain import PlainError, from_plain, to_plain
from companion.weaving.warp import Warp


def encode_warp(warp: Warp) -> str:
    """Return the warp as one line of JSON; equal warps give equal text."""
    return dump(to_plain(Warp, warp))


def decode_warp(text: str) -> Warp:
    """Return the warp that `encode_warp` wrote; raises PlainError when the text is no warp or does not fit together."""
    try:
        return cast(Warp, from_plain(Warp, _as_now(json.loads(text))))
    except PlainError:
        raise
    except (ValueError, RecursionError) as error:
        raise PlainError(f"no warp: {error}") from error


def _as_now(plain: Any) -> Any:
    """Return a warp's plain values in today's form: at first the loom's width was that of the warp in the reed."""
    if isinstance(plain, dict) and "width_cm" not in plain and isinstance(plain.get("loom"), dict):
        return {**plain, "width_cm": plain["loom"].get("weaving_width_cm")}
    return plain
