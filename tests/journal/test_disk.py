"""A disk that is full or may not be written, and a second process: one clear line, nothing acknowledged lost."""

import os
import random
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from companion.journal.backup import back_up
from companion.journal.bundle_file import write_bundle
from companion.journal.errors import JournalError
from companion.journal.store import Journal
from companion.weaving.events import Entry, NoteWritten, PickWoven
from tests.journal.full_disk import fill
from tests.journal.warps import small_warp

ROOT = Path(__file__).parents[2]


def in_a_process_of_its_own(script, *arguments):
    """Run a script that may spoil its process (limits, user) and return what it printed; it must not fail."""
    done = subprocess.run(
        [sys.executable, "-c", script, *map(str, arguments)],
        check=False,
        capture_output=True,
        text=True,
        timeout=60,
        cwd=ROOT,
    )
    assert done.returncode == 0, done.stderr
    return done.stdout.splitlines()


WEAVE_UNTIL_REFUSED = """
from companion.journal.backup import back_up
from companion.journal.bundle_file import write_bundle
from companion.journal.errors import JournalError
from companion.weaving.events import NoteWritten

def weave_until_refused(journal):
    for number in range(100_000):
        before = journal.last_number
        try:
            journal.append(NoteWritten("wool " * 40), number)
        except JournalError as error:
            assert journal.last_number == before
            return str(error)
    raise AssertionError("the disk was never full")
"""

PAST_A_LIMIT = (
    WEAVE_UNTIL_REFUSED
    + """
import resource, sys
from pathlib import Path
from companion.journal.store import Journal
from tests.journal.full_disk import fill
from tests.journal.warps import small_warp

path = Path(sys.argv[1])
soft, hard = resource.getrlimit(resource.RLIMIT_FSIZE)
with Journal.create(path, small_warp(), at_ms=0) as journal:
    for limit in (100_000, 200_000, 333_333):
        resource.setrlimit(resource.RLIMIT_FSIZE, (limit, hard))
        print(weave_until_refused(journal))
        print(weave_until_refused(journal))
        resource.setrlimit(resource.RLIMIT_FSIZE, (soft, hard))
        journal.append(NoteWritten("there is space again"), 0)
    acknowledged = journal.last_number
with Journal.open(path) as journal:
    assert journal.look_through() == acknowledged
    again = [entry for entry in journal.entries() if entry.event == NoteWritten("there is space again")]
    assert len(again) == 3
"""
)


@pytest.mark.skipif(sys.platform == "win32", reason="needs limits on file sizes")
def test_a_file_that_may_not_grow_is_told_and_weaving_goes_on_when_it_may_again(tmp_path):
    lines = in_a_process_of_its_own(PAST_A_LIMIT, tmp_path / "a.journal")
    assert len(lines) == 6
    for line in lines:
        assert line == (
            f"{tmp_path / 'a.journal'}: the disk did not take or give it; "
            "check the disk, its space and limits, then try again"
        )


def weave_until_refused(journal):
    for number in range(100_000):
        before = journal.last_number
        try:
            journal.append(NoteWritten("wool " * 40), number)
        except JournalError as error:
            refused = error
            break
    assert journal.last_number == before
    return str(refused)


def test_a_full_disk_is_told_and_weaving_goes_on_when_there_is_space(small_disk):
    path = small_disk / "a.journal"
    with Journal.create(path, small_warp(), at_ms=0) as journal:
        journal.append(PickWoven(0), 0)
        for _ in range(3):
            ballast = fill(small_disk)
            line = weave_until_refused(journal)
            assert line == (
                f"{path}: could not be written: the disk at {small_disk} is full; free some space there; "
                "nothing written before is lost"
            )
            ballast.unlink()
            journal.append(PickWoven(1), 0)
        acknowledged = journal.last_number
    with Journal.open(path) as journal:
        assert journal.look_through() == acknowledged
        assert sum(entry.event == PickWoven(1) for entry in journal.entries()) == 3


def test_on_a_full_disk_a_warp_still_opens_and_closes_and_loses_nothing(small_disk):
    path = small_disk / "a.journal"
    with Journal.create(path, small_warp(), at_ms=0) as journal:
        acknowledged = [journal.append(NoteWritten("wool " * 20), number) for number in range(60)]
        ballast = fill(small_disk)
    ballast.unlink()
    with Journal.open(path) as journal:
        assert list(journal.entries()) == acknowledged


def test_a_new_warp_on_a_full_disk_is_told_and_leaves_nothing_behind(small_disk):
    path = small_disk / "a.journal"
    ballast = fill(small_disk)
    with pytest.raises(JournalError, match=r"(?i)disk is full|no space left"):
        Journal.create(path, small_warp(), at_ms=0)
    assert not list(small_disk.glob("*.journal*[!k]"))
    ballast.unlink()
    with Journal.create(path, small_warp(), at_ms=0) as journal:
        assert journal.append(PickWoven(0), 0).number == 1


