"""The flows at the loom, without a window: chains of questions that end in commands."""

from __future__ import annotations

from dataclasses import replace
from functools import partial

import pytest

from companion.draft.facing import FROM_LEFT
from companion.draft.model import Section
from companion.draft.units import Units
from companion.present.asking import Answered, Asked, Elsewhere
from companion.present.elsewhere import ask_elsewhere, possible_moves
from companion.present.fault import ask_fault
from companion.present.letters import KeyboardLayout
from companion.present.measure import ask_measure
from companion.present.note import PHRASES, ask_note
from companion.present.preferences import LeaveSettings, Preferences, dressing_way
from companion.present.resume import ask_resume
from companion.present.settings_asked import ask_preferences
from companion.present.squares import SQUARES
from companion.present.start import OpenWarp, PutOnLoom
from companion.present.weave import WeaveButton
from companion.present.which_warp import ask_start
from companion.remap.loom.loom import Action
from companion.weaving.decide import jump, note_fault, pause, resume, write_note
from companion.weaving.dressing import FRONT_TO_BACK
from companion.weaving.events import (
    BobbinChanged,
    Entry,
    FaultKind,
    FaultNoted,
    FaultSettled,
    FaultState,
    Jumped,
    LengthMeasured,
    NoteWritten,
    PieceFinished,
    PieceStarted,
    Resumed,
)
from companion.weaving.onward import onward
from companion.weaving.progress import begin, evolve
from tests.screens.warps import twill_warp
from tests.weaving.world import lever_draft, lever_warp


def woven(warp, *commands):
    progress = begin(warp)
    for number, command in enumerate(commands, 1):
        progress = evolve(warp, progress, Entry(number, 1000 * number, command(warp, progress)))
    return progress


def follow(asked, *words):
    """Give these answers, one after another, and return what the last one leads to."""
    outcome = asked
    for word in words:
        answers = (*outcome.answers, *outcome.pad, *outcome.foot)
        outcome = next(answer for answer in answers if answer.words == word).leads_to()
    return outcome


def events_of(warp, progress, outcome):
    events = []
    for number, command in enumerate(outcome.result, progress.now.number + 1):
        events.append(command(warp, progress))
        progress = evolve(warp, progress, Entry(number, 10**6 + number, events[-1]))
    return events


IN_PICKS = [kind for kind in FaultKind if not kind.of_loom]


@pytest.mark.parametrize("kind", IN_PICKS)
@pytest.mark.parametrize(
    ("words", "state"),
    [("Mended", FaultState.MENDED), ("Mend later", FaultState.FOUND), ("Leave it", FaultState.LEFT)],
)
def test_a_fault_two_rows_down_is_noted_at_its_pick(kind, words, state):
    warp = twill_warp()
    progress = woven(warp, *[onward] * 5)
    outcome = follow(
        ask_fault(warp, progress, FROM_LEFT), kind.value.capitalize(), "One row lower", "One row lower", words
    )
    assert events_of(warp, progress, outcome) == [FaultNoted(kind, 2, None, state)]


@pytest.mark.parametrize(
    ("words", "end"),
    [
        (["Count from the left", "1", "2"], 11),
        (["Count from the right", "3"], -3),
        # On a straight threading of four shafts the third heddle of shaft 2 is end 10.
        (["Heddle on shaft 2", "Count from the left", "3"], 9),
        (["Count from the left", "0", "9", "9", "9", "Delete", "7"], 6),
    ],
)
def test_the_end_of_a_broken_end_can_be_said_before_its_pick_and_state(words, end):
    warp = twill_warp()
    ends = warp.pieces[0].draft.ends
    assert 12 <= ends < 99
    progress = woven(warp, *[onward] * 5)
    asked = follow(ask_fault(warp, progress, FROM_LEFT), "Broken end", "Say which end", *words, "Done")
    back = f", {-end} from the right" if end < 0 else ""
    assert f"end {end % ends + 1} from the left{back}, on shaft" in asked.words
    noted = events_of(warp, progress, follow(asked, "One row lower", "Mend later"))
    assert noted == [FaultNoted(FaultKind.BROKEN_END, 3, end % ends, FaultState.FOUND)]
    noted, *_ = follow(asked, "Unweave to it", "It is out").result.commands
    assert noted(warp, progress).end == end % ends


