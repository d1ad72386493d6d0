"""The program killed at once, as a cut of power ends it, with a changed draft on the screen that was never left."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
from pathlib import Path

from companion.draft.masks import shed_of
from companion.draft.reading import read_draft
from companion.draft.wif_write import write_wif
from tests.screens.warps import twill_draft

ROOT = Path(__file__).resolve().parents[2]
_CHANGES_A_TIE = """
import signal
from companion.screens.environment import prepare
prepare()
from companion.present.draft_sheet import Quarter, Square
from companion.wiring.draft import look_over
from companion.wiring.navigator import Navigator
from companion.wiring.screen_app import ScreenApp
from tests.screens.stage import Stage
from tests.screens.warps import twill_draft
program = ScreenApp(None)
with program, Stage(program.window) as stage:
    look_over(Navigator(program.window), "towel", twill_draft(), print, tuple)
    stage.pump()
    screen = program.window.place
    stage.touch(screen.button("Edit"))
    box = screen.ids.picture.sheet.box_of(Square(Quarter.TIE_UP, 0, 2))
    stage.drag([(box.x + box.width / 2, box.y + box.height / 2)])
    stage.until(lambda: screen.title == "towel changed")
    print("changed", flush=True)
    signal.pause()
"""


def test_a_changed_draft_outlives_the_program_that_is_killed_over_it(tmp_path, display):
    documents = tmp_path / "Documents"
    documents.mkdir()
    (documents / "towel.wif").write_bytes(write_wif(twill_draft()))
    surroundings = os.environ | {
        "HOME": str(tmp_path),
        "FELLSIDE_HOME": str(tmp_path / "fellside"),
        "KIVY_NO_CONSOLELOG": "1",
        "PYTHONPATH": str(ROOT),
    }
    program = subprocess.Popen(
        [sys.executable, "-c", _CHANGES_A_TIE], env=surroundings, cwd=tmp_path, stdout=subprocess.PIPE, text=True
    )
    try:
        said = program.stdout.readline()
        assert said == "changed\n"
    finally:
        program.send_signal(signal.SIGKILL)
        program.communicate(timeout=60)
    assert program.returncode == -signal.SIGKILL
    kept = read_draft((documents / "Fellside" / "towel changed.wif").read_bytes())
    assert kept.lifting.tieup[0] == shed_of([1, 2, 3])
    assert read_draft((documents / "towel.wif").read_bytes()).lifting == twill_draft().lifting
