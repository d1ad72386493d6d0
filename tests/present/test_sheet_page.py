"""The page of a sheet: each paragraph is changed or taken away, more are added, and what comes of it is kept."""

from __future__ import annotations

from companion.present.sheet_page import KeepWords, SaveSheet, ask_sheet
from companion.weaving.sheet_words import MOST_PARAGRAPHS, SheetWords

SAID = SheetWords(("Keep the edges slack.", "Beat lightly."), ("Wash warm.",))


def leads(asked, words):
    return next(one for one in (*asked.answers, *asked.foot) if one.words == words).leads_to()


def test_words_and_finishing_are_added_one_paragraph_after_the_other():
    asked = ask_sheet("Scarf", SheetWords())
    assert leads(asked, "Add words").leads_to("Keep.").result == KeepWords(SheetWords(("Keep.",)))
    asked = ask_sheet("Scarf", SAID)
    more = leads(asked, "Add finishing").leads_to("Press damp.").result
    assert more == KeepWords(SheetWords(SAID.words, ("Wash warm.", "Press damp.")))
    assert leads(asked, "Save the sheet").result == SaveSheet()


def test_a_paragraph_is_written_anew_or_taken_away_and_the_others_stay():
    asked = leads(ask_sheet("Scarf", SAID), "Beat lightly.")
    writing = leads(asked, "Write it again")
    assert writing.written == "Beat lightly."
    after = writing.leads_to("Beat hard.").result
    assert after == KeepWords(SheetWords(("Keep the edges slack.", "Beat hard."), SAID.finishing))
    assert leads(asked, "Take it away").result == KeepWords(SheetWords(("Keep the edges slack.",), SAID.finishing))


def test_no_more_is_offered_than_a_sheet_can_have():
    full = SheetWords(("one",) * MOST_PARAGRAPHS)
    assert [answer.words for answer in ask_sheet("Scarf", full).foot] == ["Add finishing", "Save the sheet"]
