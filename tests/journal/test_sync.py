"""Before an entry is acknowledged, the kernel was asked to put it on disk: watched from outside, by strace."""

import re
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from companion.journal.store import Journal
from tests.journal.warps import small_warp

ENTRIES = 40
WEAVER = """
import os, sys
from pathlib import Path
from companion.journal.store import Journal
from companion.weaving.events import NoteWritten
with Journal.open(Path(sys.argv[1])) as journal:
    for number in range(int(sys.argv[2])):
        os.write(1, b"acknowledged %d\\n" % journal.append(NoteWritten("x"), 0).number)
"""


@pytest.mark.skipif(shutil.which("strace") is None, reason="needs strace")
def test_the_log_is_synced_after_its_last_write_and_before_each_acknowledgement(tmp_path):
    path, trace = tmp_path / "a.journal", tmp_path / "trace"
    Journal.create(path, small_warp(), at_ms=0).close()
    watch = ["strace", "-y", "-o", trace, "-e", "trace=write,pwrite64,fsync,fdatasync"]
    done = subprocess.run(
        [*watch, sys.executable, "-c", WEAVER, str(path), str(ENTRIES)],
        check=False,
        capture_output=True,
        text=True,
        timeout=60,
        cwd=Path(__file__).parents[2],
    )
    if "ptrace" in done.stderr:
        pytest.skip("this system lets no process be watched")
    assert done.returncode == 0, done.stderr
    calls = re.findall(r'^(\w+)\(\d+<([^>]*)>(?:, "(\w*))?', trace.read_text(), re.MULTILINE)
    state, acknowledged = "nothing written", 0
    for call, file, text in calls:
        if file.endswith("a.journal-wal"):
            state = "synced" if call in ("fsync", "fdatasync") else "written"
        elif text == "acknowledged":
            assert state == "synced", f"acknowledged with its log {state}"
            state, acknowledged = "nothing written", acknowledged + 1
    assert acknowledged == ENTRIES
