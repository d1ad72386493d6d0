"""A terminal for the tests: a home of its own, a draft file, lines typed in this process or in one of its own."""

from __future__ import annotations

import io
import os
import subprocess
import sys
from pathlib import Path
from typing import NamedTuple

import pytest

from companion.cli.commands import run

ROOT = Path(__file__).resolve().parents[2]
TWILL = """\
[WIF]
Version=1.1
Date=April 20, 1997
Developers=wif@mhsoft.com
Source Program=by hand

[CONTENTS]
Weaving=true
Warp=true
Weft=true
Threading=true
Tieup=true
Treadling=true
Text=true

[TEXT]
Title=Tea towel

[WEAVING]
Shafts=4
Treadles=4
Rising Shed=true

[WARP]
Threads=8

[WEFT]
Threads=8

[THREADING]
1=1
2=2
3=3
4=4
5=1
6=2
7=3
8=4

[TIEUP]
1=1,2
2=2,3
3=3,4
4=1,4

[TREADLING]
1=1
2=2
3=3
4=4
5=1
6=2
7=3
8=4
"""
"""A 2/2 twill, written by hand for this test."""


@pytest.fixture
def home(tmp_path):
    return tmp_path / "home"


@pytest.fixture
def towel(tmp_path):
    path = tmp_path / "towel.wif"
    path.write_text(TWILL, encoding="ascii")
    return str(path)


@pytest.fixture
def fellside(monkeypatch, capsys):
    """Type a command and lines after it, in this process; as (home, words, typed)."""

    def typed_in(home, *words, typed=""):
        for display in ("DISPLAY", "WAYLAND_DISPLAY"):
            monkeypatch.delenv(display, raising=False)
        monkeypatch.setenv("FELLSIDE_HOME", str(home))
        monkeypatch.setattr(sys, "stdin", io.StringIO(typed))
        capsys.readouterr()
        status = run(words)
        out, err = capsys.readouterr()
        return Done(status, out, err)

    return typed_in


class Done(NamedTuple):
    """What became of a command."""

    returncode: int
    stdout: str
    stderr: str


def in_a_process(home, *words, typed=""):
    """The same in a process of its own, as the weaver's terminal starts it."""
    environment = {key: value for key, value in os.environ.items() if key not in ("DISPLAY", "WAYLAND_DISPLAY")}
    return subprocess.run(
        [sys.executable, "-m", "companion", *words],
        input=typed,
        env=environment | {"FELLSIDE_HOME": str(home), "PYTHONPATH": str(ROOT)},
        cwd=home.parent,
        capture_output=True,
        text=True,
        timeout=60,
        check=False,
    )


def woven_lines(done):
    return [line.strip() for line in done.stdout.splitlines() if line.strip().startswith(("woven", "taken out"))]
