"""The looms that this weaver owns, kept in one JSON file that a person can read: what each is, and how it is tied now.

The file is never overwritten unread: where it cannot be understood, `load_looms` says so, and nothing is changed. A
change (`change_looms`) is made to the file as it is at that moment, so that two programs do not undo each other's.
"""

from __future__ import annotations

import json
import math
import time
import typing
import unicodedata
from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from itertools import zip_longest
from pathlib import Path

from companion.draft.masks import Shed, every_shaft, union, without
from companion.draft.model import MOST_SHAFTS, MOST_THREADS
from companion.draft.units import Units, length_words
from companion.journal.disk import write_whole
from companion.journal.errors import JournalError, JournalInUseError
from companion.journal.lock import WriterLock
from companion.journal.plain import PlainError, from_plain, to_plain
from companion.remap.askable import check_askable
from companion.remap.errors import RemapError
from companion.remap.loom.feet_wish import FeetWish, FirstFoot, TabbyPlace
from companion.remap.loom.loom import Action, Loom, Tie, TieUp
from companion.remap.loom.tieup_text import parse_tieup, print_tieup
from companion.weaving.warp import NO_NAME, LoomProfile

UNNAMED_LOOM = LoomProfile(NO_NAME, Loom(1, 1))
"""What is reckoned with where no loom is chosen: it has no waste, and its width is not known."""
LONGEST_NAME = 80
"""Characters in a loom's name."""
LONGEST_CM = 100_000.0
AS_KEPT = Units.METRIC
"""What the file of looms has its lengths in, and what is said of it when one makes no sense."""
"""No loom is wider, none wastes more: a slip of the hand."""
ALL_SHAFTS = every_shaft(MOST_SHAFTS)
LONGEST_WAIT_S = 2.0
"""Another program holds the file for as long as reading and writing it takes."""

Looms = tuple[LoomProfile, ...]
"""Looms by name, sorted without regard to capitals."""


class LoomsError(ValueError):
    """A loom that cannot be, is not known, or a file of looms that cannot be used: one clear line."""


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
            if _at(looms, loom.name) is not None:
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


def loom_named(looms: Looms, name: str) -> LoomProfile:
    """Return the loom of this name, capitals apart; raises LoomsError that names the looms there are."""
    at = _at(looms, name)
    if at is None:
        known = ", ".join(loom.name for loom in looms) or "none yet"
        raise LoomsError(f"no loom is called {name!r:.60}; the looms here are: {known}")
    return looms[at]


def with_loom(looms: Looms, loom: LoomProfile) -> Looms:
    """Return the looms with this one, in the place of one of its name; raises LoomsError where it cannot be."""
    loom = checked(loom)
    others = [other for other in looms if _key(other.name) != _key(loom.name)]
    return tuple(sorted([*others, loom], key=lambda other: _key(other.name)))


def with_loom_kept(looms: Looms, loom: LoomProfile, was: str) -> Looms:
    """Return the looms with this one, which was called `was` before (empty for a new one).

    Raises LoomsError where another loom is called as this one is.
    """
    others = without_loom(looms, was) if was else looms
    if any(same_loom(other.name, loom.name) for other in others):
        raise LoomsError(f"another loom is called {loom.name!r}; give this one another name")
    return with_loom(others, loom)


def without_loom(looms: Looms, name: str) -> Looms:
    """Return the looms without the one of this name; raises LoomsError where it is not among them."""
    gone = loom_named(looms, name)
    return tuple(loom for loom in looms if loom is not gone)


def tied_now(looms: Looms, name: str, tieup: TieUp, told: Shed = ALL_SHAFTS) -> Looms:
    """Return the looms, the one of this name now tied so; the same looms where none is called so or it cannot be.

    Called when a warp is tied on a loom: `tied_now(looms, warp.loom.name, stage.tieup)`. Of treadles beyond the tie-up,
    and of cords to shafts that are not `told`, nothing is known: they stay as they were.
    """
    at = _at(looms, name)
    if at is None or looms[at].loom.action is Action.LEVERS:
        return looms
    before = looms[at].present or ()
    upper = (Tie(without(tie.up, told), without(tie.down, told)) for tie in before)
    lower = zip_longest(tieup, upper, fillvalue=Tie())
    merged = tuple(Tie(union((new.up, old.up)), union((new.down, old.down))) for new, old in lower)
    try:
        return with_loom(looms, replace(looms[at], present=(*merged[: len(tieup)], *before[len(tieup) :])))
    except LoomsError:
        # A loom of the same name, but smaller: another loom than the warp is on.
        return looms


def same_loom(one: str, other: str) -> bool:
    """Tell whether two names are of one loom: capitals and spaces do not tell looms apart."""
    return _key(one) == _key(other)


def checked(loom: LoomProfile) -> LoomProfile:
    """Return the loom with its name tidied; raises LoomsError that says what about it cannot be, and how to mend it."""
    name = unicodedata.normalize("NFC", " ".join(loom.name.split()))
    if not name or not name.isprintable() or len(name) > LONGEST_NAME:
        raise LoomsError(f"the name {loom.name!r:.60}; give a loom 1 to {LONGEST_NAME} letters that can be shown")
    if _key(name) == NO_NAME:
        raise LoomsError(f"{name!r} is what a loom without a name is called; give a name that tells it from others")
    try:
        check_askable(loom.loom, loom.present)
    except RemapError as error:
        raise LoomsError(str(error)) from error
    if loom.weaving_width_cm is not None and not 0 < loom.weaving_width_cm <= LONGEST_CM:
        width = length_words(loom.weaving_width_cm, AS_KEPT)
        raise LoomsError(f"a weaving width of {width}; give a number above 0, or leave it out")
    if not (math.isfinite(loom.loom_waste_cm) and 0 <= loom.loom_waste_cm <= LONGEST_CM):
        raise LoomsError(f"a loom waste of {length_words(loom.loom_waste_cm, AS_KEPT)}; give a number from 0")
    if len(loom.heddles) > loom.loom.shafts or not all(0 <= heddles <= MOST_THREADS for heddles in loom.heddles):
        raise LoomsError(
            f"heddles for {len(loom.heddles)} shafts; give a number up to {MOST_THREADS:,} for each of the "
            f"{loom.loom.shafts}, shaft 1 first"
        )
    return replace(loom, name=name)


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


def _at(looms: Looms, name: str) -> int | None:
    return next((at for at, loom in enumerate(looms) if _key(loom.name) == _key(name)), None)


def _key(name: str) -> str:
    return unicodedata.normalize("NFC", " ".join(name.split())).casefold()


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
