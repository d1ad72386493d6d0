"""Where the program's own files are: beside the code in a checkout, inside the package once installed."""

from __future__ import annotations

from pathlib import Path

_SHORTHAND_SIGN = b"threading:"
"""The one word that every draft in shorthand has; other texts are no drafts."""
_LOOKED_AT_BYTES = 8192
_MOST_DRAFTS = 60
_PACKAGE = Path(__file__).resolve().parent


def asset(name: str) -> Path:
    """Return the path of a file that ships with the program: `asset("drafts/demo.wif")`."""
    installed = _PACKAGE / "assets"
    return (installed if installed.is_dir() else _PACKAGE.parent / "assets") / name


def drafts_to_choose_from(home: Path) -> tuple[Path, ...]:
    """Return the draft files where weavers keep them, newest first, then those that ship with the program.

    Looks into Documents, Downloads, Drafts and USB sticks, and one folder deep.
    """
    folders = [home / name for name in ("Documents", "Downloads", "Drafts")]
    for mounts in (Path("/media"), Path("/run/media")):
        folders += [stick for stick in mounts.glob("*/*") if stick.is_dir()]
    own = {path for folder in folders for pattern in ("*", "*/*") for path in _drafts_in(folder, pattern)}
    newest = sorted(own, key=_changed, reverse=True)[:_MOST_DRAFTS]
    return (*newest, *sorted(_drafts_in(asset("drafts"), "*")))


def _drafts_in(folder: Path, pattern: str) -> list[Path]:
    try:
        return [path for path in folder.glob(pattern) if path.is_file() and _looks_like_a_draft(path)]
    except OSError:
        # A folder that may not be read has no drafts for this weaver.
        return []


def _looks_like_a_draft(path: Path) -> bool:
    if path.suffix.lower() != ".txt":
        return path.suffix.lower() == ".wif"
    with path.open("rb") as file:
        return _SHORTHAND_SIGN in file.read(_LOOKED_AT_BYTES).lower()


def _changed(path: Path) -> float:
    try:
        return path.stat().st_mtime
    except OSError:
        return 0.0
