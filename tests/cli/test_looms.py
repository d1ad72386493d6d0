"""`fellside looms`, and what `--loom` does in the commands that ask for a loom."""

from __future__ import annotations

import io
import json

import pytest

from companion.cli.commands import run
from companion.present.preferences import Preferences
from companion.remap.loom.feet_wish import TabbyPlace
from companion.workshop.places import asset
from companion.workshop.preference_file import save_preferences

WAFFLE = str(asset("drafts/waffle-four-shaft.txt"))
OVERSHOT = str(asset("drafts/overshot-four-shaft.txt"))
BARN = ("add", "Barn loom", "--shafts", "8", "--treadles", "10", "--width", "90", "--waste", "60")


@pytest.fixture(autouse=True)
def home(tmp_path, monkeypatch):
    monkeypatch.setenv("FELLSIDE_HOME", str(tmp_path / "home"))
    for name in ("DISPLAY", "WAYLAND_DISPLAY"):
        monkeypatch.delenv(name, raising=False)
    return tmp_path / "home"


@pytest.fixture
def fellside(capsys, monkeypatch):
    """Give a command its words, and what is typed at it; return exit status, stdout and stderr."""

    def ask(*words, typed=""):
        monkeypatch.setattr("sys.stdin", io.StringIO(typed))
        status = run(words)
        said = capsys.readouterr()
        return status, said.out, said.err

    return ask


def looms(fellside):
    return json.loads(fellside("looms", "--json")[1])["looms"]


def test_a_loom_is_added_changed_and_removed(fellside):
    assert fellside("looms")[1].startswith("no loom yet")
    assert fellside("looms", *BARN)[0] == 0
    assert fellside("looms", "change", "barn LOOM", "--present", "1 3, 2 4", "--waste", "55")[0] == 0
    assert looms(fellside) == [
        {
            "name": "Barn loom",
            "shafts": 8,
            "treadles": 10,
            "action": "rising",
            "reach": 1,
            "present": "1 3, 2 4",
            "width_cm": 90.0,
            "waste_cm": 55.0,
            "heddles": [],
            "tabby": "wherever",
            "first_foot": "either",
        }
    ]
    assert "tied now: 1 3, 2 4" in fellside("looms")[1]
    assert fellside("looms", "change", "Barn loom", "--present", "unknown")[0] == 0
    assert looms(fellside)[0]["present"] is None
    assert fellside("looms", "remove", "Barn loom")[0] == 0
    assert looms(fellside) == []


def test_where_tabby_lies_is_kept_with_the_loom_and_an_option_says_otherwise(fellside):
    fellside("looms", *BARN, "--tabby", "left", "--first-foot", "right")
    assert "  feet: tabby left, right foot first" in fellside("looms")[1].splitlines()
    assert "tabby left (1 2), pattern right" in fellside("remap", OVERSHOT, "--loom", "Barn loom")[1]
    assert (
        "tabby right (5 6), pattern left" in fellside("remap", OVERSHOT, "--loom", "Barn loom", "--tabby", "right")[1]
    )
    wished = json.loads(fellside("remap", OVERSHOT, "--loom", "Barn loom", "--treadles", "4", "--json")[1])["wish"]
    assert wished == {"tabby": "left", "first_foot": "right", "kept": False}
    fellside("looms", "change", "Barn loom", "--tabby", "wherever", "--first-foot", "either")
    assert "feet:" not in fellside("looms")[1]


def test_the_settings_wish_where_the_loom_leaves_it_open(fellside, home):
    fellside("looms", *BARN)
    save_preferences(home / "settings.json", Preferences(tabby=TabbyPlace.LEFT))
    assert "tabby left (1 2)" in fellside("remap", OVERSHOT, "--loom", "Barn loom")[1]
    assert "tabby right (5 6)" in fellside("remap", OVERSHOT, "--loom", "Barn loom", "--tabby", "wherever")[1]
    assert looms(fellside)[0]["tabby"] == "wherever"


@pytest.mark.parametrize("words", [("--aim", "feet"), ("--plain-weave",)])
def test_what_chooses_a_tie_up_is_said_to_change_none_on_the_shelf(fellside, words):
    begun = ("weave", OVERSHOT, "--text", "--treadles", "6")
    assert fellside(*begun, typed="\nq\n")[0] == 0
    status, out, err = fellside(*begun, *words, typed="q\n")
    assert status == 0
    assert "pick 2" in out.lower()
    assert len(err.splitlines()) == 1
    assert f"keeps the tie-up that it has; {' '.join(words)} is for a new warp" in err