def test_the_way_back_to_the_loom_has_a_stripe_of_the_yarn_that_comes_next():
    warp = twill_warp()
    yarns = warp.pieces[0].draft.yarns
    for picks, yarn in ((0, 0), (1, 0), (2, 1), (3, 1), (4, 0)):
        progress = woven(warp, *[onward] * picks, pause)
        first = ask_resume(warp, progress, FROM_LEFT, Units.METRIC, away_ms=0).answers[0]
        assert first.yarn == yarns[yarn].colour


def test_a_fault_takes_three_touches_and_only_faults_of_an_end_offer_one():
    warp = twill_warp()
    progress = woven(warp, *[onward] * 5)
    for kind in IN_PICKS:
        asked = follow(ask_fault(warp, progress, FROM_LEFT), kind.value.capitalize())
        assert isinstance(follow(asked, "Mended"), Answered)
        offered = "Say which end" in [answer.words for answer in asked.answers]
        assert offered == (kind in {FaultKind.BROKEN_END, FaultKind.SKIPPED_END})


def test_the_rows_beside_a_question_are_those_of_the_journal_jumps_and_all():
    warp = twill_warp()
    progress = woven(warp, onward, onward, lambda w, p: jump(w, p, 6), onward, onward)
    # The whole cloth stays in sight; the row that is spoken of is marked in it.
    for lower, marked in (((), 0), (("One row lower",) * 2, 2)):
        asked = follow(ask_fault(warp, progress, FROM_LEFT), "Other", *lower)
        assert (asked.rows, asked.marked) == ((7, 6, 1, 0), marked)
        assert f"in pick {asked.rows[marked] + 1}" in asked.words


def test_a_loom_without_cloth_is_not_asked_whether_its_cloth_looks_right():
    warp = lever_warp(lever_draft([0, 1] * 4))
    asked = ask_resume(warp, woven(warp, pause), FROM_LEFT, Units.METRIC, 0)
    assert (asked.words, asked.main.words, asked.with_cloth) == ("No pick is woven yet", "Begin to weave", False)
    assert follow(asked, "Begin to weave") == Answered((resume,))


def test_no_row_lies_below_the_first_pick_and_none_above_the_newest():
    warp = twill_warp()
    asked = follow(ask_fault(warp, woven(warp, onward), FROM_LEFT), "Other")
    assert not {"One row lower", "One row higher"} & {answer.words for answer in asked.answers}


def test_the_next_section_is_offered_only_where_there_is_one():
    sections = [Section("border", 8), Section("body", 16)]
    for draft, offered_until in ((lever_draft([0, 1, 2] * 8, sections), 8), (lever_draft([0, 1, 2] * 8), 0)):
        warp = lever_warp(draft)
        for picks in (1, 7, 8, 20, 24):
            moves = [words for words, _ in possible_moves(warp, woven(warp, *[onward] * picks))]
            assert ("On to the next section" in moves) == (picks < offered_until), picks


def test_a_fault_to_mend_later_is_settled_later():
    warp = twill_warp()
    progress = woven(warp, onward, partial(note_fault, kind=FaultKind.OTHER, pick=0), onward)
    asked = follow(ask_fault(warp, progress, FROM_LEFT), "Fault 1 is settled")
    assert "pick 1" in asked.words
    settled = FaultSettled(0, FaultState.MENDED, "with a needle")
    assert events_of(warp, progress, follow(asked, "Mended with a needle")) == [settled]


