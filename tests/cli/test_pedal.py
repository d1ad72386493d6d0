"""`fellside pedal` over a real pseudo-terminal."""

from __future__ import annotations

import json
import os
import stat
import subprocess
import sys
import threading
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest

from companion.cli import pedal as command
from companion.cli.commands import run
from drivers.discovery import FoundPort
from drivers.serial_link import open_exclusively

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="pseudo-terminals are not there on Windows")


def watched(board, *words, seconds="1.5"):
    def weave():
        board.answer()
        board.press(200)
        board.press(900)

    with ThreadPoolExecutor(1) as at_the_loom:
        woven = at_the_loom.submit(weave)
        status = run(["pedal", "--port", board.port, "--seconds", seconds, *words])
        woven.result()
    return status


def test_presses_are_shown_as_they_come_and_what_was_ignored_at_the_end(board, capsys):
    assert watched(board) == 0
    out = capsys.readouterr().out
    for words in (f"watching {board.port}", "the pedal answers", "advance", "back", "taken as bounce"):
        assert words in out


def test_json_is_one_document_with_events_and_counts(board, capsys):
    assert watched(board, "--json") == 0
    report = json.loads(capsys.readouterr().out)
    assert [event["event"] for event in report["events"]] == ["up", "press", "press"]
    assert [event["press"] for event in report["events"][1:]] == ["advance", "back"]
    assert report["ignored"]["bounce"] > 0
    assert isinstance(report["ports"], list)


def test_no_such_port_is_one_line_and_exit_2(tmp_path, capsys):
    assert run(["pedal", "--port", str(tmp_path / "nothing"), "--seconds", "5"]) == 2
    told = capsys.readouterr()
    assert told.err.count("\n") == 1
    assert "no such port" in told.err


def test_a_file_is_not_a_serial_port(tmp_path, capsys):
    (tmp_path / "draft.wif").write_text("[WIF]")
    assert run(["pedal", "--port", str(tmp_path / "draft.wif"), "--seconds", "5"]) == 2
    assert "not a serial port" in capsys.readouterr().err


def test_a_busy_port_is_one_line_and_exit_2(board, capsys):
    taken = open_exclusively(board.port)
    try:
        assert run(["pedal", "--port", board.port, "--seconds", "5"]) == 2
    finally:
        taken.close()
    assert "another program uses it" in capsys.readouterr().err


@pytest.mark.skipif(not hasattr(os, "geteuid") or os.geteuid() != 0, reason="only root can give its rights away")
def test_without_permission_the_group_to_join_is_named(board):
    device = os.ttyname(board._device)
    os.chown(device, 0, group_with_name("dialout"))
    Path(device).chmod(stat.S_IRUSR | stat.S_IWUSR | stat.S_IRGRP | stat.S_IWGRP)
    script = (
        "import os, sys, encodings.idna, pathlib, serial\n"
        "from drivers.port_errors import explain_opening, group_of\n"
        "from drivers.serial_link import open_exclusively\n"
        "group_of(sys.argv[1])\n"
        "os.setgroups([]); os.setgid(65534); os.setuid(65534)\n"
        "try: open_exclusively(sys.argv[1])\n"
        "except OSError as error: print(*explain_opening(error, sys.argv[1]))"
    )
    done = subprocess.run(
        [sys.executable, "-c", script, device], capture_output=True, text=True, check=False, timeout=60
    )
    assert "NO_PERMISSION" in done.stdout, done.stderr
    assert "usermod -aG dialout" in done.stdout


def group_with_name(name):
    import grp

    try:
        return grp.getgrnam(name).gr_gid
    except KeyError:
        pytest.skip(f"no group {name} on this machine")


def test_the_list_shows_stable_names_and_missing_rights(monkeypatch, capsys):
    name = "/dev/serial/by-id/usb-made-up"
    found = (FoundPort(name, "/dev/ttyACM0", "made-up board", allowed=False, group="dialout"),)
    monkeypatch.setattr(command, "find_ports", lambda: found)
    assert run(["pedal"]) == 0
    out = capsys.readouterr().out
    assert "Extra-low voltage only" in out
    assert f"{name}  made-up board  NO PERMISSION: join the group dialout" in out
    assert run(["pedal", "--json"]) == 0
    assert json.loads(capsys.readouterr().out)["ports"][0]["device"] == "/dev/ttyACM0"


def test_a_machine_without_ports_says_so(monkeypatch, capsys):
    monkeypatch.setattr(command, "find_ports", lambda: ())
    assert run(["pedal"]) == 0
    assert "no USB serial port found" in capsys.readouterr().out


@pytest.mark.parametrize("seconds", ["0", "-1", "soon", "nan"])
def test_a_silly_time_is_a_usage_error(seconds, capsys):
    assert run(["pedal", "--port", "x", "--seconds", seconds]) == 2
    assert capsys.readouterr().err.count("\n") == 1
    assert not [thread for thread in threading.enumerate() if thread.name.startswith("pedal")]