@pytest.mark.parametrize(
    ("words", "complaint"),
    [
        (("looms", "add"), "which loom?"),
        (("looms", "add", "New"), "give --shafts N"),
        (("looms", "add", "New", "--shafts", "4"), "how many treadles has the loom?"),
        (("looms", "add", "New", "--shafts", "4", "--treadles", "21"), "say 1 to 20"),
        (("looms", "add", "New", "--shafts", "4", "--treadles", "4", "--present", "1 9"), "name shafts 1 to 4"),
        (("looms", "add", "New", "--shafts", "4", "--treadles", "4", "--width", "0"), "a weaving width of 0 cm"),
        (("looms", "add", "New", "--shafts", "4", "--treadles", "4", "--waste", "nan"), "a loom waste of nan cm"),
        (("looms", "add", "loom", "--shafts", "4", "--treadles", "4"), "a loom without a name"),
        (("looms", *BARN), "is kept already"),
        (("looms", "change", "shed"), "the looms here are: Barn loom"),
        (("looms", "remove", "shed"), "the looms here are: Barn loom"),
        (("looms", "--treadles", "4"), "--treadles goes with"),
        (("looms", "--first-foot", "left"), "--first-foot goes with"),
        (("remap", WAFFLE, "--loom", "Barn loom", "--tabby", "top"), "argument --tabby: invalid choice"),
        (("looms", "sell", "Barn loom"), "invalid choice"),
        (("remap", WAFFLE, "--loom", "shed"), "--loom: no loom is called 'shed'; the looms here are: Barn loom"),
        (("weave", WAFFLE, "--text", "--loom", "shed"), "the looms here are: Barn loom"),
        (("pieces", WAFFLE, "--loom", "shed"), "the looms here are: Barn loom"),
        (("amounts", WAFFLE, "--loom", "shed"), "the looms here are: Barn loom"),
        (("weave", WAFFLE, "--text", "--loom", "Barn loom", "--width", "91"), "weaves 90 cm"),
    ],
)
def test_what_cannot_be_is_one_line_and_status_2(fellside, words, complaint):
    fellside("looms", *BARN)
    before = looms(fellside)
    status, out, err = fellside(*words)
    assert (status, out) == (2, "")
    assert len(err.splitlines()) == 1
    assert complaint in err
    assert looms(fellside) == before


def test_a_spoilt_file_of_looms_is_told_of_and_left_as_it_is(fellside, home):
    home.mkdir()
    (home / "looms.json").write_text("{", encoding="utf-8")
    status, out, err = fellside("looms", *BARN)
    assert (status, out, len(err.splitlines())) == (2, "", 1)
    assert (home / "looms.json").read_text(encoding="utf-8") == "{"


def test_the_cords_to_change_are_counted_from_what_is_tied_now(fellside):
    fellside("looms", *BARN)
    status, out, _ = fellside("remap", WAFFLE, "--loom", "Barn loom", "--json")
    told = json.loads(out)
    assert (status, told["loom"]["treadles"], told.get("cords")) == (0, 10, None)
    tied = ", ".join(" ".join(map(str, tie)) or "-" for tie in told["tieup"])
    fellside("looms", "change", "Barn loom", "--present", tied)
    assert json.loads(fellside("remap", WAFFLE, "--loom", "Barn loom", "--json")[1])["cords"]["changed"] == 0
    overridden = json.loads(fellside("remap", WAFFLE, "--loom", "Barn loom", "--treadles", "6", "--json")[1])
    assert overridden["loom"]["treadles"] == 6


def test_what_is_tied_at_the_loom_is_noted_for_it(fellside):
    fellside("looms", *BARN)
    assert fellside("weave", WAFFLE, "--text", "--loom", "barn loom", typed="\nq\n")[0] == 0
    first = looms(fellside)[0]["present"]
    assert first is not None
    # Something else was tied meanwhile: then the weaver says when the warp's own tie-up is on again.
    fellside("looms", "change", "Barn loom", "--present", "1, 2, 3")
    status, out, err = fellside("weave", WAFFLE, "--text", "--name", "Second", "--loom", "Barn loom", typed="q\n")
    assert (status, err) == (0, "")
    assert "first tie the treadles" in out
    meanwhile = looms(fellside)[0]["present"]
    assert meanwhile.startswith("1, 2, 3")
    fellside("weave", "Second", "--text", typed="\n\n\nq\n")
    assert looms(fellside)[0]["present"] != meanwhile


def test_a_file_of_looms_that_cannot_be_written_never_disturbs_the_weaving(fellside, home):
    fellside("looms", *BARN)
    (home / "looms.json").write_text("{", encoding="utf-8")
    status, out, _ = fellside("weave", WAFFLE, "--text", "--treadles", "6", typed="\n\nq\n")
    assert status == 0
    assert "2 picks lie in the cloth" in out


@pytest.mark.parametrize(
    ("words", "complaint"),
    [
        (("--treadles", "8"), "is on the shelf with --treadles 6 and stays so; leave --treadles 8 out"),
        (("--loom", "Barn loom"), "with --loom loom"),
        (("--tabby", "left"), "with --tabby wherever"),
        (("--first-foot", "left"), "with --first-foot either"),
        (("--width", "40"), "without --width"),
        (("--fringe", "5"), "with --fringe 20"),
        (("--yarn", "sage 30 tex"), 'with --yarn "sage 36.9088 tex"'),
        (("--yarn", "natural 30 tex"), "without --yarn"),
    ],
)
def test_what_contradicts_the_warp_on_the_shelf_is_told(fellside, words, complaint):
    begun = ("weave", WAFFLE, "--text", "--treadles", "6", "--fringe", "20", "--yarn", "sage 16 cotton")
    assert fellside(*begun, typed="\nq\n")[0] == 0
    assert fellside(*begun, typed="q\n")[0] == 0
    for what in (WAFFLE, "Wash cloth for the bath house at Otter Wyke"):
        status, out, err = fellside("weave", what, "--text", *words)
        assert (status, out, len(err.splitlines())) == (2, "", 1)
        assert complaint in err