def test_a_fresh_bobbin_is_noted_with_its_length_or_without():
    warp = twill_warp()
    progress = woven(warp, onward)
    asked = ask_note(warp, progress, Units.METRIC)
    bobbin, *_ = [answer.words for answer in asked.answers if answer.words.startswith("New bobbin")]
    asked = follow(asked, bobbin)
    assert events_of(warp, progress, follow(asked, "2", "4", "Done")) == [BobbinChanged(0, 24.0)]
    assert events_of(warp, progress, follow(asked, "Not known")) == [BobbinChanged(0, None)]


def test_only_moves_that_can_be_made_are_offered_and_each_is_one_event():
    warp = twill_warp()
    progress = woven(warp, onward)
    moves = [answer.words for answer in ask_elsewhere(warp, progress).answers]
    assert not any("once more" in words for words in moves)
    (left_out,) = events_of(
        warp,
        progress,
        follow(ask_elsewhere(warp, progress), "Leave out one pick"),
    )
    assert left_out == Jumped(2, "skipped")
    assert events_of(warp, progress, follow(ask_elsewhere(warp, progress), "End the piece here")) == [PieceFinished()]


def test_the_section_woven_once_more_is_named_since_the_next_pick_is_in_another():
    warp = lever_warp(lever_draft([0] * 8, (Section("Hem", 2), Section("", 2), Section("Body", 4))))
    for picks, words, first in ((2, "Hem once more", 0), (4, "Section once more", 2)):
        progress = woven(warp, *[onward] * picks)
        again = follow(ask_elsewhere(warp, progress), words)
        assert events_of(warp, progress, again) == [Jumped(first, "section once more")]


def test_where_nothing_is_woven_there_is_nothing_to_measure_and_only_the_loom_can_be_wrong():
    warp = twill_warp()
    asked = ask_measure(warp, begin(warp), Units.METRIC)
    assert [answer.leads_to() for answer in asked.answers] == [Answered(())]
    asked = ask_fault(warp, begin(warp), FROM_LEFT)
    assert [answer.words for answer in asked.answers] == ["Threading, sleying, tie-up"]


def test_a_length_is_typed_to_a_millimetre_and_noted_as_the_weaver_says():
    warp = twill_warp()
    progress = woven(warp, *[onward] * 4)
    outcome = follow(ask_measure(warp, progress, Units.METRIC), "1", ".", "1", "9", "Relaxed")
    assert events_of(warp, progress, outcome) == [LengthMeasured(1.1, under_tension=False)]


def test_in_inches_a_length_is_typed_to_eighths_and_kept_in_cm():
    warp = twill_warp()
    progress = woven(warp, *[onward] * 4)
    asked = ask_measure(warp, progress, Units.INCH)
    assert asked.words == "Woven: … in"
    outcome = follow(asked, *"7.875", "Under tension")
    assert events_of(warp, progress, outcome) == [LengthMeasured(7.875 * 2.54)]


def test_no_length_is_noted_that_nobody_typed():
    warp = twill_warp()
    asked = ask_measure(warp, woven(warp, *[onward] * 4), Units.METRIC)
    assert [answer.words for answer in (*asked.answers, *asked.foot)] == ["", ""]


def test_a_length_far_from_what_the_picks_should_measure_is_asked_for_once_more():
    warp = twill_warp()
    warp = replace(warp, pieces=tuple(replace(piece, picks_per_cm=2.0) for piece in warp.pieces))
    progress = woven(warp, *[onward] * 4)
    asked = ask_measure(warp, progress, Units.METRIC)
    assert "by the picks about 2 cm" in asked.detail
    assert events_of(warp, progress, follow(asked, "2", ".", "9", "Under tension")) == [LengthMeasured(2.9)]
    doubted = follow(asked, "9", ".", "2", "Under tension")
    assert doubted.words == "Is it really 9.2 cm?"
    assert [answer.words for answer in doubted.answers] == ["Measure again", "Yes, it measures that"]
    assert events_of(warp, progress, follow(doubted, "Yes, it measures that")) == [LengthMeasured(9.2)]
    assert follow(doubted, "Measure again").words == asked.words


