"""A journal and a bundle that were written once, by the first version of each form, and must load for ever.

The files and how they were made: tests/data/journal-version-1.txt. Never make them anew: a change that this test does
not survive needs a step that reads the old form.
"""

import hashlib
import shutil
from pathlib import Path

import pytest

from companion.journal.bundle_file import Bundle
from companion.journal.snapshots import progress_of
from companion.journal.store import Journal
from companion.weaving.events import (
    BobbinChanged,
    Entry,
    FaultKind,
    FaultNoted,
    FaultSettled,
    FaultState,
    Jumped,
    LengthMeasured,
    NoteWritten,
    Paused,
    PickTakenOut,
    PickWoven,
    PieceFinished,
    PieceStarted,
    Resumed,
    ReTied,
    Undone,
)
from tests.journal.warps import small_warp

DATA = Path(__file__).parents[1] / "data"
AT_MS = 1_760_000_000_000
EVENTS = (
    ReTied(0),
    PickWoven(0),
    PickWoven(1),
    NoteWritten("Kette läuft gut – weiter"),
    FaultNoted(FaultKind.SKIPPED_END, 1, 3, FaultState.FOUND, "two ends"),
    FaultNoted(FaultKind.UNEVEN_BEAT, 0, None, FaultState.LEFT),
    PickTakenOut(1),
    FaultSettled(0, FaultState.MENDED),
    PickWoven(1),
    Jumped(6, "skipped"),
    Undone(10),
    BobbinChanged(1, 41.5),
    BobbinChanged(0),
    LengthMeasured(0.3125),
    LengthMeasured(0.25, under_tension=False),
    Paused(),
    Resumed(looked_right=False),
    PieceFinished(),
    PieceStarted(1),
    PickWoven(0),
)
ENTRIES = tuple(Entry(number, AT_MS + 2_500 * number, event) for number, event in enumerate(EVENTS, 1))


def test_the_old_files_hold_every_kind_of_event_there_was():
    # Fourteen kinds when the files were written; those that came later are none of these files' matter.
    assert len({type(event) for event in EVENTS}) == 14


def test_the_first_version_of_a_journal_still_loads(tmp_path):
    path = tmp_path / "old.journal"
    shutil.copyfile(DATA / "journal-version-1.journal", path)
    with Journal.open(path) as journal:
        assert journal.look_through() == len(ENTRIES)
        assert tuple(journal.entries()) == ENTRIES
        assert journal.warp == small_warp()
        assert (journal.identity, journal.made_at_ms) == ("c0ffee00c0ffee00c0ffee00c0ffee00", AT_MS)
        assert progress_of(journal).now.piece == 1
        # Without dressing its time is what it always was: 19 gaps of 2.5 s, one of them a pause.
        assert progress_of(journal).now.at_loom_ms == 18 * 2_500
        journal.append(PickWoven(1), AT_MS)


def test_the_first_version_of_a_bundle_still_loads():
    with Bundle(DATA / "bundle-version-1.zip") as bundle:
        assert tuple(bundle.entries()) == ENTRIES
        assert bundle.warp == small_warp()
        assert bundle.manifest.name == "Blue shawl"


@pytest.mark.parametrize(
    ("name", "digest"),
    [
        ("journal-version-1.journal", "617fa2d04956400f79f193ac5231ebfe84f5d03c7b5ed377013858e8d6d1ac6a"),
        ("bundle-version-1.zip", "818d2a9bc5acbd6026cc257d187c05bbf2cbac1c5a55b8b303abb9500cecdf62"),
    ],
)
def test_the_old_files_are_those_that_were_written_then(name, digest):
    assert hashlib.sha256((DATA / name).read_bytes()).hexdigest() == digest