WITHOUT_RIGHTS = """
import os, sys
from pathlib import Path
from companion.journal.backup import back_up
from companion.journal.bundle_file import write_bundle
from companion.journal.errors import JournalError
from companion.journal.store import Journal
from tests.journal.full_disk import fill
from tests.journal.warps import small_warp

path = Path(sys.argv[1])
if os.geteuid() == 0:
    os.setuid(65_534)
for attempt in (
    lambda: Journal.open(path),
    lambda: Journal.create(path.with_name("new.journal"), small_warp(), at_ms=0),
):
    try:
        attempt()
    except JournalError as error:
        print(error)
with Journal.open_to_read(path) as journal:
    print(journal.look_through())
"""


@pytest.mark.skipif(sys.platform == "win32", reason="needs the rights of POSIX")
def test_a_folder_that_may_not_be_written_is_told_and_can_still_be_read(tmp_path_factory):
    folder = Path("/tmp") / f"fellside-rights-{os.getpid()}"
    folder.mkdir()
    try:
        path = folder / "a.journal"
        with Journal.create(path, small_warp(), at_ms=0) as journal:
            journal.append(PickWoven(0), 0)
        folder.chmod(0o555)
        for file in folder.iterdir():
            file.chmod(0o444)
        lines = in_a_process_of_its_own(WITHOUT_RIGHTS, path)
    finally:
        folder.chmod(0o755)
        shutil.rmtree(folder)
    mend = "check that it exists, its rights and the disk"
    assert lines == [
        f"{path}.lock: Permission denied; {mend}",
        f"{folder / 'new.journal'}.lock: Permission denied; {mend}",
        "1",
    ]


READ_ONLY = """
import os, sys, tempfile
from pathlib import Path
from companion.journal.store import Journal

if os.geteuid() == 0:
    os.setuid(65_534)
tempfile.tempdir = sys.argv[2]
with Journal.open_to_read(Path(sys.argv[1])) as journal:
    print(journal.look_through(), journal.last_number, journal.path)
print(os.listdir(sys.argv[2]))
"""


@pytest.mark.skipif(sys.platform == "win32", reason="needs the rights of POSIX")
@pytest.mark.parametrize("log", ["with its log", "without a log"])
def test_a_stick_that_may_not_be_written_is_read_with_its_log_and_nothing_stays_behind(tmp_path, log):
    """A journal copied while it was open, so that its newest entries are only in the log."""
    folder = Path("/tmp") / f"fellside-stick-{os.getpid()}"
    for_copies = folder / "for copies"
    for_copies.mkdir(parents=True)
    for_copies.chmod(0o777)
    try:
        stick = folder / "a.journal"
        with Journal.create(tmp_path / "a.journal", small_warp(), at_ms=0) as journal:
            for pick in range(3):
                journal.append(PickWoven(pick), pick)
            if log == "with its log":
                for suffix in ("", "-wal"):
                    shutil.copyfile(f"{journal.path}{suffix}", f"{stick}{suffix}")
        if log == "without a log":
            shutil.copyfile(tmp_path / "a.journal", stick)
        folder.chmod(0o555)
        assert in_a_process_of_its_own(READ_ONLY, stick, for_copies) == [f"3 3 {stick}", "[]"]
    finally:
        folder.chmod(0o755)
        shutil.rmtree(folder)


SECOND = """
import sys
from pathlib import Path
from companion.journal.backup import back_up
from companion.journal.bundle_file import write_bundle
from companion.journal.errors import JournalInUseError
from companion.journal.store import Journal
path = Path(sys.argv[1])
try:
    Journal.open(path)
except JournalInUseError as error:
    print(error)
with Journal.open_to_read(path) as journal:
    print(journal.last_number)
"""


def test_a_second_process_is_told_who_has_the_warp_and_may_read_it(tmp_path):
    path = tmp_path / "a.journal"
    with Journal.create(path, small_warp(), at_ms=0) as journal:
        journal.append(PickWoven(0), 0)
        lines = in_a_process_of_its_own(SECOND, path)
        journal.append(PickWoven(1), 0)
    assert lines == [
        f"{path}: this warp is already open in process {os.getpid()}; weave on there, or close that program first",
        "1",
    ]


def bundle_up(path, folder):
    with Journal.open_to_read(path) as journal:
        write_bundle(journal, "a", folder / "a.zip")


@pytest.mark.parametrize("keep", [back_up, bundle_up])
def test_a_copy_or_bundle_that_does_not_fit_leaves_nothing_behind_and_older_ones_stay(small_disk, tmp_path, keep):
    path = tmp_path / "a.journal"
    Journal.create(path, small_warp(), at_ms=0).close()
    older = back_up(path, small_disk).path
    with Journal.open(path) as journal:
        # Words that do not pack: the bundle must not fit either.
        noise = random.Random(2)
        journal.extend(Entry(n, n, NoteWritten(noise.randbytes(400).hex())) for n in range(1, 1_200))
    with pytest.raises(JournalError, match=r"(?i)disk is full|no space left"):
        keep(path, small_disk)
    assert {file.name for file in small_disk.iterdir()} == {".backup.lock", older.name}
    with Journal.open_to_read(older) as journal:
        assert journal.look_through() == 0
