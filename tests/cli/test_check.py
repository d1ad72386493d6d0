"""`fellside check` says in text and in JSON what the draft room found, and refuses bad files in one line."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest

from companion.cli.commands import run
from companion.draft.model import Section
from companion.draft.wif_write import write_wif
from tests.draft.drafts import draft_of
from tests.oracles import png_reader

TWILL = {"threading": [1, 2, 3, 4] * 5, "tieup": [[1, 2], [2, 3], [3, 4], [1, 4]], "treadling": [1, 2, 3, 4] * 3}


@pytest.fixture
def check(tmp_path, capsys):
    """Write a draft (or bytes) to a file, check it, and return (exit status, stdout, stderr)."""

    def check_it(draft, *options):
        path = tmp_path / "draft.wif"
        path.write_bytes(draft if isinstance(draft, bytes) else write_wif(draft))
        status = run(["check", str(path), *options])
        said = capsys.readouterr()
        return status, said.out, said.err

    return check_it


def facts(check, draft, *options):
    status, out, err = check(draft, "--json", *options)
    assert (status, err) == (0, "")
    return json.loads(out)


def test_a_sound_twill_in_numbers(check):
    found = facts(check, draft_of(**TWILL, title="Fell twill"))
    assert found["draft"] == {
        "title": "Fell twill",
        "shafts": 4,
        "treadles": 4,
        "picks": 12,
        "ends": 20,
        "sheds": 4,
        "rising": True,
    }
    assert {tuple(shed["shafts"]): shed["picks"] for shed in found["sheds"]} == {
        (1, 2): 3,
        (2, 3): 3,
        (3, 4): 3,
        (1, 4): 3,
    }
    assert [floats["length"] for floats in found["floats"]] == [2, 2, 2, 2]
    assert found["tabby"] == [[1, 3], [2, 4]]
    assert found["hangs_together"] is True
    assert [len(layer["ends"]) for layer in found["layers"]] == [20]
    assert found["never_interlacing"] == {"ends": [], "picks": []}
    assert [(shuttle["name"], shuttle["picks"], shuttle["start_at_end"]) for shuttle in found["shuttles"]] == [
        ("indigo", 12, 20)
    ]
    assert found["floating_selvedge"] is False
    assert found["warnings"] == []


def test_a_sound_twill_in_words(check):
    status, out, err = check(draft_of(**TWILL, title="Fell twill"))
    assert (status, err) == (0, "")
    lines = [line.strip() for line in out.splitlines()]
    assert lines[0] == "Fell twill"
    assert "4 shafts, 4 treadles, 20 ends, 12 picks" in lines
    assert "4 different; shafts raised:" in lines
    assert "1 2  3 picks" in lines
    assert "plain weave on this threading: 1 3 against 2 4" in lines
    assert "weft on the face: 2 (pick 1 over ends 3-4, and 56 more)" in lines
    assert "hangs together in one layer" in lines
    assert "indigo: 12 picks; starts from the right, no turn misses its edge" in lines
    assert "To look at before weaving" not in lines


def test_a_threading_without_plain_weave_says_so(check):
    draft = draft_of(threading=[1, 2, 3] * 3, plan=[[1, 2], [2, 3], [1, 3]])
    assert facts(check, draft)["tabby"] is None
    assert "no plain weave on this threading" in check(draft)[1]


def test_a_float_is_placed_by_its_thread_and_the_threads_it_passes(check):
    found = facts(check, draft_of(threading=[1, 2, 2, 2, 1], plan=[[1], [2], [2], [1]]))
    by_kind = {(floats["threads"], floats["surface"]): floats for floats in found["floats"]}
    assert by_kind["weft", "face"]["length"] == 3
    assert by_kind["weft", "face"]["places"] == [{"pick": 1, "ends": [2, 4]}, {"pick": 4, "ends": [2, 4]}]
    assert by_kind["warp", "face"]["length"] == 2
    assert by_kind["warp", "face"]["places"][0] == {"end": 2, "picks": [2, 3]}
    assert by_kind["warp", "face"]["count"] == 3


def test_a_double_cloth_is_told_layer_by_layer(check):
    """C. P. Brooks, Cotton Manufacturing (1888), p. 69: only the selvedges join the two cloths."""
    draft = draft_of(threading=[1, 2, 3, 4] * 3, plan=[[1], [1, 2, 4], [2], [1, 2, 3]] * 3)
    found = facts(check, draft)
    assert found["hangs_together"] is False
    assert found["layers"] == [
        {"ends": [1, 2, 5, 6, 9, 10], "picks": [1, 3, 5, 7, 9, 11]},
        {"ends": [3, 4, 7, 8, 11, 12], "picks": [2, 4, 6, 8, 10, 12]},
    ]
    assert found["joins"] == [{"upper": 1, "lower": 2, "joined": "joined at both edges"}]
    _, out, _ = check(draft)
    assert "does not hang together: 2 cloths, the topmost first" in out
    assert "1 and 2: the weft joins them at both edges: a tube" in out


def test_loose_threads_are_named(check):
    draft = draft_of(threading=[1, 2, 1, 2, None, 1], plan=[[1], [2], [1, 2], [1], [2]])
    found = facts(check, draft)
    assert found["never_interlacing"]["ends"] == [5]
    _, out, _ = check(draft)
    assert "one cloth hangs together" in out
    assert "nothing holds end 5" in out


def test_warnings_name_their_places_from_one(check):
    draft = draft_of(threading=[1, 2], tieup=[[1], [2], [1]], treadling=[1, 1, 2, 2, 1])
    warnings = facts(check, draft)["warnings"]
    assert {"what": "the same shuttle goes back through the same shed", "picks": [2, 4]} in warnings
    assert {"what": "a treadle is never pressed", "treadles": [3]} in warnings
    assert {"what": "treadles are tied alike", "treadles": [1, 3]} in warnings
    assert {"what": "a shuttle ends on the side opposite to its start", "shuttle": "indigo"} in warnings
    _, out, _ = check(draft)
    assert "  the same shuttle goes back through the same shed: picks 2, 4\n" in out
    assert "  a shuttle ends on the side opposite to its start: indigo, over the whole piece\n" in out


def test_unbalanced_sheds_are_told_for_the_looms_on_which_they_matter(check):
    rising = draft_of(threading=[1, 2, 3, 4], plan=[[1], [2, 3, 4]] * 2)
    told = [
        "a shed is far from balanced" in [warning["what"] for warning in facts(check, rising, *options)["warnings"]]
        for options in ((), ("--action", "sinking"), ("--action", "countermarche"), ("--action", "levers"))
    ]
    assert told == [False, True, False, False]
    sinking = draft_of(threading=[1, 2, 3, 4], tieup=[[1], [2, 3, 4]], treadling=[1, 2], rising=False)
    assert "a shed is far from balanced" in [warning["what"] for warning in facts(check, sinking)["warnings"]]
    assert "written for a sinking shed" in check(sinking)[1]


def test_sections_are_listed(check):
    sections = (Section("hem", 4), Section("body", 8))
    found = facts(check, draft_of(**TWILL, sections=sections))
    assert [(section["name"], section["picks"]) for section in found["sections"]] == [("hem", 4), ("body", 8)]


def test_what_the_reader_put_up_with_is_told(check):
    """A file without its contents section: tolerated, and told."""
    plain = write_wif(draft_of(**TWILL)).decode("latin-1")
    start = plain.index("[CONTENTS]")
    without = plain[:start] + plain[plain.index("[", start + 1) :]
    found = facts(check, without.encode("latin-1"))
    assert len(found["deviations"]) > 0
    assert all(deviation["what"] for deviation in found["deviations"])
    _, out, _ = check(without.encode("latin-1"))
    assert "Where the file departs from the standard" in out
    assert found["deviations"][0]["what"] in out


def test_a_long_list_of_places_is_cut_short_in_words_and_whole_in_json(check):
    draft = draft_of(threading=[1, 2], plan=[[1], [1], [2]] * 20)
    picks = list(range(2, 61, 3))
    assert {"what": "the same shuttle goes back through the same shed", "picks": picks} in facts(check, draft)[
        "warnings"
    ]
    assert "picks 2, 5, 8, 11, 14, 17, 20, 23 and 12 more" in check(draft)[1]


def test_pictures_are_drawn_into_a_folder(check, tmp_path):
    folder = tmp_path / "new" / "pictures"
    names = [str(folder / f"draft-{what}.png") for what in ("drawdown", "face", "back")]
    draft = draft_of(**TWILL)
    assert facts(check, draft, "--pictures", str(folder))["pictures"] == names
    sizes = [tuple(map(len, (rows := png_reader.read(Path(name).read_bytes()), rows[0]))) for name in names]
    # 12 picks and 20 ends: squares of 10 pixels with a line round them; then threads of 0.1 cm at 40 pixels to the cm.
    assert sizes == [(121, 201), (48, 80), (48, 80)]
    assert check(draft, "--pictures", str(folder))[1].endswith(f"drawn: {names[2]}\n")


def test_a_folder_that_cannot_be_written_to_and_a_draft_without_cloth_are_one_line(check, tmp_path):
    (tmp_path / "file").write_text("not a folder")
    status, out, err = check(draft_of(**TWILL), "--pictures", str(tmp_path / "file"))
    assert (status, out, err.count("\n")) == (2, "", 1)
    status, out, err = check(draft_of(threading=[1, 2], plan=[]), "--pictures", str(tmp_path / "folder"))
    assert (status, out, err.count("\n")) == (2, "", 1)
    assert "no cloth" in err


@pytest.mark.parametrize("data", [b"", b"\x00\xff\x00", b"[WIF]\nVersion=1.1\n", b"hello"])
def test_a_bad_file_is_one_line_and_exit_2(check, data):
    status, out, err = check(data)
    assert status == 2
    assert out == ""
    assert err.startswith("fellside check: ")
    assert err.count("\n") == 1


def test_a_missing_file_is_one_line_and_exit_2(tmp_path, capsys):
    assert run(["check", str(tmp_path / "none.wif")]) == 2
    said = capsys.readouterr()
    assert said.out == ""
    assert said.err.count("\n") == 1
    assert "none.wif" in said.err


ROOT = Path(__file__).resolve().parents[2]
HELP = (ROOT / "assets" / "help" / "checking.md").read_text(encoding="utf-8")
EXAMPLES = re.findall(r"```\n\$ fellside (.*)\n((?:.|\n)*?)```", HELP)


@pytest.mark.parametrize(("words", "output"), EXAMPLES, ids=[words for words, _ in EXAMPLES])
def test_the_page_of_help_shows_what_the_program_says(words, output, capsys, monkeypatch):
    monkeypatch.chdir(ROOT)
    assert run(words.split()) == 0
    assert capsys.readouterr().out == output


def test_the_page_of_help_has_its_three_examples():
    assert [words.split()[0] for words, _ in EXAMPLES] == ["check", "picks", "picks"]


def test_a_slip_in_shorthand_is_one_line_with_a_caret_before_the_place(check):
    status, out, err = check(b"threading: 1-4\ntie-up: 1 2, 3 4\ntreadling: 1 2 3")
    assert (status, out) == (2, "")
    assert err.endswith("line 3, column 16: 3 is too much for a treadle; at most 2 | treadling: 1 2 ^3\n")
    assert err.count("\n") == 1


def test_without_picks_nothing_is_said_of_a_cloth_that_is_not_there(check):
    status, out, _ = check(b"threading: 1-4")
    assert status == 0
    assert "none yet: 4 ends, 0 picks" in out
    assert "does not hang together" not in out