def test_in_yards_a_bobbin_is_kept_in_metres():
    warp = twill_warp()
    progress = woven(warp, onward)
    asked = ask_note(warp, progress, Units.INCH)
    bobbin, *_ = [answer.words for answer in asked.answers if answer.words.startswith("New bobbin")]
    asked = follow(asked, bobbin, "2", "4")
    assert asked.words.endswith(": 24 yd")
    (changed,) = events_of(warp, progress, follow(asked, "Done"))
    assert changed == BobbinChanged(0, pytest.approx(24 * 0.9144))


def test_every_phrase_is_noted_word_for_word():
    warp = twill_warp()
    for phrase in PHRASES:
        asked = ask_note(warp, begin(warp), Units.METRIC)
        assert events_of(warp, begin(warp), follow(asked, phrase)) == [NoteWritten(phrase)]


def test_coming_back_tells_the_last_pick_its_shuttle_the_time_the_next_pick_and_the_note():
    warp = twill_warp()
    progress = woven(warp, onward, lambda w, p: write_note(w, p, "tight edge"), pause)
    asked = ask_resume(warp, progress, FROM_LEFT, Units.METRIC, away_ms=2 * 86_400_000)
    for part in ("Last pick 1, oat wool on the left", "2 days ago", "next ", "oat wool from the left", "tight edge"):
        assert part in asked.detail
    assert events_of(warp, progress, follow(asked, "Yes, weave on")) == [Resumed()]
    assert follow(asked, "Another warp") == Answered(Elsewhere.OTHER_WARP)


def test_the_squares_of_a_gamp_are_offered_at_its_end_though_its_draft_names_none():
    warp = lever_warp(lever_draft([0, 1]))
    at_end, before = woven(warp, onward, onward, pause), woven(warp, onward, pause)
    for progress, found, offered in ((at_end, True, True), (at_end, False, False), (before, True, False)):
        asked = ask_resume(warp, progress, FROM_LEFT, Units.METRIC, 0, found)
        assert (SQUARES in [answer.words for answer in asked.foot]) == offered


def test_coming_back_names_the_warp_and_offers_what_comes_after_a_piece_that_is_woven():
    warp = lever_warp(lever_draft([0, 1]), lever_draft([1]))
    at_end = woven(warp, onward, onward, pause)
    asked = ask_resume(warp, at_end, FROM_LEFT, Units.METRIC, away_ms=0)
    assert warp.name in asked.detail
    assert asked.main.words == "Finish this piece"
    assert events_of(warp, at_end, follow(asked, "Finish this piece")) == [Resumed(), PieceFinished()]
    finished = woven(warp, onward, onward, onward, pause)
    asked = ask_resume(warp, finished, FROM_LEFT, Units.METRIC, away_ms=0)
    assert asked.main.words == "Begin the next piece"
    assert events_of(warp, finished, follow(asked, "Begin the next piece")) == [Resumed(), PieceStarted(1)]
    done = woven(warp, *[onward] * 6, pause)
    assert done.now.finished
    asked = ask_resume(warp, done, FROM_LEFT, Units.METRIC, away_ms=0)
    assert (asked.words, asked.main.words) == ("The warp is woven to its end", "See the record")
    # There are faults to be told when the cloth comes off, and an end that was told too early.
    for finished_here in (finished, done):
        asked = ask_resume(warp, finished_here, FROM_LEFT, Units.METRIC, away_ms=0)
        assert events_of(warp, finished_here, follow(asked, "Back to the loom")) == [Resumed()]


def test_a_finished_piece_or_warp_says_what_to_leave_and_to_mind_before_it_is_cut_off():
    warp = lever_warp(lever_draft([0, 1]), lever_draft([1]), fringe_cm=10.0)
    for picks, kept in ((3, "so that it can be tied on again"), (6, "so that no weft slides out")):
        progress = woven(warp, *[onward] * picks, pause)
        cut = follow(ask_resume(warp, progress, FROM_LEFT, Units.METRIC, away_ms=0), "Cut it off")
        assert cut.lines[0] == "Leave 5 cm for the fringe"
        assert cut.lines[1].startswith("Let the tension off before you cut")
        assert cut.lines[2].endswith(kept)
        assert follow(cut, "See the record") == Answered(Elsewhere.RECORD)
    before = ask_resume(warp, woven(warp, onward, pause), FROM_LEFT, Units.METRIC, away_ms=0)
    assert "Cut it off" not in [answer.words for answer in before.answers]


