"""Whatever the terminal, the locale or the state of the streams: the facts arrive, or one line says why not."""

from __future__ import annotations

import io
import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

from companion.cli.commands import run
from companion.cli.streams import harmless, plainer

ROOT = Path(__file__).resolve().parents[2]
DEMO = str(ROOT / "assets" / "drafts" / "demo-double-faced-four-shaft.wif")


@pytest.fixture
def home(tmp_path):
    return tmp_path / "home"


def fellside(home, *words, typed=b"", out=subprocess.PIPE, **settings):
    environment = {key: value for key, value in os.environ.items() if key not in ("DISPLAY", "PYTHONIOENCODING")}
    environment |= {"FELLSIDE_HOME": str(home), "PYTHONPATH": str(ROOT)} | settings
    command = [sys.executable, "-m", "companion", *words]
    return subprocess.run(
        command, input=typed, stdout=out, stderr=subprocess.PIPE, env=environment, timeout=60, check=False
    )


@pytest.mark.parametrize("encoding", ["ascii", "latin-1"])
def test_a_tie_up_stays_readable_where_the_terminal_knows_few_signs(home, encoding):
    done = fellside(home, "remap", DEMO, "--treadles", "6", PYTHONIOENCODING=encoding)
    assert (done.returncode, done.stderr) == (0, b"")
    top = next(line for line in done.stdout.decode(encoding).splitlines() if line.startswith("  shaft  4"))
    assert top.split()[2:].count("#") == 2, top
    assert len(set(top.split()[2:])) == 2, "a tie and no tie must not look alike"


def test_the_stepper_goes_on_in_an_ascii_terminal_and_after_bytes_that_are_no_letters(home):
    done = fellside(home, "weave", "--text", typed=b"\xff\n\nq\n", PYTHONIOENCODING="ascii")
    assert (done.returncode, done.stderr) == (0, b"")
    assert b"paused; 1 pick lies in the cloth" in done.stdout


@pytest.mark.parametrize(("text", "plain"), [("■·…", "#...."), ("Zoë", "Zo\\xeb"), ("\udcff", "\\udcff")])
def test_a_sign_that_cannot_be_shown_becomes_a_plainer_one_or_its_number(text, plain):
    begin = next(at for at, sign in enumerate(text) if not sign.isascii())
    kept, end = plainer(UnicodeEncodeError("ascii", text, begin, len(text), "not in range"))
    assert (text[:begin] + kept, end) == (plain, len(text))


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="needs a device that is always full")
@pytest.mark.parametrize("words", [("check", DEMO), ("picks", DEMO, "--json"), ("--help",), ("weave", "--text")])
def test_output_that_finds_no_room_is_one_line_and_exit_2(home, words):
    with Path("/dev/full").open("wb") as full:
        done = fellside(home, *words, out=full)
    assert done.returncode == 2
    assert done.stderr.count(b"\n") == 1
    assert b"standard output: No space left on device" in done.stderr


@pytest.mark.parametrize("words", [("--help",), ("check", DEMO)])
def test_a_reader_that_has_gone_is_no_failure(home, words):
    read, write = os.pipe()
    os.close(read)
    with os.fdopen(write, "wb") as gone:
        done = fellside(home, *words, out=gone)
    assert (done.returncode, done.stderr) == (0, b"")


@pytest.mark.parametrize("words", [("weave",), ("find", "--since-change", "1"), ("amounts",), ("backup", "--restore")])
def test_a_name_longer_than_a_file_can_have_is_one_line_and_exit_2(home, words, monkeypatch, capsys):
    monkeypatch.setenv("FELLSIDE_HOME", str(home))
    assert run([*words, "n" * 300]) == 2
    said = capsys.readouterr().err
    assert said.count("\n") == 1
    assert "n" * 20 in said


@pytest.mark.skipif(not Path("/dev/zero").exists(), reason="needs a file without an end")
def test_a_file_without_an_end_is_refused(capsys):
    assert run(["check", "/dev/zero"]) == 2
    assert capsys.readouterr().err == (
        "fellside check: /dev/zero: too large for a draft; give a WIF or shorthand file\n"
    )


@pytest.mark.parametrize(
    "words", [("check",), ("picks",), ("remap", "--treadles", "4"), ("find", "--since-change", "1")]
)
def test_json_is_json_in_an_ascii_terminal(tmp_path, words, monkeypatch):
    file = tmp_path / "draft.txt"
    file.write_text("title: Schärpe\nyarn: grün green\nyarn: weiß white\nthreading: 1-4\nlift plan: 1-4\n", "utf-8")
    command, *rest = words
    terminal = io.TextIOWrapper(io.BytesIO(), "ascii")
    monkeypatch.setattr(sys, "stdout", terminal)
    assert run([command, str(file), *rest, "--json"]) == 0
    terminal.seek(0)
    assert json.loads(terminal.read())


