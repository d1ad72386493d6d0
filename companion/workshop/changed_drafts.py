"""Drafts that were changed at the screen, kept as files of their own as soon as they are changed.

The weaver's own file stays as it is, and so do drafts kept before: `towel changed.wif`, `towel changed 2.wif`. While a
draft is on the screen it has one such file, and only a whole file ever takes the place of another.
"""

from __future__ import annotations

import threading
from collections.abc import Callable
from pathlib import Path

from companion.draft.model import Draft
from companion.draft.wif_write import write_wif
from companion.journal.disk import finished_in, publish
from companion.journal.shelf import free_name


class ChangedDraft:
    """Keeps what becomes of the draft of the file `stem`, in `folder`, in a thread of its own.

    `draft` is what that file holds, None for a draft that is in no file yet: that one gets the file `stem` itself.
    `told` is called in that thread with the path when a draft is on disk, or with an OSError when it could not be kept.
    A draft changed back to what it was needs no file: the one made for it is taken away again, and `told` hears None.
    """

    def __init__(
        self, stem: str, draft: Draft | None, folder: Path, told: Callable[[Path | OSError | None], None]
    ) -> None:
        self._name = stem if draft is None else f"{stem.partition(' changed')[0]} changed"
        self._unchanged = draft
        self._folder = folder
        self._told = told
        self._path: Path | None = None
        self._latest: Draft | None = None
        self._kept = draft
        self._thread: threading.Thread | None = None
        self._lock = threading.Lock()

    @property
    def path(self) -> Path | None:
        """The file that holds the draft as it was changed; None while there is none."""
        return self._path

    def keep(self, draft: Draft) -> None:
        """See that this draft is on disk soon; of several that come faster than the disk is, the last."""
        with self._lock:
            self._latest = draft
            if self._thread is None:
                # Not a daemon: when the program ends, Python waits for the last draft to be on disk.
                self._thread = threading.Thread(target=self._write_on, name="draft keeper")
                self._thread.start()

    def keep_now(self, draft: Draft) -> None:
        """Return when this draft is on disk; raises OSError."""
        while (thread := self._thread) is not None:
            thread.join()
        if draft is not self._kept:
            self._write(draft)

    def _write_on(self) -> None:
        while (draft := self._take()) is not None:
            try:
                self._write(draft)
            except OSError as error:
                self._told(error)
            else:
                self._told(self._path)

    def _take(self) -> Draft | None:
        with self._lock:
            draft, self._latest = self._latest, None
            if draft is None:
                self._thread = None
            return draft

    def _write(self, draft: Draft) -> None:
        if draft == self._unchanged:
            if self._path is not None:
                self._path.unlink(missing_ok=True)
                self._path = None
        else:
            self._put(write_wif(draft))
        self._kept = draft

    def _put(self, content: bytes) -> None:
        """Put the content in the place of the file in one step; what was there stays where this fails."""
        self._folder.mkdir(parents=True, exist_ok=True)
        with finished_in(self._folder, content) as finished:
            if self._path is None:
                self._path = _new_name(self._name, self._folder)
            publish(finished, self._path)


def _new_name(wanted: str, folder: Path) -> Path:
    """Take a name like that which is wanted that no file has yet, with an empty file, and return its path."""

    def is_taken(name: str) -> bool:
        try:
            # "x": a file that came there in this very moment is not written over either.
            (folder / f"{name}.wif").open("xb").close()
        except FileExistsError:
            return True
        return False

    return folder / f"{free_name(wanted, is_taken)}.wif"
