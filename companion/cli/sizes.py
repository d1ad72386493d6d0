"""Sizes that a weaver types, in the units of the option, and the one line for those that no loom has."""

from __future__ import annotations

import argparse

from companion.cli.status import CommandError

_LARGEST_SIZE = 100_000
"""Centimetres, or picks per cm: more is a slip of the hand."""
_MOST_PERCENT = 99
_PERCENTAGES = frozenset({"take_up", "shrinkage"})


def check_sizes(arguments: argparse.Namespace, *options: str) -> None:
    """Raise CommandError for a size among these options that is below 0 or beyond what any loom has."""
    for option in options:
        size = getattr(arguments, option)
        most = _MOST_PERCENT if option in _PERCENTAGES else _LARGEST_SIZE
        if size is not None and not 0 <= size <= most:
            raise CommandError(f"--{option.replace('_', '-')} {size:g}: give a number from 0 to {most:g}")
