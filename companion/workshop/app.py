"""The one place that wires rooms, drivers and screens together."""

from __future__ import annotations

import json
import time
from collections.abc import Callable, Sequence
from contextlib import suppress
from datetime import UTC, datetime
from functools import partial
from pathlib import Path

from companion.draft.facing import Facing
from companion.draft.model import Draft
from companion.draft.reading import read_draft
from companion.draft.units import Units
from companion.journal.backup import backup_folder
from companion.journal.disk import write_whole
from companion.journal.errors import JournalError
from companion.journal.shelf import Shelf, as_shelved, data_folder, file_stem
from companion.journal.store import Journal
from companion.journal.words_beside import keep_words, read_words
from companion.present.trade_words import AS_WRITTEN, Trade
from companion.present.ways_of_pieces import no_same_feet_words
from companion.record.page import to_html
from companion.record.sheet import sheet
from companion.record.tables import to_csv, to_document
from companion.remap.aim import Aim
from companion.remap.errors import RemapError
from companion.remap.loom.loom import Loom, TieUp
from companion.remap.pieces import check_one_threading, plan_pieces
from companion.remap.remapped import Remapping
from companion.remap.remapping import remap
from companion.remap.same_feet import plan_same_feet
from companion.weaving.decide import accept_tie_up, re_tie
from companion.weaving.dressing import TASKS
from companion.weaving.dressing_commands import settle_task
from companion.weaving.dressing_events import TaskState
from companion.weaving.warp import NO_NAME, LoomProfile, Warp
from companion.workshop.looms import LoomsError, tied_now
from companion.workshop.looms_file import change_looms, load_looms
from companion.workshop.loomside import AtTheLoom
from companion.workshop.places import asset
from companion.workshop.saved_sheets import save_sheet

DEMO = "drafts/demo-double-faced-four-shaft.wif"
DEMO_NAME = "Demo"
DEMO_LOOM = LoomProfile("demo loom", Loom(shafts=4, treadles=6))
DRESSING_SECONDS = 20.0
"""How long finding a tie-up for a new warp may take before the weaver is told that none was found in time."""


def now_ms() -> int:
    """Return the time of day in Unix milliseconds."""
    return time.time_ns() // 1_000_000


def until(seconds: float) -> Callable[[], bool]:
    """Return a question that is answered yes once this many seconds have gone by."""
    end = time.monotonic() + seconds
    return lambda: time.monotonic() > end


def shelf() -> Shelf:
    """Return the shelf of this weaver's warps."""
    return Shelf(data_folder() / "journal")


def bookmark_file() -> Path:
    """Return where this weaver's place in the window is kept while the program is put away."""
    return data_folder() / "place.json"


def looms_file() -> Path:
    """Return where this weaver's looms are kept; `companion.workshop.looms_file` reads and writes it."""
    return data_folder() / "looms.json"


def demo_draft() -> Draft:
    """Return the draft of the demo warp, which ships with the program."""
    return read_draft(asset(DEMO).read_bytes())


def answers_for(
    drafts: Sequence[Draft],
    profile: LoomProfile,
    *,
    face_down: bool = False,
    aim: Aim | None = None,
    same_feet: bool = False,
) -> tuple[Remapping, ...]:
    """Return a tie-up for each draft on this loom, the drafts woven in their order.

    `face_down`: a single draft, to be woven with its face below. `same_feet`: the same feet weave each of several.
    Raises RemapError, also where the same feet cannot weave them.
    """
    loom, present, time_is_up = profile.loom, profile.present, until(DRESSING_SECONDS)
    if len(drafts) == 1:
        return (remap(drafts[0], loom, present=present, aim=aim, face_down=face_down, should_stop=time_is_up),)
    # What a warp has in common is looked at before what its pieces could have.
    check_one_threading(drafts)
    if same_feet:
        plan = plan_same_feet(drafts, loom, present=present, keep_order=True, should_stop=time_is_up)
        if plan is None or not plan.fits:
            raise RemapError(no_same_feet_words(drafts, loom, plan), mend="leave --same-feet out")
        return plan.answers
    return plan_pieces(drafts, loom, present=present, aim=aim, keep_order=True, should_stop=time_is_up).answers


def put_on_shelf(warp: Warp, tied: bool, dressed: bool = False) -> None:
    """Keep a new warp under its name, its tie-up accepted: the one way to begin a warp, whatever face asks for it.

    `tied`: the weaver says that the treadles are tied for its first piece already. Where nobody says so they are not,
    unless the tie-up that is known to be on the loom is the same. `dressed`: all is done that comes before the first
    pick. Raises JournalError.
    """
    with _at_the_loom(shelf().create(warp.name, warp, now_ms())) as loom:
        if warp.pieces[0].stages:
            loom.do(accept_tie_up)
        for task in TASKS if dressed else ():
            loom.do(partial(settle_task, task=task, state=TaskState.DONE))
        if warp.pieces[0].stages and tied:
            loom.do(re_tie)


def bring_words(draft_file: Path, name: str) -> None:
    """Let the words for the sheet that stand beside a draft go with the warp made of it; no disk's fault stops that."""
    words = read_words(draft_file)
    if words.said:
        with suppress(OSError, JournalError):
            keep_words(shelf().path(name), words)


def keep_tied(warp: Warp, tieup: TieUp) -> str:
    """Note that the loom of this warp is tied so now; return one line where that could not be kept, mostly nothing.

    The journal holds the tie-up anyhow: that the loom's file is not up to date must never hold up the weaving.
    """
    if warp.loom.name == NO_NAME:
        return ""
    try:
        # Before there is a file, no lock needs to stand beside it.
        if load_looms(looms_file()):
            told = warp.cord_shafts()
            change_looms(looms_file(), lambda known: tied_now(known, warp.loom.name, tieup, told))
    except LoomsError as error:
        return f"the tie-up is in the journal, but not noted for loom {warp.loom.name!r}: {error}"
    return ""


def sit_down(name: str) -> AtTheLoom:
    """Open the warp called `name` to weave on; raises JournalError."""
    return _at_the_loom(shelf().open(name))


def _at_the_loom(journal: Journal) -> AtTheLoom:
    return AtTheLoom(journal, now_ms, copies=backup_folder(), tied=keep_tied, warp=as_shelved(journal))


def save_record(name: str, folder: Path, units: Units, facing: Facing, trade: Trade = AS_WRITTEN) -> Path:
    """Write the record of a warp into `folder`, with a table, JSON and the sheet for others beside it; return its page.

    The words are in these units and of this trade, the drawings as `facing` says. Raises JournalError, or OSError
    where the folder cannot be written.
    """
    with shelf().open_to_read(name) as journal:
        record, words = sheet(as_shelved(journal), journal.entries()), read_words(journal.path)
    zone = datetime.now().astimezone().tzinfo or UTC
    folder.mkdir(parents=True, exist_ok=True)
    page = folder / f"{file_stem(name)}.html"
    write_whole(page, to_html(record, units, facing, zone, trade).encode())
    # The mark at the beginning tells spreadsheets that the letters are UTF-8.
    write_whole(page.with_suffix(".csv"), ("\ufeff" + to_csv(record, units, zone)).encode())
    write_whole(page.with_suffix(".json"), (json.dumps(to_document(record, zone)) + "\n").encode())
    save_sheet(record.warp, file_stem(name), folder, units, facing, words, trade=trade)
    return page
