"""Verified copies of journals, and putting one back.

A copy is made beside its final name, looked through page by page and seal by seal, and only then named; so a damaged
journal or a full disk never costs an older copy. Copies count up (`Blue shawl~000012.journal`), whatever the clock
says. A copy goes only when `KEPT` newer ones hold all that it holds: those of another warp of that name, of another
device or of a history that went otherwise stay, and so does one that is longer than the journal.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from pathlib import Path

from companion.journal.database import move_journal
from companion.journal.disk import companions_of, publish, remove_database
from companion.journal.errors import CannotCopyError, DiskRefusedError, JournalError, clear_errors
from companion.journal.lock import WriterLock
from companion.journal.mark import mark_path
from companion.journal.shelf import COUNT_MARK, SUFFIX, Shelf, data_folder, name_of
from companion.journal.store import Journal
from companion.journal.words_beside import keep_words, read_words
from companion.weaving.errors import ContradictionError
from companion.weaving.opened import unopened_words
from companion.weaving.progress import fold

KEPT = 10
"""How many copies of one history stay in a folder."""

_NAMED = re.compile(rf"(?P<stem>.+?)(?:{COUNT_MARK}[0-9]+)?{re.escape(SUFFIX)}(?:\.set-aside-[0-9]+)?")
"""A copy, a journal, or one that was set aside: all can be put back under the name of their warp."""


@dataclass(frozen=True, slots=True)
class Copy:
    """A verified copy: its file, how many entries it holds, and whether it was made now or stood there already.

    `there` are all the copies under that name in the folder now, `others` those of another warp or history.
    """

    path: Path
    entries: int
    made_now: bool
    there: int = 1
    others: int = 0


@dataclass(frozen=True, slots=True)
class PutBack:
    """A warp put back from a copy, and where the journal went that stood in its place.

    `unopened` says which shed is not opened by what is pressed, where there is one.
    """

    name: str
    entries: int
    set_aside: Path | None
    unopened: str = ""


def backup_folder() -> Path:
    """Return the folder of the copies that are made at each pause."""
    return data_folder() / "backups"


def copies(folder: Path, stem: str) -> tuple[Path, ...]:
    """Return the copies in `folder` of the warp with this file stem, oldest first."""
    counted = [(count, path) for path in folder.glob(f"*{COUNT_MARK}*{SUFFIX}") if (count := _count(path, stem))]
    return tuple(path for _, path in sorted(counted))


def back_up(journal: Path, folder: Path) -> Copy:
    """Make a verified copy of a journal in `folder`, even while it is written; raises JournalError.

    A journal that is not whole raises CannotCopyError: that is no fault of the folder, and trying again is no use.
    Where a copy there holds the same entries already, it is looked through instead of made again.
    """
    with clear_errors(folder):
        folder.mkdir(parents=True, exist_ok=True)
    with _alone_in(folder), _opened_whole(journal) as source, clear_errors(folder):
        older = copies(folder, journal.stem)
        held = {path: entries for path in older if (entries := _entries_held(path, source)) is not None}
        same = [path for path in held if held[path] == source.last_number and _is_whole(path)]
        if same:
            _copy_words(journal, folder / journal.name)
            return Copy(same[-1], source.last_number, False, len(older), len(older) - len(held))
        part = folder / f"{journal.stem}{COUNT_MARK}part"
        try:
            remove_database(part)
            source.copy_to(part)
            with Journal.open_to_read(part) as copy:
                entries = copy.look_through()
                if entries < source.last_number or copy.seal_of(source.last_number) != source.seal_of(
                    source.last_number
                ):
                    raise JournalError("the copy differs from the journal", place=part, mend="try another disk")
            count = 1 + (_count(older[-1], journal.stem) if older else 0)
            path = folder / f"{journal.stem}{COUNT_MARK}{count:06}{SUFFIX}"
            publish(part, path)
        finally:
            remove_database(part)
        superseded = [*held, path][:-KEPT]
        for old in superseded:
            old.unlink()
        _copy_words(journal, folder / journal.name)
        return Copy(path, entries, True, len(older) + 1 - len(superseded), len(older) - len(held))


def _copy_words(beside: Path, to: Path) -> None:
    """Let the words for the sheet go with a copy; where there is no room for them, the picks are worth more."""
    words = read_words(beside)
    if words.said and beside != to:
        with suppress(OSError):
            keep_words(to, words)


def longer_copy(journal: Journal, folder: Path) -> Copy | None:
    """Return the copy in `folder` that holds most of what this journal lacks; None where it lacks nothing."""
    best: Copy | None = None
    for path in copies(folder, journal.path.stem):
        try:
            with Journal.open_to_read(path) as copy:
                of_this_warp, entries = copy.identity == journal.identity, copy.last_number
        except JournalError:
            continue
        if of_this_warp and entries > max(journal.last_number, best.entries if best else 0):
            best = Copy(path, entries, made_now=False)
    return best


def copies_to_put_back(stem: str, folders: Iterable[Path]) -> tuple[Copy, ...]:
    """Return the copies of the warp with this file stem that can be read, those that hold most first.

    Of copies that hold the same only one is returned, from the first of the folders that has it.
    """
    best: dict[tuple[str, int, int], Copy] = {}
    for folder in folders:
        for path in copies(folder, stem):
            try:
                with Journal.open_to_read(path) as copy:
                    last = copy.last_number
                    best.setdefault((copy.identity, last, copy.seal_of(last)), Copy(path, last, made_now=False))
            except JournalError:
                continue
    return tuple(sorted(best.values(), key=lambda copy: -copy.entries))


def put_back(copy: Path, shelf: Shelf) -> PutBack:
    """Put a copy on the shelf in place of the damaged journal of its name, which is set aside, not removed.

    Raises JournalError where the copy is not whole or its entries cannot follow each other, so that no command could
    open it, and where the warp on the shelf is whole and has no less in it.
    """
    match = _NAMED.fullmatch(copy.name)
    if match is None:
        mend = f"call it NAME{COUNT_MARK}1{SUFFIX} and try again"
        raise JournalError("is not named as a copy", place=copy, mend=mend)
    name = name_of(match["stem"])
    path = shelf.path(name)
    with clear_errors(path):
        shelf.folder.mkdir(parents=True, exist_ok=True)
        lock = WriterLock(path)
        fresh = path.with_name(path.name + ".new")
        try:
            lock.name_holder()
            remove_database(fresh)
            entries, unopened = _copy_with_log(copy, fresh)
            if path.exists():
                _require_worse(path, fresh, entries)
            set_aside = _set_aside(path)
            publish(fresh, path)
            _copy_words(set_aside or path, path)
            if not read_words(path).said:
                _copy_words(copy.with_name(match["stem"] + SUFFIX), path)
        finally:
            remove_database(fresh)
            lock.release()
    return PutBack(name, entries, set_aside, unopened)


def _copy_with_log(copy: Path, fresh: Path) -> tuple[int, str]:
    """Copy a journal with what only its log holds; return how many entries were found when counted *there*.

    Beside it what `unopened_words` has to say of the warp.
    """
    with Journal.open_to_read(copy) as source:
        expected = source.look_through()
        _require_sense(source, copy)
        source.copy_to(fresh)
        with Journal.open_to_read(fresh) as written:
            entries = written.look_through()
            if entries != expected or written.seal_of(entries) != source.seal_of(entries):
                raise JournalError("was not taken whole by the disk", place=fresh, mend="free some space, try again")
            unopened = unopened_words(source.warp)
    return entries, unopened


def _require_sense(source: Journal, copy: Path) -> None:
    try:
        fold(source.warp, source.entries())
    except ContradictionError as error:
        raise JournalError(f"does not make sense ({error})", place=copy, mend="put an older copy back") from error


def _opened_whole(path: Path) -> Journal:
    try:
        journal = Journal.open_to_read(path)
        try:
            journal.look_through()
        except BaseException:
            journal.close()
            raise
    except DiskRefusedError:
        # Another time it may.
        raise
    except JournalError as error:
        raise CannotCopyError(error.what, place=error.place, mend=error.mend) from error
    return journal


def _count(path: Path, stem: str) -> int:
    before, _, count = path.stem.rpartition(COUNT_MARK)
    return int(count) if before == stem and count.isdecimal() else 0


@contextmanager
def _alone_in(folder: Path) -> Iterator[None]:
    lock = WriterLock(folder / ".backup", in_use="copies are being made here already")
    try:
        lock.name_holder()
        yield
    finally:
        lock.release()


def _entries_held(copy: Path, source: Journal) -> int | None:
    """Return how many entries a copy holds where `source` holds them all too, else None."""
    try:
        with Journal.open_to_read(copy) as journal:
            held = journal.last_number
            same = journal.identity == source.identity and held <= source.last_number
            return held if same and journal.seal_of(held) == source.seal_of(held) else None
    except JournalError:
        return None


def _is_whole(copy: Path) -> bool:
    try:
        with Journal.open_to_read(copy) as journal:
            journal.look_through()
    except JournalError:
        return False
    return True


def _require_worse(path: Path, fresh: Path, entries: int) -> None:
    try:
        with Journal.open_to_read(path) as present, Journal.open_to_read(fresh) as copy:
            there, other = present.look_through(), present.identity != copy.identity
    except JournalError:
        return
    if other:
        raise JournalError(
            "is another warp than the copy",
            place=path,
            mend="rename the copy to the name it shall have, then try again",
        )
    if there >= entries:
        raise JournalError(
            f"is whole and has {there} entries, the copy {entries}", place=path, mend="weave on; nothing was changed"
        )


def _set_aside(path: Path) -> Path | None:
    if not path.exists():
        for file in (*companions_of(path), mark_path(path)):
            file.unlink(missing_ok=True)
        return None
    number = 1
    while (aside := path.with_name(f"{path.name}.set-aside-{number}")).exists():
        number += 1
    move_journal(path, aside)
    return aside
