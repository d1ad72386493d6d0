"""Every flow of questions that the program has, begun at a loom with something of everything, and all that follows."""

from __future__ import annotations

from companion.draft.facing import FROM_LEFT
from companion.draft.units import Units
from companion.present.asking import Asked
from companion.present.bobbin import ask_bobbin
from companion.present.cloth_end import ask_sides
from companion.present.deeds import ask_undo
from companion.present.elsewhere import ask_elsewhere
from companion.present.fault import ask_fault
from companion.present.find import ask_place
from companion.present.looms import ask_looms
from companion.present.measure import ask_measure
from companion.present.new_warp import ask_new_warp
from companion.present.note import ask_note
from companion.present.pause import ask_pause
from companion.present.preferences import Preferences
from companion.present.resume import ask_resume
from companion.present.settings_asked import ask_preferences
from companion.present.start import Around, MenuItem
from companion.present.teach import ask_key
from companion.present.tidy import ask_tidy
from companion.present.unweaving import ask_mended, ask_newest_out
from companion.present.which_loom import ask_loom
from companion.present.which_warp import ask_start
from companion.weaving import decide
from companion.weaving.events import FaultKind
from tests.present.test_looms import FLOOR
from tests.present.test_new_warp import LOOKUP, new_warp
from tests.weaving.world import AtLoom, lever_draft, lever_warp

MOST_QUESTIONS = 300
"""So many questions of one flow at the most, the nearest to its beginning."""


def flows():
    """Yield the first question of each flow."""
    loom = AtLoom(lever_warp(lever_draft([0, 1, 2] * 8), lever_draft([0, 1] * 4)))
    loom.weave(7)
    loom.do(decide.note_fault, FaultKind.OTHER, 3)
    warp, progress = loom.warp, loom.progress
    yield ask_fault(warp, progress, FROM_LEFT)
    yield ask_place(warp, progress, FROM_LEFT, Units.METRIC)
    yield ask_elsewhere(warp, progress)
    yield ask_sides(warp, progress)
    yield ask_newest_out(warp, progress)
    yield ask_mended(0, FaultKind.BROKEN_END, warp, progress)
    yield ask_bobbin(warp, progress, 0, Units.METRIC)
    for units in Units:
        yield from (ask(warp, progress, units) for ask in (ask_note, ask_measure, ask_undo))
    yield ask_resume(warp, progress, FROM_LEFT, Units.METRIC, 0)
    loom.do(decide.pause)
    yield ask_pause(warp, loom.progress, Units.METRIC, FROM_LEFT)
    yield ask_resume(warp, loom.progress, FROM_LEFT, Units.METRIC, 0)
    yield ask_preferences(Preferences(), ("/dev/port",), can_speak=True)
    yield ask_looms((FLOOR,), Units.METRIC)
    drafts = [MenuItem("/d/towel.wif", "towel")]
    around = Around(
        lambda: drafts, lambda _path: Asked("no", ()), lambda: (FLOOR,), lambda key: ask_loom(key, (FLOOR,))
    )
    yield ask_start([MenuItem("w", "Warp")], around)
    yield ask_new_warp(new_warp(), LOOKUP)
    yield ask_key(True, lambda: None)
    yield ask_tidy([MenuItem(name, name) for name in ("Warp", "Other")], drafts)


def steps_of(flow):
    """Yield every question of a flow with one of its answers and the question that it leads to, None for its end.

    Breadth first; a question that looks like one met before is gone through once.
    """
    waiting, met = [flow], set()
    while waiting and len(met) < MOST_QUESTIONS:
        question = waiting.pop(0)
        answers = (*question.strips, *question.answers, *question.pad, *question.foot)
        looks = question.bit_by_bit or question.words, tuple((answer.words, answer.rows) for answer in answers)
        if looks in met:
            continue
        met.add(looks)
        for answer in answers:
            if not answer.words:
                continue
            step = answer.leads_to()
            yield question, answer, step if isinstance(step, Asked) else None
            if isinstance(step, Asked):
                waiting.append(step)
