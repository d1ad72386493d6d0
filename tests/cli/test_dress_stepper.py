"""`fellside dress NAME` in a terminal: enter, b, q, and what stands in the journal then."""

from __future__ import annotations

import io

import pytest

from companion.cli.commands import run
from companion.journal.snapshots import progress_of
from companion.weaving.dressing_events import Dressed, DressingMistake, DressingTask, TaskState
from companion.weaving.events import Paused, ReTied, TreadleTied
from companion.workshop import app
from tests.draft.drafts import KEPT

THREADING = DressingTask.THREADING


@pytest.fixture
def dress(tmp_path, capsys, monkeypatch):
    """Put an overshot on the shelf; then feed lines to the stepper and return what it said."""
    monkeypatch.setenv("FELLSIDE_HOME", str(tmp_path))
    monkeypatch.setattr("sys.stdin", io.StringIO("q\n"))
    draft = str(KEPT / "overshot-four-shaft.txt")
    assert run(["weave", draft, "--name", "cover", "--text", "--treadles", "6", "--untied"]) == 0
    capsys.readouterr()

    def feed(*lines, options=()):
        monkeypatch.setattr("sys.stdin", io.StringIO("".join(f"{line}\n" for line in lines)))
        assert run(["dress", "cover", *options]) == 0
        said = capsys.readouterr()
        assert said.err == ""
        return said.out

    return feed


def kept():
    with app.shelf().open_to_read("cover") as journal:
        return progress_of(journal).now, list(journal.entries())


def test_enter_threads_a_group_and_b_takes_it_out(dress):
    out = dress("", "o threading", "", "", "b", "q")
    assert "Threading · group 1 of 10 · 0 of 90 ends threaded · ends 1 to 12\n    1 2 1 2 3 2 3 4 3 4 1 4\n" in out
    assert "  12 ends threaded\n  in this group, on shaft 1: 3   2: 3   3: 3   4: 3\n" in out
    now, entries = kept()
    assert now.dressing.of(THREADING).done == 12
    assert isinstance(entries[-1].event, Paused)


def test_after_days_the_last_threads_are_shown_and_it_goes_on_from_there(dress):
    dress("", "o thr", "", "", "q")
    out = dress("", "", "q")
    assert (
        "  from the left, where end 1 is\n"
        "  Does your threading look like this? … 3 2 3 4 3 4 1 4\n  ends to come on 1: 12   2: 21   3: 21   4: 12\n"
        in out
    )
    assert "Threading · group 3 of 10 · 24 of 90 ends threaded" in out
    assert kept()[0].dressing.of(THREADING).done == 32


def test_ends_are_taken_out_where_the_threading_looked_otherwise(dress):
    dress("", "o thr", "", "", "q")
    dress("t 5", "q")
    now, entries = kept()
    assert now.dressing.of(THREADING).done == 19
    assert any(getattr(entry.event, "looked_right", True) is False for entry in entries)


def test_the_whole_threading_enter_by_enter(dress):
    out = dress("o thr", *[""] * 10, "q")
    assert "90 of 90 ends threaded" not in out.splitlines()[-2]
    now, entries = kept()
    ends = [entry.event for entry in entries if isinstance(entry.event, Dressed)]
    assert sum(event.count for event in ends) == now.dressing.of(THREADING).done == 90


def test_end_by_end_other_groups_and_the_other_side(dress):
    out = dress("", "o thr", "f", "h", "", "h", "g 6", "", "q")
    assert "where end 90 is; f = from the other side" in out
    assert "end 90\n    4\n" in out
    assert kept()[0].dressing.of(THREADING).done == 6


def test_dents_are_planned_and_sleyed(dress):
    out = dress("", "o sl", "p 2", "r 10/in", "", "q")
    assert "Sleying · group 1 of 8 · 0 of 45 dents sleyed · ends 1 to 12" in out
    assert kept()[0].dressing.of(DressingTask.SLEYING).done == 6


def test_a_plan_for_other_ends_is_refused(dress):
    said = dress("", "o sl", "p (1 2)x10", "q")
    assert "! this plan has dents for 30 ends, and the warp has 90: repeat it until they agree" in said


def test_a_mistake_is_told_how_to_mend_and_noted(dress):
    out = dress("", "o thr", "", "m 5", "m 5 mended repair heddle", "q")
    assert (
        "end 5 belongs on shaft 3: put a repair heddle on that shaft, or take out 8 ends and thread them again" in out
    )
    events = [entry.event for entry in kept()[1]]
    assert DressingMistake(THREADING, 4, 4, True, "repair heddle") in events


def test_what_is_mended_later_is_named_in_the_list_until_it_is_mended(dress):
    dress("", "o thr", "", "m 13 crossed", "m shed 1 stuck", "q")
    assert "  2 to mend: end 13, shed 1 of the test weave\n" in dress("q")
    dress("m shed 1 mended tied anew", "m 13 mended", "q")
    assert "to mend" not in dress("l", "q")


