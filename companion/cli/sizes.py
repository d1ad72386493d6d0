"""Sizes that a weaver types, in the units of the option, and the one line for those that no loom has."""

from __future__ import annotations

import argparse

from companion.cli.status import CommandError

_LARGEST_SIZE = 100_000
"""Centimetres, or picks per cm: more is a slip of the hand."""
_MOST_PERCENT = 99
_PERCENTAGES = frozenset({"take_up", "shrinkage"})


def option_of(name: str) -> str:
    """Return how an option is typed: `--take-up`."""
    return f"--{name.replace('_', '-')}"


def check_sizes(arguments: argparse.Namespace, *options: str) -> None:
    """Raise CommandError for a size among these options that is below 0 or beyond what any loom has."""
    for option in options:
        size = getattr(arguments, option)
        most = _MOST_PERCENT if option in _PERCENTAGES else _LARGEST_SIZE
        if size is not None and not 0 <= size <= most:
            raise CommandError(f"{option_of(option)} {size:g}: give a number from 0 to {most:g}")


def one_for_each(arguments: argparse.Namespace, option: str, pieces: int) -> tuple[float | None, ...]:
    """Return the sizes of an option, one for each of so many pieces (or gaps between them); None where nothing is said.

    `5` is for all of them, `5,0,` one for each, the last unsaid. Raises CommandError.
    """
    text: str | None = getattr(arguments, option)
    if text is None:
        return (None,) * pieces
    words = [word.strip() for word in text.split(",")]
    if len(words) == 1:
        return (_size(words[0], option),) * pieces
    sizes = tuple(_size(word, option) if word else None for word in words)
    if len(sizes) != pieces:
        raise CommandError(
            f"{option_of(option)} {text}: {len(sizes)} numbers where {pieces} would be one for each; "
            "give so many, or one for all, with a point before decimals"
        )
    return sizes


def _size(word: str, option: str) -> float:
    try:
        size = float(word)
    except ValueError:
        size = -1.0
    if not 0 <= size <= _LARGEST_SIZE:
        raise CommandError(f"{option_of(option)} {word:.40}: give a number from 0 to {_LARGEST_SIZE:g}")
    return size
