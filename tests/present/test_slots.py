"""No button changes its meaning in its place while the weaver goes through a question bit by bit."""

from __future__ import annotations

import pytest

from companion.draft.facing import FROM_LEFT
from companion.draft.units import Units
from companion.present.asking import Asked, AskedToWrite
from companion.present.bobbin import bobbin_answers
from companion.present.deeds import ask_undo
from companion.present.elsewhere import ask_elsewhere
from companion.present.fault import ask_fault
from companion.present.find import ask_place
from companion.present.measure import ask_measure
from companion.present.note import ask_note
from companion.present.resume import ask_resume
from companion.weaving import decide
from tests.weaving.world import AtLoom, lever_draft, lever_warp

MOST_QUESTIONS = 400


@pytest.fixture
def loom():
    loom = AtLoom(lever_warp(lever_draft([0, 1, 2] * 8)))
    loom.weave(7)
    return loom


def questions_from(asked):
    """Yield every pair of a question and one that an answer of it leads to, as far as there is patience."""
    waiting, met = [asked], set()
    while waiting and len(met) < MOST_QUESTIONS:
        question = waiting.pop(0)
        looks = (question.words, question.detail, tuple(answer.words for answer in question.answers))
        if looks in met:
            continue
        met.add(looks)
        for answer in (*question.strips, *question.answers, *question.pad, *question.foot):
            step = answer.leads_to() if answer.words else None
            if isinstance(step, Asked) and not isinstance(step, AskedToWrite):
                yield question, step
                waiting.append(step)


def flows(loom):
    warp, progress = loom.warp, loom.progress
    yield ask_fault(warp, progress, FROM_LEFT)
    yield ask_place(warp, progress, FROM_LEFT, Units.METRIC)
    yield ask_elsewhere(warp, progress)
    yield ask_resume(warp, progress, FROM_LEFT, Units.METRIC, 0)
    for units in Units:
        yield from (ask(warp, progress, units) for ask in (ask_note, ask_measure, ask_undo))
        yield Asked("bobbins", tuple(bobbin_answers(warp, progress, units)))


def test_every_button_of_every_flow_keeps_its_meaning_or_vanishes_while_the_question_is_one(loom):
    loom.do(decide.note_fault, decide.FaultKind.OTHER, 3)
    pairs = 0
    for asked in flows(loom):
        for before, after in questions_from(asked):
            if not before.bit_by_bit or before.bit_by_bit != after.bit_by_bit:
                continue
            pairs += 1
            for slots in ((before.answers, after.answers), (before.pad, after.pad), (before.foot, after.foot)):
                assert len(slots[0]) == len(slots[1])
                for one, other in zip(*slots, strict=True):
                    assert one.words == other.words or "" in (one.words, other.words), (before.words, one.words)
    assert pairs > 50
