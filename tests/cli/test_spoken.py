"""The terminal speaks the words of the settings in every line of its own; what is typed, and names, stay."""

from __future__ import annotations

import ast
import io
import re
from itertools import pairwise
from pathlib import Path

import pytest

from companion.cli import backup, commands
from companion.cli.commands import COMMANDS, run
from companion.cli.spoken import spoken
from companion.cli.typed import fault
from companion.journal.errors import JournalError
from companion.present.preferences import Preferences
from companion.present.trade_words import Trade
from companion.weaving.events import FaultKind, FaultNoted, FaultState
from companion.weaving.onward import onward
from companion.workshop.places import asset
from companion.workshop.preference_file import preference_file, save_preferences
from tests.screens.warps import twill_warp
from tests.weaving.world import AtLoom

TRADE = Trade(american=True, harness=True, mistake=True)
BRITISH = re.compile(
    r"\b(centred?|colour(s|ed)?|countermarche|fibres?|metres?|neighbour(s|ing)?|woollen|shafts?|faults?)\b",
    re.IGNORECASE,
)
"""The words that the settings change (common practice, from memory, no source)."""
NAMED = "Colour samples for the fault finder"
TYPED = re.compile(r"--[\w-]+|\{.*?\}|rising: .*?levers?\)|[A-Z]{2,}", re.DOTALL)
"""Options, choices, what stands for something typed, and the line that says what the choices of a loom mean."""


@pytest.fixture
def draft(tmp_path, monkeypatch):
    monkeypatch.setenv("FELLSIDE_HOME", str(tmp_path / "home"))
    monkeypatch.delenv("DISPLAY", raising=False)
    save_preferences(preference_file(), Preferences(sounds=False, trade=TRADE))
    file = tmp_path / "named.txt"
    text = asset("drafts/overshot-four-shaft.txt").read_text()
    file.write_text(re.sub(r"title: .*", f"title: {NAMED}", text))
    return str(file)


@pytest.mark.parametrize(
    "words",
    [
        ["check", "--action", "countermarche"],
        ["remap", "--treadles", "6", "--action", "countermarche"],
        ["remap", "--shafts", "3", "--treadles", "6"],
        ["picks"],
        ["find", "--seen", "0 1"],
        ["amounts", "--width", "18 in"],
        ["plan", "--width", "18 in", "--length", "1 yd", "--warp-yarn", "8/2 cotton"],
        ["dress", "--counts"],
        ["square"],
        ["remap", "--present", "1 9"],
        ["weave", "--text", "--name", "Colour trial", "--treadles", "6"],
    ],
    ids=" ".join,
)
def test_every_line_is_in_the_words_of_the_settings(draft, monkeypatch, capsys, words):
    monkeypatch.setattr("sys.stdin", io.StringIO("\n\nx\n1\n\nx wrong shed below 1\nd 1 mended\nx 99\n?\nq\n"))
    run([words[0], draft, *words[1:]])
    said = "".join(capsys.readouterr())
    assert len(said) > 30
    assert not BRITISH.search(said.replace(NAMED, "").replace("Colour trial", "")), said
    if words[0] in ("check", "picks"):
        assert NAMED in said


def test_a_question_is_answered_in_the_words_in_which_it_is_asked(draft, monkeypatch, capsys):
    monkeypatch.setattr("sys.stdin", io.StringIO("\n\nx broken end 2\nx\nmistake 1\nmended with\nx\nq\n"))
    run(["weave", draft, "--text", "--name", "Trial", "--treadles", "6"])
    said = capsys.readouterr().out
    assert "Mistake 1 is settled" in said
    assert "is no answer" not in said
    assert said.count("Mistake 1 is settled") == 1


@pytest.mark.parametrize("words", ["sleying mistake end 3", "sleying fault end 3"])
def test_a_mistake_is_noted_by_either_word(words):
    loom = AtLoom(twill_warp())
    loom.do(onward)
    assert fault(words)(loom.warp, loom.progress) == FaultNoted(FaultKind.SLEYING, 0, 2, FaultState.FOUND)


def test_help_keeps_what_is_typed(draft, capsys):
    for command in COMMANDS:
        run([command, "--help"])
    said = capsys.readouterr().out
    assert not BRITISH.search(TYPED.sub("", said)), BRITISH.search(TYPED.sub("", said))
    assert "harnesses of the loom" in said
    assert "--shafts N" in said
    assert "countermarche" in said


@pytest.mark.parametrize("columns", [72, 80, 132])
def test_help_is_broken_into_lines_after_its_words_are_chosen(draft, capsys, monkeypatch, columns):
    """Of two lines of one sentence the second begins with a word for which the first has no room."""
    monkeypatch.setenv("COLUMNS", str(columns))
    said = ""
    for words in (["--help"], *([command, "--help"] for command in COMMANDS)):
        run(words)
        # What is typed is broken by argparse, at brackets.
        said += re.sub(r"(?s)^usage: .*?\n\n", "", capsys.readouterr().out)
    assert "harness" in said
    lines = said.splitlines()
    # An option with all that can be chosen stands alone in its line, whole.
    assert [line for line in lines if len(line) > columns and not line.startswith("  -")] == []
    broken = 0
    for line, after in pairwise(lines):
        indent = len(after) - len(after.lstrip())
        # A line under another one, in the column of what is said of a command or an option.
        if indent in (12, 24) and not line[indent - 2 : indent].strip() and line[indent : indent + 1].strip():
            broken += 1
            assert len(line) + 1 + len(after.split()[0]) > columns - 2, (line, after)
    assert broken > 3


def test_what_a_journal_complains_of_is_said_in_the_words_of_the_settings(draft, monkeypatch, capsys):
    def refuse(arguments):
        raise JournalError("tells of shaft 9, a fault and 'Colour trial'", place="/home/colour/x.journal")

    monkeypatch.setattr(backup, "run", refuse)
    assert run(["backup", "/media/colour"]) == 2
    assert "/home/colour/x.journal: tells of harness 9, a mistake and 'Colour trial'" in capsys.readouterr().err


def test_nothing_that_is_printed_as_it_stands_has_words_that_the_settings_change():
    # Such as the lines of backup, bundle, export and pedal: all others go through `spoken`.
    printed = [
        (file.name, part.value)
        for file in sorted(Path(commands.__file__).parent.glob("*.py"))
        for call in ast.walk(ast.parse(file.read_text(encoding="utf-8")))
        if isinstance(call, ast.Call) and isinstance(call.func, ast.Name) and call.func.id == "print"
        for part in ast.walk(call)
        if isinstance(part, ast.Constant) and isinstance(part.value, str)
    ]
    assert len(printed) > 50
    assert [words for words in printed if BRITISH.search(TYPED.sub("", words[1]))] == []


def test_words_in_quotation_marks_options_and_files_stay():
    line = "'Four shaft hem' and colours/shaft.wif: --shafts 4, the draft's shafts; the weaver's fault"
    kept = "'Four shaft hem' and colours/shaft.wif: --shafts 4, the draft's harnesses; the weaver's mistake"
    assert spoken(line, TRADE) == kept
