"""The trade's words of Britain and North America, and the weaver's own words, which nobody puts into others."""

from __future__ import annotations

import re
from dataclasses import fields, replace
from functools import partial

import pytest

from companion.draft.facing import FROM_LEFT
from companion.draft.model import Section
from companion.draft.units import Units
from companion.present.asking import Answer, Answered, Asked, AskedToWrite
from companion.present.fault import ask_fault
from companion.present.find import ask_place
from companion.present.measure import ask_measure
from companion.present.note import ask_note
from companion.present.preferences import Preferences
from companion.present.resume import ask_resume
from companion.present.settings_asked import ask_preferences
from companion.present.start import Around, Folder, MenuItem
from companion.present.trade_words import AS_WRITTEN, Trade, in_trade_words, own_words, words_quoted, words_written
from companion.present.weave import weave_signs
from companion.present.which_draft import ask_draft, ask_folder
from companion.present.which_loom import ask_loom
from companion.present.which_warp import ask_start
from companion.present.wording import spoken_words
from companion.remap.loom.loom import Action, Loom
from companion.remap.remapping import remap
from companion.weaving.decide import write_note
from companion.weaving.events import Entry, NoteWritten, PickWoven
from companion.weaving.onward import onward
from companion.weaving.pick_view import this_pick
from companion.weaving.progress import begin, evolve
from companion.weaving.warp import LoomProfile
from companion.workshop.dressing import dress
from tests.screens.warps import twill_draft, twill_warp

NORTH_AMERICAN = Trade(american=True, harness=True)


def woven(warp, *commands):
    progress = begin(warp)
    for number, command in enumerate(commands, 1):
        progress = evolve(warp, progress, Entry(number, 1000 * number, command(warp, progress)))
    return progress


def lever_warp():
    profile = LoomProfile("table", Loom(4, 1, Action.LEVERS))
    draft = replace(twill_draft(), sections=(Section("Four shaft hem", 4), Section("Body", 8)))
    return dress("Towel", [draft], profile, [remap(draft, profile.loom)])


def text_of(said):
    """Everything that is read in what a screen shows, field by field."""
    if isinstance(said, Asked):
        answers = [part for answer in (*said.answers, *said.foot) for part in (answer.words, answer.detail)]
        return " | ".join((said.words, said.detail, *said.lines, *answers))
    if isinstance(said, AskedToWrite):
        return said.words
    return " | ".join(getattr(said, field.name) for field in fields(said) if field.type == "str")


def questions_from(asked, depth=3):
    """The question and those that its answers lead to."""
    yield asked
    if depth and isinstance(asked, Asked):
        for answer in (*asked.answers, *asked.foot)[:12]:
            outcome = answer.leads_to()
            if isinstance(outcome, Asked | AskedToWrite):
                yield from questions_from(outcome, depth - 1)


@pytest.mark.parametrize(
    ("british", "american"),
    [
        ("shafts up: 1 3", "harnesses up: 1 3"),
        ("end 12 on shaft 3", "end 12 on harness 3"),
        ("Only raise shafts", "Only raise harnesses"),
        ("Colour changed on purpose", "Color changed on purpose"),
        ("As a countermarche loom", "As a countermarch loom"),
        ("centred: begin on the left", "centered: begin on the left"),
        ("two neighbours stand together", "two neighbors stand together"),
        ("no fibre is named", "no fiber is named"),
        ("a crankshaft", "a crankshaft"),
    ],
)
def test_lines_are_put_into_north_american_words_and_stay_in_british_ones(british, american):
    assert in_trade_words(british, NORTH_AMERICAN) == american
    assert in_trade_words(british, AS_WRITTEN) == british


def test_at_every_pick_of_a_lever_loom_no_line_says_shaft_but_the_weavers_own():
    warp = lever_warp()
    for picks in range(12):
        progress = woven(warp, *[onward] * picks)
        signs = weave_signs(warp, progress, this_pick(warp, progress), Units.METRIC)
        said = in_trade_words(signs, NORTH_AMERICAN, own_words(warp, progress))
        assert ("Four shaft hem" in said.place[0]) == (picks < 4)
        assert "shaft" not in text_of(said).replace("Four shaft hem", "")
        assert "harness" not in text_of(signs)


