"""Where the program's own files are: beside the code in a checkout, inside the package once installed."""

from __future__ import annotations

from pathlib import Path

_PACKAGE = Path(__file__).resolve().parent


def asset(name: str) -> Path:
    """Return the path of a file that ships with the program: `asset("drafts/demo.wif")`."""
    installed = _PACKAGE / "assets"
    return (installed if installed.is_dir() else _PACKAGE.parent / "assets") / name
