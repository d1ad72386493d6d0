"""What files and folders are called on buttons: short, and never two alike."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from pathlib import PurePath

from companion.present.start import MenuItem

UP = "Up"
HOME = "Home"
ALL_STICKS = "Sticks"
ON_THIS_DEVICE = "on this device"


def one_stick_words(name: str) -> str:
    """Return what the only stick in the device is called on a button."""
    return f"Stick {name}"


def draft_choices(paths: Sequence[PurePath], home: PurePath, shipped: PurePath) -> tuple[MenuItem, ...]:
    """Return a choice for each draft file, in their order, told apart by their words: `towel`, or `towel.txt`."""
    words = told_apart(paths)
    return tuple(
        MenuItem(str(path), word, place_words(path.parent, home, shipped))
        for path, word in zip(paths, words, strict=True)
    )


def told_apart(paths: Sequence[PurePath]) -> tuple[str, ...]:
    """Return what each file is called: its stem, with its ending or its folder too where another is called so."""
    words = [path.stem.replace("-", " ") for path in paths]
    for longer in (
        [path.name for path in paths],
        [f"{path.name} in {path.parent.name}" for path in paths],
        [str(path) for path in paths],
    ):
        met = Counter(word.casefold() for word in words)
        words = [fuller if met[word.casefold()] > 1 else word for word, fuller in zip(words, longer, strict=True)]
    return tuple(words)


def place_words(folder: PurePath, home: PurePath, shipped: PurePath) -> str:
    """Return where a file lies, as a weaver says it: `Documents/towels`, `stick BLUE`, `comes with Fellside`."""
    if folder == shipped:
        return "comes with Fellside"
    if folder == home:
        return HOME
    if folder.is_relative_to(home):
        return str(folder.relative_to(home))
    for mounts in ("/run/media", "/media"):
        if folder.is_relative_to(mounts):
            inside = folder.relative_to(mounts).parts[1:]
            return "stick " + "/".join(inside) if inside else "stick"
    return str(folder)
