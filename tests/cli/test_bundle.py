"""`fellside bundle`, as typed."""

import json
import shlex

import pytest

from companion.cli.commands import run
from companion.journal.shelf import shelf_of_weaver
from companion.weaving.events import PickWoven
from tests.journal.warps import long_warp


@pytest.fixture
def device(tmp_path, monkeypatch):
    """Turns to the device of this name, each with a folder of its own."""

    def turn_to(name):
        monkeypatch.setenv("FELLSIDE_HOME", str(tmp_path / name))
        return shelf_of_weaver()

    return turn_to


@pytest.fixture
def file(device, tmp_path, capsys):
    with device("home").create("Blue shawl", long_warp(8), at_ms=0) as journal:
        journal.append(PickWoven(0), 0)
    assert run(["bundle", "blue shawl", "--out", str(tmp_path / "shawl.zip")]) == 0
    capsys.readouterr()
    return str(tmp_path / "shawl.zip")


def test_a_warp_goes_out_and_comes_in(device, file, capsys):
    device("class room")
    assert run(["bundle", "--in", file]) == 0
    assert capsys.readouterr().out.splitlines()[0] == "Blue shawl: brought in, 1 entries"
    assert run(["bundle", "--in", file]) == 0
    assert "nothing to do" in capsys.readouterr().out
    with shelf_of_weaver().open_to_read("Blue shawl") as journal:
        assert journal.last_number == 1


def test_json_goes_alone_to_stdout(device, file, tmp_path, capsys):
    assert run(["bundle", "Blue shawl", "--out", str(tmp_path / "b.zip"), "--json"]) == 0
    assert json.loads(capsys.readouterr().out) == {
        "warp": "Blue shawl",
        "entries": 1,
        "file": str(tmp_path / "b.zip"),
    }
    device("class room")
    assert run(["bundle", "--in", file, "--as", "From home", "--json"]) == 0
    told = json.loads(capsys.readouterr().out)
    assert told.pop("loom_to_add").startswith("fellside looms add 'Floor loom' ")
    assert told == {"warp": "From home", "outcome": "new", "added": 1, "entries": 1}


def test_the_words_that_keep_the_loom_of_a_bundle_do_so_with_its_tie_up(device, file, capsys):
    device("class room")
    assert run(["bundle", "--in", file]) == 0
    words = shlex.split(capsys.readouterr().out.splitlines()[1].partition(": ")[2])
    assert run(words[1:]) == 0
    assert "Floor loom: 4 shafts, 4 treadles" in capsys.readouterr().out
    assert run(["bundle", "--in", file]) == 0
    assert len(capsys.readouterr().out.splitlines()) == 1


@pytest.mark.parametrize(
    ("words", "says"),
    [
        ([], "one of the arguments --out --in is required"),
        (["--out", "a.zip"], "which warp? Give its name"),
        (["Blue shawl", "--in", "a.zip"], "a bundle knows its warp's name"),
        (["Blue shawl", "--out", "a.zip", "--as", "b"], "--as goes with --in"),
        (["rug", "--out", "a.zip"], "no warp is called 'rug'; the warps here are: Blue shawl"),
        (["--in", "nowhere.zip"], "nowhere.zip: No such file or directory"),
        (["--in", __file__], "is damaged or no bundle"),
    ],
)
def test_wrong_use_is_one_line(file, capsys, words, says):
    assert run(["bundle", *words]) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert says in err
    assert err.count("\n") == 1