def test_several_ends_and_a_dent_are_told_and_noted_too(dress):
    said = ("", "o thr", "", "m 9-7", "m 7-9 mended by hand", "m 99", "m dent 1", "o sl", "p 2", "", "m dent 3")
    out = dress(*said, "m dent 3 three in it", "q")
    assert "ends 7 to 9 belong on 3 4 3: put repair heddles there, or take out 6 ends and thread them again" in out
    assert "! the warp has no end 99; give 1 to 90" in out
    assert "dent 3 takes ends 5 to 6: take out 4 dents and sley them again" in out
    events = [entry.event for entry in kept()[1]]
    assert DressingMistake(THREADING, 6, 8, True, "by hand") in events
    assert DressingMistake(DressingTask.SLEYING, 2, 2, False, "three in it") in events


def test_where_nothing_hangs_yet_the_first_enter_is_the_first_step_and_after_a_break_it_says_that_it_looks_so(dress):
    dress("", "q")
    assert kept()[0].dressing.of(DressingTask.WINDING).done == 90
    dress("o thr", "", "q")
    out = dress("", "q")
    assert "  welcome back\n" in out
    assert kept()[0].dressing.of(THREADING).done == 12


def test_the_treadles_are_tied_one_by_one_and_are_tied_for_weaving_then(dress):
    from companion.weaving.state import re_tie_due

    out = dress("o tie", "", "", "b", "", *[""] * 4, "q")
    assert "Tie-up · 0 of 6 treadles tied · enter = this one is, d = all are\n    treadle 1: tie 1 2\n" in out
    assert out.count("Tie-up · 1 of 6 treadles tied") == 2
    now, entries = kept()
    assert now.dressing.of(DressingTask.TIE_UP).state is TaskState.DONE
    assert sum(isinstance(entry.event, TreadleTied) for entry in entries) == 8
    with app.shelf().open_to_read("cover") as journal:
        assert re_tie_due(journal.warp, now) is None


def test_all_treadles_said_to_be_tied_are_tied_for_weaving_too(dress):
    dress("o tie", "d", "q")
    assert any(isinstance(entry.event, ReTied) for entry in kept()[1])


def test_a_task_that_was_ended_is_opened_again_and_one_that_is_counted_out_by_taking_some_out(dress):
    dress("o head", "", "o head", "q")
    assert kept()[0].dressing.task is DressingTask.HEADING
    out = dress("o thr", "g 90", *[""] * 10, "o thr", "t 30 threading", "q")
    assert "! all 90 ends of threading are done; t N threading takes the last N out again" in out
    assert kept()[0].dressing.of(THREADING).done == 60


def test_the_test_weave_names_the_cord_or_the_end_to_look_at(dress):
    out = dress("", "o test", "", "w", "", *[""] * 4, "w two ends together", "e 40", "q")
    assert "Test weave · shed 2 of 8 · treadle 2 alone: shafts 2 3 up, 1 4 down" in out
    assert "look at the ties of treadle 2: tied to 2 3, and to nothing else" in out
    assert "look where two neighbours stand together" in out
    assert "end 38 on 2, end 39 on 1, end 40 on 2, end 41 on 1, end 42 on 2" in out


def test_everything_can_be_skipped_and_taken_back(dress):
    out = dress("s", "s", "s", "s", "s", "s", "s", "u", "u", "u", "l", "u", "q")
    assert "the loom is dressed" in out
    assert "Undo: heading skipped? u once more takes it back" in out
    assert "Undo: test weave skipped? u once more takes it back" in out
    assert "undone: heading skipped" in out
    states = [here.state for here in kept()[0].dressing.tasks]
    assert states == [TaskState.SKIPPED] * 5 + [TaskState.TO_DO] * 2


def test_a_plan_can_be_given_with_the_command_and_counts_know_it(dress, capsys):
    assert "Sleying · group 1 of 8" in dress("", "o sl", "q", options=["--sley", "2", "--reed", "10/in"])
    assert run(["dress", "cover", "--counts"]) == 0
    assert "45 dents, 11.4 cm wide" in capsys.readouterr().out


def test_what_is_only_counted_with_is_refused_while_stepping(dress, capsys):
    assert run(["dress", "cover", "--raddle", "1/cm"]) == 2
    assert "--raddle goes with --counts" in capsys.readouterr().err


def test_the_weavers_order_is_asked_for(dress):
    out = dress("", "s", "q", options=["--front-to-back"])
    assert out.index("Sleying: to do") < out.index("Threading: to do")
    assert "\nSleying · " in out


@pytest.mark.parametrize(
    ("line", "told"),
    [
        ("zz", "! no key 'zz'"),
        ("t 5", "! nothing of winding is done"),
        ("g 0", "! '0' is no number for the ends of a group"),
        ("g 100", "! groups of 100 ends"),
        ("o knitting", "! 'knitting' is no task"),
        ("m 91", "! the warp has no end 91; give 1 to 90"),
        ("p (1", "! (1: this bracket is not closed; write ) where it ends"),
        ("r fine", "! 'fine' is no reed"),
        ("n", "! an empty note"),
    ],
)
def test_a_slip_is_one_line_and_nothing_happens(dress, line, told):
    out = dress(line, "q")
    assert told in out
    assert not any(isinstance(entry.event, Dressed) for entry in kept()[1])


def test_every_key_is_listed(dress):
    out = dress("?", "q")
    for key in (
        "enter",
        "b",
        "a",
        "h",
        "g N",
        "t N",
        "f",
        "o TASK",
        "d",
        "s",
        "p PLAN",
        "m END",
        "e END",
        "w WORDS",
        "q",
    ):
        assert f"\n  {key} " in out