STEERING = "a\x1b[31mred\x1b]0;title\x07\x9b2J\u202e"


def test_what_steers_a_terminal_is_shown_and_never_sent(home, tmp_path):
    done = fellside(home, "weave", "--text", typed=f"n {STEERING}\nq\n".encode(), PYTHONIOENCODING="utf-8")
    assert done.returncode == 0, done.stderr
    assert b"a\\x1b[31mred\\x1b]0;title\\x07\\x9b2J\\u202e" in done.stdout
    (tmp_path / "odd.txt").write_text(f"threading: 1 2 {STEERING}", encoding="utf-8")
    refused = fellside(home, "check", str(tmp_path / "odd.txt"), PYTHONIOENCODING="utf-8")
    assert (refused.returncode, refused.stderr.count(b"\n")) == (2, 1)
    assert not set((done.stdout + refused.stderr).decode()) & set("\x1b\x07\x9b\u202e")


@pytest.mark.parametrize(("text", "shown"), [("a\tb\r\nc\n", "a\tb\r\nc\n"), ("over\rwritten", "over\\x0dwritten")])
def test_ends_of_lines_go_through_and_a_line_is_not_written_over(text, shown):
    assert harmless(text) == shown


BREAKS = """import sys
from companion.cli import check

def run(arguments):
    raise KeyError("a fault of the program")

check.run = run
sys.argv = ["fellside", "check", "x"]
from companion.__main__ import main
main()
"""


def test_a_fault_of_the_program_is_one_line_with_a_status_of_its_own_and_is_written_down(home):
    environment = os.environ | {"FELLSIDE_HOME": str(home), "PYTHONPATH": str(ROOT)}
    command = [sys.executable, "-c", BREAKS]
    done = subprocess.run(command, capture_output=True, text=True, env=environment, timeout=60, check=False)
    assert (done.returncode, done.stdout, done.stderr.count("\n")) == (70, "", 1)
    assert "the program broke off (KeyError: 'a fault of the program')" in done.stderr
    assert "Traceback" in (home / "broke-off.txt").read_text()


NOBODY = """import io, itertools, json, os, pwd, sys
from companion.__main__ import main

def nobody(_who):
    raise KeyError("no entry")

pwd.getpwuid = pwd.getpwnam = nobody
told, without = [], dict(os.environ)
for settings, words in itertools.product(*json.loads(sys.argv[1])):
    os.environ.clear()
    os.environ.update(without | settings)
    sys.argv = ["fellside", *words]
    said = io.BytesIO()
    sys.stderr = io.TextIOWrapper(said, "utf-8")
    try:
        main()
    except SystemExit as end:
        sys.stderr.flush()
        told.append((end.code, said.getvalue().decode(), settings, words))
print(json.dumps(told))
"""


def test_who_has_no_home_is_told_in_one_line_where_to_say_one():
    settings = [{}, {"FELLSIDE_HOME": "~nobody-here/x"}, {"XDG_DATA_HOME": "~nobody-here"}]
    words = [["weave", "--text"], ["looms"], ["backup"]]
    kept = {key: value for key, value in os.environ.items() if key not in ("HOME", "FELLSIDE_HOME", "XDG_DATA_HOME")}
    command = [sys.executable, "-c", NOBODY, json.dumps([settings, words])]
    done = subprocess.run(
        command, capture_output=True, text=True, env=kept | {"PYTHONPATH": str(ROOT)}, timeout=60, check=False
    )
    assert (done.returncode, done.stderr) == (0, "")
    told = json.loads(done.stdout)
    assert len(told) == len(settings) * len(words)
    for status, said, *where in told:
        assert (status, said.count("\n")) == (2, 1), where
        assert "nobody's home folder is known by that name; set FELLSIDE_HOME to a folder" in said, where


@pytest.mark.parametrize("words", [["weave", "--text"], ["backup"], ["record", "x"], ["find", "x", "--seen", "?"]])
def test_a_file_where_the_folder_of_the_warps_should_be_is_named(home, words, monkeypatch, capsys):
    home.write_text("a file")
    monkeypatch.setenv("FELLSIDE_HOME", str(home))
    assert run(words) == 2
    said = capsys.readouterr().err
    assert said.count("\n") == 1
    assert "is no folder; set FELLSIDE_HOME to a folder" in said
