"""The right to write: one holder, known by its process number, gone when the process is gone."""

import errno
import os
import signal
import subprocess
import sys
from pathlib import Path

import pytest

from companion.journal import lock
from companion.journal.errors import JournalError, JournalInUseError
from companion.journal.lock import WriterLock, lock_path

HOLDER = """
import sys
from pathlib import Path
from companion.journal.lock import WriterLock
held = WriterLock(Path(sys.argv[1]))
held.name_holder()
print("held", flush=True)
sys.stdin.read()
"""


@pytest.fixture
def journal(tmp_path):
    return tmp_path / "a.journal"


def test_the_second_is_refused_until_the_first_lets_go(journal):
    first = WriterLock(journal)
    first.name_holder()
    with pytest.raises(JournalInUseError, match=f"already open in process {os.getpid()};"):
        WriterLock(journal)
    first.release()
    WriterLock(journal).release()


def test_letting_go_twice_is_harmless_and_leaves_nothing_behind(journal):
    held = WriterLock(journal)
    held.name_holder()
    held.release()
    held.release()
    again = WriterLock(journal)
    assert not again.left_behind
    again.release()


@pytest.mark.skipif(sys.platform == "win32", reason="needs SIGKILL")
def test_a_killed_holder_lets_go_and_is_known_to_have_been_cut_off(journal):
    with subprocess.Popen(
        [sys.executable, "-c", HOLDER, str(journal)],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        text=True,
        cwd=Path(__file__).parents[2],
    ) as holder:
        assert holder.stdout.readline() == "held\n"
        with pytest.raises(JournalInUseError, match=f"in process {holder.pid};"):
            WriterLock(journal)
        holder.send_signal(signal.SIGKILL)
        holder.wait(timeout=60)
    after = WriterLock(journal)
    assert after.left_behind
    after.release()


def test_a_holder_that_never_named_itself_leaves_the_trace_of_the_one_before(journal):
    lock_path(journal).write_text("4711\n")
    WriterLock(journal).release()
    again = WriterLock(journal)
    assert again.left_behind
    again.release()


def test_a_folder_that_knows_no_locks_is_told(journal, monkeypatch):
    def no_locks(file):
        raise OSError(errno.ENOLCK, "No locks available")

    monkeypatch.setattr(lock, "_try_lock", no_locks)
    with pytest.raises(JournalError, match=r"cannot be locked .No locks available.; keep the journals on a local disk"):
        WriterLock(journal)


def test_a_folder_that_is_not_there_is_told(tmp_path):
    with pytest.raises(JournalError, match="No such file or directory"):
        WriterLock(tmp_path / "nowhere" / "a.journal")


def test_a_lock_is_never_taken_through_a_link(journal, tmp_path):
    precious = tmp_path / "precious"
    precious.write_bytes(b"4711\n")
    lock_path(journal).symlink_to(precious)
    with pytest.raises(JournalError, match="is a link, where a lock belongs; nothing was written"):
        WriterLock(journal)
    assert precious.read_bytes() == b"4711\n"


@pytest.mark.parametrize("content", [b"SQLite format 3\0", b"12 and more", b"1" * 23])
def test_what_is_no_lock_of_ours_is_not_written_over(journal, content):
    lock_path(journal).write_bytes(content)
    with pytest.raises(JournalError, match="holds something else, where a lock belongs"):
        WriterLock(journal)
    assert lock_path(journal).read_bytes() == content


def test_a_pipe_in_place_of_a_lock_holds_nobody_up(journal):
    os.mkfifo(lock_path(journal))
    with pytest.raises(JournalError, match="is no ordinary file"):
        WriterLock(journal)
