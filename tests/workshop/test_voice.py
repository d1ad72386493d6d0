"""The voice, with a stand-in for the speech program that writes down what it is told."""

from __future__ import annotations

import shutil
import subprocess
import time

import pytest

from companion.workshop.voice import SPEAKER, Voice, can_speak


@pytest.fixture
def heard(tmp_path, monkeypatch):
    """A speech program on the path that notes its words in a file and then takes its time."""
    out = tmp_path / "heard"
    program = tmp_path / "bin" / SPEAKER
    program.parent.mkdir()
    program.write_text(f'#!/bin/sh\necho "$2" >> "{out}"\nexec sleep 30\n', encoding="utf-8")
    program.chmod(0o755)
    monkeypatch.setenv("PATH", f"{program.parent}:/usr/bin:/bin")

    def lines(number):
        end = time.monotonic() + 60
        while not out.exists() or len(out.read_text(encoding="utf-8").splitlines()) < number:
            assert time.monotonic() < end, "nothing was said"
            time.sleep(0.01)  # another process writes: nothing here can be awaited
        return out.read_text(encoding="utf-8").splitlines()

    return lines


def test_what_is_newer_cuts_off_what_is_older(heard):
    voice = Voice(wanted=True)
    voice.say("left 2, right 5")
    assert heard(1) == ["left 2, right 5"]
    first = voice._speaking
    voice.say("left 1")
    assert first.poll() is not None
    assert heard(2)[1] == "left 1"
    voice.close()
    voice.close()


def test_where_it_is_not_wanted_or_not_there_nothing_is_started(heard, monkeypatch):
    silent = Voice(wanted=False)
    silent.say("left 2")
    assert silent._speaking is None
    monkeypatch.setenv("PATH", "/nowhere")
    assert not can_speak()
    mute = Voice(wanted=True)
    mute.say("left 2")
    assert mute._speaking is None


@pytest.mark.skipif(shutil.which(SPEAKER) is None, reason="espeak-ng is not installed")
def test_the_real_program_takes_the_words(tmp_path):
    done = subprocess.run([SPEAKER, "-w", str(tmp_path / "said.wav"), "--", "left 2, right 5"], check=False, timeout=30)
    assert done.returncode == 0
    assert (tmp_path / "said.wav").stat().st_size > 1000
