"""Kill -9 at any moment: no acknowledged pick is lost or doubled, and the next start is at the right pick.

Some tens of kills are tried here, at the same moments (while opening, or after the first pick) as the thousands that
`bench_kill` tries.

The kills happen in a process of their own, which forks weavers: this one has threads and windows, and must not fork.
"""

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

SCRIPT = """
import dataclasses, json, sys
from pathlib import Path
from tests.journal.weave_and_kill import Told, ends_threaded, forked, fresh, rounds
path, kind, number = Path(sys.argv[1]), sys.argv[2], int(sys.argv[3])
told = Told()
if kind == "threading":
    ends_threaded(path, number, 1789, told)
else:
    rounds(path, {"forked": forked, "fresh": fresh}[kind], number, 1789, told)
print(json.dumps(dataclasses.asdict(told)))
"""


@pytest.mark.skipif(not hasattr(os, "fork"), reason="needs fork and SIGKILL")
@pytest.mark.parametrize(("kind", "number"), [("forked", 50), ("fresh", 3), ("threading", 30)])
def test_no_acknowledged_pick_is_lost_or_doubled_however_often_the_weaver_is_killed(tmp_path, kind, number):
    done = subprocess.run(
        [sys.executable, "-c", SCRIPT, str(tmp_path / "killed.journal"), kind, str(number)],
        check=False,
        capture_output=True,
        text=True,
        timeout=240,
        cwd=Path(__file__).parents[2],
    )
    assert done.returncode == 0, done.stderr
    told = json.loads(done.stdout)
    assert told["kills"] == number
    # Who is not killed early weaves a pick at least, however slow the disk.
    assert told["acknowledged"] > number / 2, "too few picks were woven to mean anything"
    assert told["killed_before_a_pick"] < number / 2
