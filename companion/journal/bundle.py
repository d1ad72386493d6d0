"""Bringing a bundle in: the same twice is harmless, more is added, and what differs is refused, never overwritten."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum
from itertools import islice
from pathlib import Path

from companion.journal.bundle_file import Bundle
from companion.journal.disk import remove_database
from companion.journal.errors import BundleError, JournalError, clear_errors
from companion.journal.shelf import Shelf, tidy_name
from companion.journal.snapshots import keep_snapshot, progress_of
from companion.journal.store import Journal
from companion.journal.words_beside import keep_words, read_words
from companion.weaving.errors import ContradictionError
from companion.weaving.opened import unopened_words
from companion.weaving.progress import Progress, fold


class ImportResult(Enum):
    """What bringing in a bundle did."""

    NEW = "new"
    EXTENDED = "extended"
    NOTHING_TO_DO = "nothing to do"


@dataclass(frozen=True, slots=True)
class BroughtIn:
    """A bundle brought in: the warp's name here, and how many of its `entries` were `added`."""

    name: str
    outcome: ImportResult
    added: int
    entries: int


def bring_in(file: Path, shelf: Shelf, as_name: str = "") -> BroughtIn:
    """Bring the warp of a bundle onto the shelf; raises BundleError or JournalError, and has then changed nothing.

    A warp that is here already gets the entries that it lacks. With `as_name` the warp is put beside it under that
    name, as a warp of its own.
    """
    with Bundle(file) as bundle:
        standing = _require_sense(bundle)
        here = _name_here(shelf, bundle.manifest.identity)
        if here is None:
            done = _put_new(bundle, shelf, as_name or bundle.manifest.name, bundle.manifest.identity, standing)
        elif as_name:
            done = _put_new(bundle, shelf, as_name, "", standing)
        else:
            done = _add_missing(bundle, shelf, here)
        _keep_words(bundle, shelf.path(done.name))
        return done


def _keep_words(bundle: Bundle, path: Path) -> None:
    """Keep the words for the sheet that came with a warp, unless the weaver has words of her own beside it."""
    words = bundle.words
    if words.said and not read_words(path).said:
        with clear_errors(path):
            keep_words(path, words)


def _require_sense(bundle: Bundle) -> Progress:
    mend = "make the bundle again"
    if unopened := unopened_words(bundle.warp):
        raise BundleError(f"does not make sense ({unopened})", place=bundle.file, mend=mend)
    try:
        return fold(bundle.warp, bundle.entries())
    except ContradictionError as error:
        raise BundleError(f"does not make sense ({error})", place=bundle.file, mend=mend) from error


def _name_here(shelf: Shelf, identity: str) -> str | None:
    for name in shelf.names():
        try:
            with shelf.open_to_read(name) as journal:
                if journal.identity == identity:
                    return name
        except JournalError:
            # A journal that cannot be read cannot be added to; its name stays taken.
            continue
    return None


def _put_new(bundle: Bundle, shelf: Shelf, name: str, identity: str, standing: Progress) -> BroughtIn:
    name = tidy_name(name)
    if shelf.path(name).exists():
        raise BundleError(
            f"another warp is called {name!r} here", place=bundle.file, mend="bring it in under another name: --as NAME"
        )
    journal = shelf.create(name, bundle.warp, bundle.manifest.made_at_ms, identity)
    try:
        with journal:
            journal.extend(bundle.entries())
            if identity and journal.seal_of(journal.last_number) != bundle.manifest.seal:
                raise BundleError("is not as it was written", place=bundle.file, mend="make the bundle again")
            keep_snapshot(journal, standing)
            entries = journal.last_number
    except BaseException:
        remove_database(journal.path)
        raise
    return BroughtIn(name, ImportResult.NEW, entries, entries)


def _add_missing(bundle: Bundle, shelf: Shelf, name: str) -> BroughtIn:
    with shelf.open_to_read(name) as here:
        shared = _shared_entries(bundle, here)
        if shared is None:
            raise BundleError(
                f"was woven on differently from {name!r} here; nothing was changed",
                place=bundle.file,
                mend="keep both: bring it in under another name with --as NAME",
            )
    if shared == bundle.manifest.entries:
        return BroughtIn(name, ImportResult.NOTHING_TO_DO, 0, here.last_number)
    with shelf.open(name) as journal:
        if journal.last_number != shared:
            raise BundleError(f"{name!r} is being woven on", place=bundle.file, mend="bring it in at a pause")
        journal.extend(islice(bundle.entries(), shared, None))
        keep_snapshot(journal, progress_of(journal))
        return BroughtIn(name, ImportResult.EXTENDED, journal.last_number - shared, journal.last_number)


def _shared_entries(bundle: Bundle, here: Journal) -> int | None:
    """Return how many entries the shorter of the two has, all the same in the longer; None where they part."""
    if here.warp != bundle.warp or here.made_at_ms != bundle.manifest.made_at_ms:
        return None
    shared = 0
    for ours, theirs in zip(here.entries(), bundle.entries(), strict=False):
        if ours != theirs:
            return None
        shared += 1
    return shared
