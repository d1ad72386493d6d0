"""The file of looms: one JSON file that a person can read, read whole or not at all, and never overwritten unread.

Where it cannot be understood, `load_looms` says so, and nothing is changed. A change (`change_looms`) is made to the
file as it is at that moment, so that two programs do not undo each other's.
"""

from __future__ import annotations

import json
import time
import typing
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from pathlib import Path

from companion.journal.disk import write_whole
from companion.journal.errors import JournalError, JournalInUseError
from companion.journal.lock import WriterLock
from companion.journal.plain import PlainError, from_plain, to_plain
from companion.remap.errors import RemapError
from companion.remap.loom.feet_wish import FeetWish, FirstFoot, TabbyPlace
from companion.remap.loom.loom import Action, Loom
from companion.remap.loom.tieup_text import parse_tieup, print_tieup
from companion.weaving.warp import LoomProfile
from companion.workshop.looms import Looms, LoomsError, is_kept, with_loom

LONGEST_WAIT_S = 2.0
"""Another program holds the file for as long as reading and writing it takes."""


@dataclass(frozen=True, slots=True)
class KeptLoom:
    """A loom as the file has it; `present` is a tie-up in words such as `1 3, 2 4, -`."""

    name: str
    shafts: int
    treadles: int
    action: Action = Action.RISING
    reach: int = 1
    present: str | None = None
    width_cm: float | None = None
    waste_cm: float = 0.0
    heddles: tuple[int, ...] = ()
    tabby: TabbyPlace = TabbyPlace.WHEREVER
    first_foot: FirstFoot = FirstFoot.EITHER


_WRITTEN = {
    "name": '"floor loom"',
    "shafts": "4",
    "treadles": "6",
    "action": " or ".join(f'"{action.value}"' for action in Action),
    "reach": "1",
    "present": '"1 3, 2 4, -"',
    "width_cm": "90",
    "waste_cm": "60",
    "heddles": "[120, 120, 80, 80]",
    "tabby": " or ".join(f'"{place.value}"' for place in TabbyPlace),
    "first_foot": " or ".join(f'"{foot.value}"' for foot in FirstFoot),
}
"""What the file may say of a loom, and how it is written there."""
_NEEDED = ("name", "shafts", "treadles")


def load_looms(path: Path) -> Looms:
    """Return the looms kept at `path`, none where there is no file yet.

    Raises LoomsError that says what is wrong with the file and where.
    """
    try:
        text = path.read_text(encoding="utf-8")
    except FileNotFoundError:
        return ()
    except OSError as error:
        raise LoomsError(f"{path}: {error.strerror or error}; check its rights and the disk") from error
    except UnicodeDecodeError as error:
        raise _spoilt(path, "it is not text") from error
    try:
        document = json.loads(text)
    except (ValueError, RecursionError) as error:
        raise _spoilt(path, str(error)) from error
    if not isinstance(document, dict) or not isinstance(document.get("looms"), list):
        raise _spoilt(path, 'it has no list "looms"')
    looms: Looms = ()
    for number, plain in enumerate(document["looms"], 1):
        try:
            loom = _profile(_read(plain))
            if is_kept(looms, loom.name):
                raise LoomsError(f"a second loom is called {loom.name!r}")
            looms = with_loom(looms, loom)
        except (RemapError, LoomsError) as error:
            name = plain.get("name") if isinstance(plain, dict) else None
            called = f" ({name:.40})" if isinstance(name, str) and name.isprintable() else ""
            raise _spoilt(path, f"loom {number}{called}: {error}") from error
    return looms


def save_looms(path: Path, looms: Iterable[LoomProfile]) -> None:
    """Keep the looms at `path`, whole or not at all, on disk when this returns; raises LoomsError."""
    document = {"looms": [_written(loom) for loom in looms]}
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        write_whole(path, (json.dumps(document, indent=1, ensure_ascii=False) + "\n").encode())
    except OSError as error:
        raise LoomsError(f"{path}: {error.strerror or error}; check the rights and the room there") from error


def change_looms(path: Path, change: Callable[[Looms], Looms]) -> Looms:
    """Put what `change` makes of the looms kept at `path` in their place, and return it.

    No other program changes them between the reading and the writing. Raises LoomsError, and what `change` raises:
    nothing has changed then.
    """
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        lock = _locked(path)
    except OSError as error:
        raise LoomsError(f"{path}: {error.strerror or error}; check the rights and the room there") from error
    except JournalError as error:
        raise LoomsError(str(error)) from error
    try:
        before = load_looms(path)
        after = change(before)
        if after != before:
            save_looms(path, after)
        return after
    finally:
        lock.release()


def _locked(path: Path) -> WriterLock:
    until = time.monotonic() + LONGEST_WAIT_S
    while True:
        try:
            return WriterLock(path)
        except JournalInUseError as error:
            if time.monotonic() > until:
                raise LoomsError(f"{path}: another program is changing the looms; try again") from error
            time.sleep(0.01)


def _read(plain: object) -> KeptLoom:
    """Return the loom that the file writes so; raises LoomsError that names what is wrong and how it is written."""
    if not isinstance(plain, dict):
        raise LoomsError(
            f'{json.dumps(plain):.40} is no loom, such as {{"name": "floor loom", "shafts": 4, "treadles": 6}}'
        )
    for name in _NEEDED:
        if name not in plain:
            raise LoomsError(f'"{name}" is missing, such as "{name}": {_WRITTEN[name]}')
    hints, read = typing.get_type_hints(KeptLoom), {}
    for name, value in plain.items():
        if name not in _WRITTEN:
            raise LoomsError(f'"{name:.40}" says nothing of a loom; known are {", ".join(_WRITTEN)}')
        try:
            read[name] = from_plain(hints[name], value)
        except PlainError as error:
            raise LoomsError(f'"{name}" is {json.dumps(value):.40}, not such as {_WRITTEN[name]}') from error
    return KeptLoom(**read)


def _written(loom: LoomProfile) -> dict[str, object]:
    plain: dict[str, object] = to_plain(KeptLoom, _kept(loom))
    wish = loom.loom.wish
    untold = {
        "heddles": not loom.heddles,
        "tabby": wish.tabby is TabbyPlace.WHEREVER,
        "first_foot": wish.first_foot is FirstFoot.EITHER,
    }
    # Where nobody told them, an older program reads the file as before.
    return {key: value for key, value in plain.items() if not untold.get(key, False)}


def _kept(loom: LoomProfile) -> KeptLoom:
    present = None if loom.present is None else print_tieup(loom.present, loom.loom.action)
    return KeptLoom(
        loom.name,
        loom.loom.shafts,
        loom.loom.treadles,
        loom.loom.action,
        loom.loom.reach,
        present,
        loom.weaving_width_cm,
        loom.loom_waste_cm,
        loom.heddles,
        loom.loom.wish.tabby,
        loom.loom.wish.first_foot,
    )


def _profile(kept: KeptLoom) -> LoomProfile:
    present = None if kept.present is None else parse_tieup(kept.present, kept.action)
    wish = FeetWish(kept.tabby, kept.first_foot)
    loom = Loom(kept.shafts, kept.treadles, kept.action, kept.reach, wish)
    return LoomProfile(kept.name, loom, present, kept.width_cm, kept.waste_cm, kept.heddles)


def _spoilt(path: Path, why: str) -> LoomsError:
    return LoomsError(f"{path}: {why}; mend the file, or set it aside and add the looms again")
