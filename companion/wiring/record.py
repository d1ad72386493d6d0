"""The record of a warp looked at in the window, saved, and bundled; read from its journal in a thread of its own."""

from __future__ import annotations

import os
import threading
from collections.abc import Callable
from pathlib import Path

from companion.journal.bundle_file import write_bundle
from companion.journal.errors import JournalError
from companion.journal.shelf import as_shelved, file_stem, free_name
from companion.present.outcome_words import SAVING, bundled_words, did_not_work_words, saved_words
from companion.present.trade_words import in_trade_words, own_words, words_written
from companion.record.pages import record_pages
from companion.record.sheet import sheet
from companion.screens.record import RecordScreen
from companion.weaving.errors import WeavingError, error_words
from companion.wiring.navigator import Navigator
from companion.workshop import app
from companion.workshop.bookmarks import Bookmark, Marked
from companion.workshop.places import own_papers, sticks

HERE = None
"""Times as the clock of this place shows them."""


def show_record(ways: Navigator, name: str) -> None:
    """Show the record of the warp called `name`; its journal is only read, so the warp is not disturbed."""

    def read() -> str:
        with app.shelf().open_to_read(name) as journal:
            whole = sheet(as_shelved(journal), journal.entries())
        own = (*own_words(whole.warp, whole.told.progress), *words_written(one.entry for one in whole.told.happened))
        pages = in_trade_words(record_pages(whole, ways.around.units, ways.around.facing, HERE), window.look.trade, own)
        window.post(lambda: screen.show_pages(pages))
        return ""

    def save() -> str:
        around = ways.around
        pages = [app.save_record(name, folder, around.units, around.facing, around.look.trade) for folder in folders()]
        return saved_words(pages[0].name, (page.parent for page in pages))

    def bundle() -> str:
        files = []
        for folder in folders():
            folder.mkdir(parents=True, exist_ok=True)
            files.append(_free(folder, file_stem(name)))
            with app.shelf().open_to_read(name) as journal:
                entries = write_bundle(journal, name, files[-1])
        return bundled_words(entries, files)

    def in_background(do: Callable[[], str]) -> None:
        def work() -> None:
            try:
                line = do()
            except (JournalError, WeavingError, OSError) as error:
                line = did_not_work_words(error_words(error, ways.around.units))
            window.post(lambda: screen.say(line))

        threading.Thread(target=work, name="record", daemon=True).start()

    def asked(do: Callable[[], str]) -> Callable[[], None]:
        def ask() -> None:
            screen.say(SAVING)
            in_background(do)

        return ask

    window = ways.window
    screen = RecordScreen(ways.around, save=asked(save), bundle=asked(bundle))
    ways.push(lambda: screen, mark=Bookmark(Marked.RECORD, name))
    in_background(read)


def folders() -> tuple[Path, ...]:
    """Return the folders for papers: this weaver's own, and one on each USB stick that can be written now."""
    writable = (stick for stick in sticks() if os.access(stick, os.W_OK))
    return (own_papers(), *(stick / "Fellside" for stick in writable))


def _free(folder: Path, stem: str) -> Path:
    return folder / f"{free_name(stem, lambda free: (folder / f'{free}.zip').exists())}.zip"