def test_no_question_at_the_loom_or_before_it_says_shaft_in_north_america_nor_harness_in_britain():
    warp = twill_warp()
    note = partial(write_note, text="shaft 3 squeaks, colour of the edge")
    progress = woven(warp, *[onward] * 3, note)
    own = own_words(warp, progress)
    note_asked, measure_asked = (partial(ask, units=Units.METRIC) for ask in (ask_note, ask_measure))
    firsts = [ask_fault(warp, progress, FROM_LEFT), ask_place(warp, progress, FROM_LEFT, Units.METRIC)]
    firsts += [note_asked(warp, progress), measure_asked(warp, progress)]
    firsts += [
        ask_resume(warp, progress, FROM_LEFT, Units.METRIC, 0),
        ask_loom("towel.wif"),
        ask_preferences(Preferences(), (), can_speak=True),
    ]
    said_own = 0
    for first in firsts:
        for asked in questions_from(first):
            american = text_of(in_trade_words(asked, NORTH_AMERICAN, own))
            said_own += "shaft 3 squeaks, colour of the edge" in american
            # The setting itself says how it stands, whatever the screen says.
            american = american.replace("shaft 3 squeaks, colour of the edge", "").replace("Shafts: called shafts", "")
            assert not re.search("shaft|colour", american)
            assert not re.search("harness|color", text_of(asked).replace("Shafts: called harnesses", ""))
    assert said_own


def test_what_the_weaver_wrote_stays_and_a_phrase_touched_does_not_count_as_written():
    warp = twill_warp()
    phrase, written = "Colour changed on purpose", "shaft 3 squeaks"
    progress = woven(warp, onward, partial(write_note, text=phrase), partial(write_note, text=written))
    entries = [Entry(1, 0, NoteWritten(phrase)), Entry(2, 0, NoteWritten(written)), Entry(3, 0, PickWoven(0))]
    for own in (own_words(warp, progress), words_written(entries)):
        assert in_trade_words(f"{phrase}; {written}", NORTH_AMERICAN, own) == f"Color changed on purpose; {written}"


def test_names_beside_a_row_of_a_list_stay():
    # The title of a draft and its folder, the name of a loom; but what a loom has is no name.
    told = [MenuItem("k", "colour.wif", "Colours of the shaft · just now · Faults")]
    around = Around(lambda: told, lambda _path: Asked("no", ()), lambda: (), lambda _key: Asked("no", ()))
    folder = ask_folder(Folder("f", "f", drafts=tuple(told)), around.folder, around.opened)
    for asked in (ask_start(told, around), ask_draft(around), folder):
        row = in_trade_words(asked, Trade(True, True, True)).answers[0]
        assert (row.words, row.detail) == ("colour.wif", "Colours of the shaft · just now · Faults")
    plain = Answer("Colour loom", lambda: Answered(None), detail="4 shafts", own=True)
    assert in_trade_words(plain, Trade(harness=True)).detail == "4 harnesses"


def test_names_in_quotation_marks_stay_in_a_line_that_is_put_into_other_words():
    line = "piece 'Four shaft hem' needs 8 shafts"
    said = in_trade_words(line, NORTH_AMERICAN, words_quoted(line))
    assert said == "piece 'Four shaft hem' needs 8 harnesses"


def test_the_voice_says_the_levers_in_the_words_of_the_trade_and_the_feet_in_both_alike():
    levers, treadles = lever_warp(), twill_warp()
    spoken = spoken_words(this_pick(levers, woven(levers)))
    assert spoken.startswith("shafts up: 1 2")
    assert in_trade_words(spoken, NORTH_AMERICAN).startswith("harnesses up: 1 2")
    spoken = spoken_words(this_pick(treadles, woven(treadles)))
    assert spoken == in_trade_words(spoken, NORTH_AMERICAN)
    assert re.match(r"(left|right) \d", spoken)


def test_each_choice_of_words_stands_alone():
    line = "Fault on shaft 3, colour changed"
    assert in_trade_words(line, Trade(american=True)) == "Fault on shaft 3, color changed"
    assert in_trade_words(line, Trade(harness=True)) == "Fault on harness 3, colour changed"
    assert in_trade_words(line, Trade(mistake=True)) == "Mistake on shaft 3, colour changed"
    assert in_trade_words(line, Trade(True, True, True)) == "Mistake on harness 3, color changed"
