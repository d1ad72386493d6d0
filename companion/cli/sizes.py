"""Sizes that a weaver types, with their unit or in that of the option, and the one line for those that no loom has."""

from __future__ import annotations

import argparse
from collections.abc import Callable

from companion.cli.status import CommandError
from companion.draft.written import length_sign, read_density, read_length

_LARGEST_SIZE = 100_000
"""Centimetres, or picks per cm: more is a slip of the hand."""
_MOST_PERCENT = 99
_PERCENTAGES = frozenset({"take_up", "shrinkage"})
OPTION_UNIT = "cm"
"""The unit of a number alone behind an option that is named or was always read so."""


def length(text: str) -> float:
    """Return a length in cm, for argparse: `18 in`, `4.5yd`, `60 cm`, or `60`, which is centimetres.

    Raises ArgumentTypeError. Numbers that no length has come through, for `check_sizes` to tell.
    """
    try:
        alone = _number_alone(text)
        return read_length(text, OPTION_UNIT) if alone is None else alone
    except ValueError as error:
        raise argparse.ArgumentTypeError(str(error)) from error


def share(text: str) -> float:
    """Return a share in percent, for argparse: `10`, `10%`, `10 percent`; raises ArgumentTypeError."""
    number = _number_alone(text.strip().removesuffix("%").removesuffix("percent"))
    if number is None:
        raise argparse.ArgumentTypeError(f"{text.strip()[:40]!r} is no share; write such as 10 or 10%")
    return number


def _number_alone(text: str) -> float | None:
    try:
        return float(text)
    except ValueError:
        return None


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


def lengths_for_each(arguments: argparse.Namespace, option: str, pieces: int) -> tuple[float | None, ...]:
    """Return the lengths (cm) of an option, one for each of so many pieces (or gaps between them).

    None where nothing is said: `5 in` is for all of them, `5,0,` one for each, the last unsaid. Raises CommandError.
    """
    return _one_for_each(arguments, option, pieces, lambda word: read_length(word, OPTION_UNIT))


def picks_for_each(arguments: argparse.Namespace, pieces: int) -> tuple[float | None, ...]:
    """Return the picks per cm of each piece, from `--picks-per-cm`, or `--picks` in the weaver's units.

    Raises CommandError.
    """
    if arguments.picks is None:
        return _one_for_each(arguments, "picks_per_cm", pieces, lambda word: read_density(word, OPTION_UNIT))
    if arguments.picks_per_cm is not None:
        raise CommandError("--picks and --picks-per-cm say the same; leave one of them out")
    bare = length_sign(arguments.units)
    return _one_for_each(arguments, "picks", pieces, lambda word: read_density(word, bare))


def _one_for_each(
    arguments: argparse.Namespace, option: str, pieces: int, read: Callable[[str], float]
) -> tuple[float | None, ...]:
    text: str | None = getattr(arguments, option)
    if text is None:
        return (None,) * pieces
    words = [word.strip() for word in text.split(",")]
    if len(words) == 1:
        return (_size(words[0], option, read),) * pieces
    sizes = tuple(_size(word, option, read) if word else None for word in words)
    if len(sizes) != pieces:
        raise CommandError(
            f"{option_of(option)} {text}: {len(sizes)} numbers where {pieces} would be one for each; "
            "give so many, or one for all, with a point before decimals"
        )
    return sizes


def _size(word: str, option: str, read: Callable[[str], float]) -> float:
    try:
        size = read(word)
    except ValueError as error:
        raise CommandError(
            f"{option_of(option)} {word:.40}: give a number from 0 to {_LARGEST_SIZE:g}; {error}"
        ) from error
    if not 0 <= size <= _LARGEST_SIZE:
        raise CommandError(f"{option_of(option)} {word:.40}: give a number from 0 to {_LARGEST_SIZE:g}")
    return size