def test_the_start_flow_ends_in_a_warp_or_a_loom():
    from companion.present.start import Around, MenuItem
    from companion.present.which_loom import ask_loom

    warps = [MenuItem(f"w{n}", f"Warp {n}") for n in range(7)]
    around = Around(
        lambda: [MenuItem("/d/towel.wif", "towel")], lambda _path: Asked("no folder", ()), lambda: (), ask_loom
    )
    asked = ask_start(warps, around)
    assert follow(asked, "Warp 2") == Answered(OpenWarp("w2"))
    assert follow(asked, "Warp 6") == Answered(OpenWarp("w6"))
    wanted = follow(asked, "Open a draft", "towel", "8 treadles", "Counterbalance")
    assert wanted == Answered(PutOnLoom("/d/towel.wif", 8, Action.SINKING))


def test_each_setting_is_changed_alone():
    now = Preferences()
    asked = ask_preferences(now, ["/dev/serial/by-id/footboard"], can_speak=True)
    assert follow(asked, "Screen: dark").result == Preferences(theme="light")
    assert follow(asked, "Hand: right").result == Preferences(mirrored=True)
    assert follow(asked, "Text: usual").result == Preferences(text_scale=1.3)
    port = "/dev/serial/by-id/footboard"
    wired = follow(asked, "Pedal: none", "Go on", "footboard")
    assert follow(wired, "A board with one pedal").result == Preferences(pedal=port)
    assert follow(wired, "A board with two pedals").result == Preferences(pedal=port, two_pedals=True)
    assert follow(wired, "A bare switch", "The usual way").result == Preferences(pedal=port, bare_switch=True)
    assert follow(wired, "Two bare switches", "The other way round").result == Preferences(
        pedal=port, bare_switch=True, two_pedals=True, inverted=True
    )
    assert follow(asked, "Measure: cm").result == Preferences(units=Units.INCH)
    in_inches = ask_preferences(Preferences(units=Units.INCH), [], can_speak=False)
    assert follow(in_inches, "Measure: inches").result == Preferences()
    assert follow(asked, "Double tap: nothing", "Undo").result == Preferences(double_tap=WeaveButton.UNDO)
    assert follow(asked, "Keyboard: qwerty", "azerty").result == Preferences(letters=KeyboardLayout.AZERTY)
    assert follow(asked, "Voice: off").result == Preferences(voice=True)
    assert follow(asked, "Done").result == LeaveSettings()


def test_a_voice_is_offered_only_where_something_can_speak():
    for voice in (False, True):
        offered = [
            {answer.words for answer in ask_preferences(Preferences(voice=voice), (), can_speak).answers}
            for can_speak in (False, True)
        ]
        assert offered[1] - offered[0] == {"Voice: on" if voice else "Voice: off"}


def test_after_a_break_a_piece_woven_face_down_is_said_to_show_its_back():
    warp = twill_warp()
    turned = twill_warp(face_down=True)
    seen = [ask_resume(one, begin(one), FROM_LEFT, Units.METRIC, 0).detail for one in (warp, turned)]
    assert ["face down: this is its back" in detail for detail in seen] == [False, True]


def test_the_order_of_dressing_is_a_setting():
    asked = ask_preferences(Preferences(), (), False)
    assert follow(asked, "Dressing: back to front") == Answered(Preferences(front_to_back=True))
    asked = ask_preferences(Preferences(front_to_back=True), (), False)
    assert follow(asked, "Dressing: front to back") == Answered(Preferences())
    assert dressing_way(Preferences(front_to_back=True)).order == FRONT_TO_BACK
