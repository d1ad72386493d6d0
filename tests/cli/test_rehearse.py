"""`fellside rehearse`: a rehearsal of being cut off."""

from __future__ import annotations

import pytest

from companion.cli import rehearse
from companion.cli.commands import run
from tests.cli.terminal import fellside, home, in_a_process, towel

_USED = (fellside, home, towel)
"""Fixtures, which pytest finds by name."""


def test_the_rehearsal_is_cut_off_and_resumes_at_the_right_pick(home):
    done = in_a_process(home, "rehearse", "--picks", "5")
    assert done.returncode == 0, done.stderr
    assert sum(line.startswith("woven: ") for line in done.stdout.splitlines()) == 5
    assert "resumed at the right pick: yes" in done.stdout


@pytest.mark.parametrize("picks", ["0", "-1", "301"])
def test_the_rehearsal_weaves_no_more_than_the_demo_has(home, picks, fellside):
    done = fellside(home, "rehearse", "--picks", picks)
    assert (done.returncode, done.stdout) == (2, "")
    assert done.stderr == f"fellside rehearse: --picks {picks}: give a number from 1 to 300, the picks of the demo\n"


def test_a_rehearsal_whose_weaver_never_weaves_is_not_right(home, monkeypatch, capsys):
    monkeypatch.setenv("FELLSIDE_HOME", str(home))
    monkeypatch.setattr(rehearse, "_WEAVER", "raise SystemExit(3)")
    assert run(["rehearse", "--picks", "2"]) == 1
    said = capsys.readouterr().out
    assert "ended by itself after 0 of 2 picks" in said
    assert "resumed at the right pick: NO" in said
