"""What another program finds when it imports companion: few names, quickly, and short words for large values."""

from __future__ import annotations

import doctest
import json
import os
import subprocess
import sys
from pathlib import Path

import numpy as np
import pytest

import companion
from companion import Loom, RemapError, Verdict, interlacement, read_draft, remap, shafts_of, treadles_of

ROOT = Path(__file__).resolve().parents[1]
DRAFTS = ROOT / "assets" / "drafts"


def fresh(script: str) -> str:
    """What a new interpreter prints."""
    done = subprocess.run(
        [sys.executable, "-c", script], check=False, cwd=ROOT, capture_output=True, text=True, timeout=60
    )
    assert done.returncode == 0, done.stderr
    return done.stdout


def test_the_example_for_developers_runs_as_it_stands(monkeypatch):
    monkeypatch.chdir(ROOT)
    guide = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    shown = guide.split("```python\n")[1].split("```")[0]
    example = doctest.DocTestParser().get_doctest(shown, {}, "DEVELOPERS.md", None, None)
    assert len(example.examples) >= 5
    told: list[str] = []
    results = doctest.DocTestRunner().run(example, out=told.append)
    assert results.failed == 0, "".join(told)


def test_every_name_at_the_door_is_there_and_said_once():
    assert sorted(companion.__all__) == sorted(set(companion.__all__))
    assert all(hasattr(companion, name) for name in companion.__all__)
    assert callable(companion.remap)


def test_the_door_stays_open_whichever_module_was_loaded_first():
    said = fresh(
        "import companion.remap.proof\nimport companion.remap.stages\nfrom companion import remap; print(remap)"
    )
    assert said.startswith("<function remap")


def test_the_answer_at_the_door_weaves_the_draft():
    # Woven here by hand: an end is up where its shaft is tied to any treadle that is pressed.
    draft = read_draft((DRAFTS / "overshot-four-shaft.txt").read_bytes())
    answer = remap(draft, Loom(4, 6))
    assert answer.verdict is Verdict.FITS
    woven = np.zeros((draft.picks, draft.ends), dtype=np.bool_)
    for pick, footing in enumerate(answer.footings):
        up = {shaft for treadle in treadles_of(footing.pressed) for shaft in shafts_of(answer.tieup[treadle - 1].up)}
        woven[pick] = [shaft is not None and shaft + 1 in up for shaft in draft.threading]
    assert np.array_equal(woven, interlacement(draft))


def test_a_loom_that_makes_no_sense_is_told():
    with pytest.raises(RemapError):
        remap(read_draft((DRAFTS / "waffle-four-shaft.txt").read_bytes()), Loom(0, 4))


def test_importing_companion_loads_two_rooms_and_neither_window_port_nor_journal():
    loaded = json.loads(fresh("import json, sys, companion; print(json.dumps(sorted(sys.modules)))"))
    assert not {"kivy", "serial", "sqlite3", "drivers"} & set(loaded)
    rooms = {name.split(".")[1] for name in loaded if name.startswith("companion.")}
    assert rooms == {"draft", "remap"}


def test_importing_companion_takes_little_longer_than_numpy_alone():
    def seconds(module: str) -> float:
        def once() -> float:
            before = os.times()
            fresh(f"import {module}")
            after = os.times()
            return after.children_user + after.children_system - before.children_user - before.children_system

        return min(once() for _ in range(3))

    # Some 2.2 times where this was written, in processor time; reading Kivy in as well makes it more than 10.
    assert seconds("companion") < 5 * seconds("numpy")


@pytest.mark.parametrize(
    ("file", "loom", "draft_words", "answer_words"),
    [
        (
            "demo-double-faced-four-shaft.wif",
            Loom(4, 6),
            "<Draft 'Window-seat cushion for Tern Cottage': 4 shafts, 8 treadles, 160 ends, 300 picks>",
            "<Remapping 'fits' (4 shafts, 6 treadles, rising): fewest treadles 6>",
        ),
        (
            "twill-gamp-eight-shaft.txt",
            Loom(4, 6),
            "<Draft 'Sample scarf of twills for the Thursday class': 8 shafts, 8 treadles, 124 ends, 124 picks>",
            "<Remapping 'too few shafts' (4 shafts, 6 treadles, rising): missing 5, 6, 7, 8>",
        ),
    ],
)
def test_a_draft_and_its_answer_print_in_one_short_line(file, loom, draft_words, answer_words):
    draft = read_draft((DRAFTS / file).read_bytes())
    answer = remap(draft, loom)
    assert (repr(draft), repr(answer)) == (draft_words, answer_words)
    assert all(len(repr(stage)) < 80 for stage in answer.stages)


def test_a_draft_with_a_lift_plan_says_so():
    draft = read_draft(b"shafts: 2\nthreading: 1 2\nlift plan: 1 2\n")
    assert repr(draft) == "<Draft '': 2 shafts, lift plan, 2 ends, 2 picks>"
