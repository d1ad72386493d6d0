"""Which options were given beside what stands in the settings, and which of them have no say here."""

from __future__ import annotations

import argparse
from collections.abc import Iterator

OF_THE_SETTINGS = ("units", "facing", "wish", "trade", "over_under")
"""What every command is told of the weaver's settings, under these names in settings and arguments alike."""


def options_given(arguments: argparse.Namespace, *free: str) -> Iterator[str]:
    """Yield each option (`take_up`) that was given, but those that are `free` and what stands in the settings."""
    for option, value in vars(arguments).items():
        if option not in (*free, *OF_THE_SETTINGS) and value is not None:
            yield option
