"""Every page that the program shows, with what can be touched on it and the names of its help."""

from __future__ import annotations

import re
from collections import deque
from dataclasses import dataclass, replace
from functools import partial

from companion.draft.facing import FROM_LEFT
from companion.draft.model import LaidIn, Section
from companion.draft.sley import Sley
from companion.draft.treadling import read_treadling
from companion.draft.units import Units
from companion.present import draft_words
from companion.present.asking import Asked, AskedToWrite, empty_slot
from companion.present.button_words import (
    BACK,
    CANCEL,
    DONE,
    DRESS_LOOM,
    EARLIER,
    LOOK_CLOSER,
    MORE,
    MORE_WAYS,
    NOT_KNOWN,
    SAVE_CARD,
    SIDE_BY_SIDE,
    STOP,
    TELL_MORE,
    more_words,
)
from companion.present.cloth_end import end_at
from companion.present.cords import ALL_TIED, LOOK_AT_THEM, REST_TIED, TIED_ALREADY, TIED_TOO, tied_words
from companion.present.dents import ask_dents
from companion.present.draft_desk import Desk, begun, changing, touched
from companion.present.draft_keys import keys
from companion.present.draft_sheet import DraftPart, Quarter, Square
from companion.present.dress import DressButton
from companion.present.dress_questions import ask_groups, ask_looks_so, ask_tasks, making_ready
from companion.present.dressing_wrong import ask_mistake
from companion.present.elsewhere import ask_elsewhere
from companion.present.fault import ask_fault
from companion.present.find import ask_place
from companion.present.first_look import ask_first_look
from companion.present.further_piece import ask_piece
from companion.present.help_pages import NEXT
from companion.present.letters import KeyboardLayout, Writing, rows_of
from companion.present.loom_fault import ask_of_loom
from companion.present.looms import ask_loom_facts, ask_looms
from companion.present.measure import ask_measure
from companion.present.new_warp import ask_new_warp, waiting_for_plan
from companion.present.note import ask_note
from companion.present.number_pad import DELETE
from companion.present.pause import ask_pause
from companion.present.piece_feet import ask_feet
from companion.present.plan_cloth import ask_plan
from companion.present.plan_width import ask_width_first
from companion.present.preferences import Preferences
from companion.present.record_page import RecordDeed
from companion.present.resume import ask_resume
from companion.present.sections_asked import SectionsTold, ask_sections
from companion.present.sets import InSet, MenuItem, ask_set, ask_sets
from companion.present.settings_asked import ask_preferences
from companion.present.sheet_page import ask_sheet
from companion.present.start import Around
from companion.present.tidy import ask_tidy
from companion.present.tie_up import SET_UP, WEAVE_IT
from companion.present.weave import WeaveButton
from companion.present.which_draft import LONG_LIST, ask_draft
from companion.present.which_loom import ask_loom
from companion.present.which_warp import ask_copy, ask_start
from companion.remap.loom.feet_wish import ANY_FEET, FeetWish, FirstFoot, TabbyPlace
from companion.weaving import decide
from companion.weaving.cloth_plan import ClothWished, PlanFact
from companion.weaving.dressing import BACK_TO_FRONT, FRONT_TO_BACK
from companion.weaving.dressing_commands import (
    begin_task,
    find_shed_wrong,
    go_on_dressing,
    note_mistake,
    plan_sley,
    settle_task,
)
from companion.weaving.dressing_events import DressingTask, TaskState
from companion.weaving.dressing_way import DressingWay
from companion.weaving.events import FaultKind
from companion.weaving.onward import onward
from companion.weaving.sheet_words import SheetWords
from tests.present.every_flow import flows
from tests.present.test_dress_questions import INKS, threaded
from tests.present.test_flows import follow
from tests.present.test_looms import FLOOR
from tests.present.test_new_draft import THREADED, begun_at
from tests.present.test_new_warp import LOOKUP, new_warp
from tests.present.test_squares import GAMP, asked_for
from tests.screens.warps import twill_warp
from tests.weaving.test_dressing_view import asset_warp
from tests.weaving.world import AtLoom, lever_draft, lever_warp

ENOUGH = {"1", "9", DELETE}
"""The keys of a number pad that are touched: any number is one for which something else may be asked."""
MOST_QUESTIONS = 120
"""So many questions of one flow at the most, the nearest to its beginning."""


@dataclass(frozen=True)
class Met:
    """A page that was come to, with the topics of its help and what can be touched on it."""

    topics: tuple[str, ...]
    words: str
    things: tuple[str, ...]
    own: tuple[str, ...] = ()


def pages_of(flow):
    """Yield every page of a flow; a page without help of its own has that of the page it was come to from."""
    waiting, met = deque([(lambda: flow, (), ())]), set()
    while waiting and len(met) < MOST_QUESTIONS:
        leads_to, trail, way = waiting.popleft()
        step = leads_to()
        if not isinstance(step, Asked | AskedToWrite):
            continue
        topics = tuple(dict.fromkeys((*((step.topic,) if step.topic else ()), *trail)))
        if isinstance(step, AskedToWrite):
            yield Met(topics, step.words, (draft_words.DONE,))
            continue
        answers = [one for one in (*step.strips, *step.answers, *step.foot) if one.words]
        # How much of a number stands there, and which end or colour is asked of, makes no other page.
        key = topics, way, re.sub(r"\d+", "", step.bit_by_bit or step.words), tuple(one.words for one in answers)
        if key in met:
            continue
        met.add(key)
        # What is the weaver's own is told of in general; what a digit does, each digit shows.
        own = [one.words for one in answers if one.own or one.rows or one.picture]
        words = [one.words for one in answers if one.words not in own]
        yield Met(topics, step.words, tuple(words) + ((DELETE,) if step.pad else ()), tuple(own))
        further = [(one.words, one.leads_to) for one in (*answers, *(key for key in step.pad if key.words in ENOUGH))]
        if step.pointed is not None:
            further += [("", partial(step.pointed.leads_to, share, 0.5)) for share in (0.1, 0.5)]
        # What is asked in the same words may lead on to something else by another way there.
        waiting.extend((leads_to, topics, (*way, words)[:2]) for words, leads_to in further)


def further_flows():
    """Yield the flows that begin elsewhere than at a loom that weaves."""
    loom = threaded()
    for task in (None, DressingTask.THREADING, DressingTask.WINDING):
        yield ask_groups(DressingWay(), loom.warp, task)
    for order in (BACK_TO_FRONT, FRONT_TO_BACK):
        yield ask_tasks(loom.warp, loom.progress, DressingWay(order=order), Units.METRIC, FROM_LEFT)
    yield ask_groups(DressingWay(one_by_one=True), loom.warp, None)
    yield ask_groups(DressingWay(one_by_one=True), loom.warp, DressingTask.WINDING)
    yield ask_mistake(loom.warp, loom.progress, DressingTask.THREADING, FROM_LEFT, INKS)
    yield ask_looks_so(loom.warp, loom.progress, DressingWay(), 0)
    loom.do(plan_sley, sley=Sley((2,) * 45, 4.0))
    loom.do(begin_task, task=DressingTask.SLEYING)
    loom.do(go_on_dressing, task=DressingTask.SLEYING, count=8)
    yield ask_mistake(loom.warp, loom.progress, DressingTask.SLEYING, FROM_LEFT, INKS)
    yield ask_dents(loom.warp, loom.progress, Units.METRIC)
    yield making_ready(loom.warp)
    yield ask_first_look(loom.warp, loom.progress, BACK_TO_FRONT)
    loom.do(settle_task, task=DressingTask.BEAMING, state=TaskState.DONE)
    yield ask_tasks(loom.warp, loom.progress, DressingWay(), Units.METRIC, FROM_LEFT)
    said = AtLoom(asset_warp("overshot-four-shaft"))
    said.do(plan_sley, sley=Sley((2,) * 45, 4.0))
    for task in (DressingTask.THREADING, DressingTask.SLEYING):
        said.do(settle_task, task=task, state=TaskState.DONE)
        yield ask_mistake(said.warp, said.progress, task, FROM_LEFT, INKS)
    trial = AtLoom(asset_warp("overshot-four-shaft"))
    trial.do(plan_sley, sley=Sley((2,) * 45, 4.0))
    yield ask_dents(trial.warp, trial.progress, Units.METRIC)
    trial.do(begin_task, task=DressingTask.TEST_WEAVE)
    yield ask_mistake(trial.warp, trial.progress, DressingTask.TEST_WEAVE, FROM_LEFT, INKS)
    yield ask_looks_so(trial.warp, trial.progress, DressingWay(), 0)
    trial.do(find_shed_wrong, test=0)
    trial.do(note_mistake, task=DressingTask.THREADING, first=4, note="crossed")
    trial.do(note_mistake, task=DressingTask.SLEYING, first=4)
    yield ask_tasks(trial.warp, trial.progress, DressingWay(), Units.METRIC, FROM_LEFT)
    trial.do(go_on_dressing, task=DressingTask.TEST_WEAVE, count=4)
    yield ask_mistake(trial.warp, trial.progress, DressingTask.TEST_WEAVE, FROM_LEFT, INKS)
    towel = {PlanFact.WIDTH: 45.72, PlanFact.LENGTH: 182.88}
    for told in ({}, towel):
        yield (plan := ask_plan(ClothWished(told, {}, draft=None), "Towel", Units.INCH))
    yield follow(plan, "Warp yarn", "8/2 cotton")
    mat = lever_draft([0, 1], [Section("Mat", 2, laid_in=(LaidIn(1),))])
    yield ask_plan(ClothWished({**towel, PlanFact.SETT: 8.0}, {}, draft=mat), "Mat", Units.INCH)
    yield ask_width_first(ClothWished({**towel, PlanFact.SETT: 8.0}, {}, draft=mat), Units.INCH)
    sections = lever_draft([0, 1, 0, 1], [Section("Hem", 2), Section("Mat", 2)])
    yield ask_sections(SectionsTold(sections, Units.INCH))
    yield ask_sets([MenuItem("s", "Samples")])
    yield ask_set("Samples", [InSet("draft", "d", "Towel", None)], [MenuItem("d", "Towel")], [MenuItem("Warp", "Warp")])
    yield ask_sheet("Towel", SheetWords(("Keep the edges slack.",), ("Wash warm.",)))
    yield asked_for(starred=True, text="again", can_mark=True)
    yield asked_for(can_mark=True)
    yield from flows_at_other_looms()
    yield from flows_of_the_start()


def flows_at_other_looms():
    """Yield the flows of a loom with treadles, of sections and repeats, and of pieces that are woven."""
    twill = AtLoom(twill_warp())
    twill.weave(5)
    twill.do(decide.note_fault, FaultKind.OTHER, 3)
    twill.do(note_mistake, task=DressingTask.THREADING, first=2)
    yield ask_fault(twill.warp, twill.progress, FROM_LEFT)
    lost = ask_place(twill.warp, twill.progress, FROM_LEFT, Units.METRIC).strips[0].leads_to()
    while "Over the weft" not in (said := {one.words: one for one in (*lost.answers, *lost.foot)}):
        lost = said.get("Body", said["Not sure"]).leads_to()
    yield replace(lost, topic="Finding the place")
    bands = AtLoom(lever_warp(lever_draft([1] + [0] * 24 + [2] + [0] * 34)))
    bands.weave(3)
    counted = ask_place(bands.warp, bands.progress, FROM_LEFT, Units.METRIC)
    while "More than 20" not in (said := {one.words: one for one in (*counted.answers, *counted.foot)}):
        counted = said["Not sure"].leads_to()
    yield replace(counted, topic="Finding the place")
    treadles = ask_of_loom(FROM_LEFT, twill.warp, twill.progress).answers[-1].leads_to()
    while len(treadles.answers) > 1:
        treadles = treadles.answers[0].leads_to()
    yield replace(treadles, topic="A fault")
    for jumped in (0, 2, 4, 9):
        twill.do(decide.jump, jumped, "by hand")
        ends = (end_at(twill.warp, twill.progress, pick, empty_slot()) for pick in range(12))
        yield from (step for step in ends if isinstance(step, Asked))
    close = replace(twill.warp, pieces=tuple(replace(piece, picks_per_cm=2.0) for piece in twill.warp.pieces))
    yield ask_measure(close, twill.progress, Units.METRIC)
    yield begun_at(*THREADED, "2/2 twill")
    yield ask_first_look(twill.warp, twill.progress, BACK_TO_FRONT)
    yield ask_tasks(twill.warp, twill.progress, DressingWay(), Units.METRIC, FROM_LEFT)
    sections = AtLoom(lever_warp(lever_draft([0, 1, 2] * 8, [Section("border", 8), Section("", 16)])))
    sections.weave(2)
    reading = read_treadling(sections.warp.pieces[0].draft)
    yield ask_elsewhere(sections.warp, sections.progress, reading)
    for picks in (6, 4):
        sections.weave(picks)
        yield ask_elsewhere(sections.warp, sections.progress, reading)
    yield ask_place(sections.warp, sections.progress, FROM_LEFT, Units.METRIC)
    alone = AtLoom(lever_warp(lever_draft([0, 1, 2] * 8)))
    yield ask_elsewhere(alone.warp, alone.progress, read_treadling(alone.warp.pieces[0].draft))
    begun_loom = AtLoom(lever_warp(lever_draft([0, 1]), lever_draft([1])))
    yield ask_measure(begun_loom.warp, begun_loom.progress, Units.METRIC)
    while not begun_loom.progress.now.finished:
        begun_loom.do(decide.pause)
        yield ask_resume(begun_loom.warp, begun_loom.progress, FROM_LEFT, Units.METRIC, 0)
        yield ask_pause(begun_loom.warp, begun_loom.progress, Units.METRIC, FROM_LEFT, squares=True)
        begun_loom.do(decide.resume)
        begun_loom.do(onward)
    begun_loom.do(decide.pause)
    yield ask_resume(begun_loom.warp, begun_loom.progress, FROM_LEFT, Units.METRIC, 0)
    yield ask_note(begun_loom.warp, begun_loom.progress, Units.METRIC, squares=True)


def flows_of_the_start():
    """Yield the flows of a first start, of folders, copies, looms and a warp of several pieces."""
    drafts = [MenuItem("/d/towel.wif", "towel")]
    around = Around(lambda: drafts, lambda _path: Asked("no", ()), lambda: (), lambda key: ask_loom(key, ()))
    yield ask_start([], around)
    many = [MenuItem(str(number), f"Draft {number}") for number in range(LONG_LIST + 1)]
    yield ask_draft(replace(around, drafts=lambda: many))
    yield ask_loom("towel", (), in_file=True)
    yield ask_copy("Warp", "is damaged", [MenuItem("c", "Put back 412 entries")])
    yield ask_looms((FLOOR, replace(FLOOR, name="Loom 2")), Units.METRIC, FLOOR)
    for heddles, wish in (((100,) * 4, ANY_FEET), ((100, 80, 60, 60), FeetWish(TabbyPlace.LEFT, FirstFoot.LEFT))):
        yield ask_loom_facts(replace(FLOOR.wishing(wish), heddles=heddles), "Floor loom", Units.METRIC)
    left_first = ask_loom_facts(FLOOR.wishing(FeetWish(TabbyPlace.WHEREVER, FirstFoot.LEFT)), "", Units.METRIC)
    yield left_first
    yield replace(follow(left_first, "Feet: left foot first"), topic="A loom")
    for first in FirstFoot:
        yield ask_preferences(Preferences(first_foot=first), (), can_speak=False)
    yield waiting_for_plan(["Towel"], lambda: Asked("no", ()))
    yield ask_new_warp(new_warp(3), LOOKUP)
    yield ask_piece(new_warp(), LOOKUP, drafts)
    yield from feet_of_pieces()
    yield ask_tidy([MenuItem("Warp", "Warp")], [], drafts=drafts)
    yield ask_sheet("Towel", SheetWords())


def feet_of_pieces():
    """Yield the ways to weave pieces with the same feet or others."""
    warp = new_warp(2)
    yield ask_feet(warp, None, "", LOOKUP)
    first = warp.pieces[0]
    (stage,) = first.answer.stages
    others = (
        replace(stage, footings=tuple(reversed(stage.footings))),
        replace(stage, tieup=tuple(reversed(stage.tieup))),
    )
    for other in others:
        second = replace(first, answer=replace(first.answer, stages=(other,)))
        yield ask_feet(replace(warp, pieces=(first, second)), None, "", LOOKUP)


def screens():
    """Yield the pages that are no questions, each with the words of its buttons."""
    yield Met(("Weaving",), "weave", tuple(one.value for one in WeaveButton))
    yield Met(("Dressing",), "dress", tuple(one.value for one in DressButton))
    yield Met(("The record",), "record", tuple(one.value for one in RecordDeed))
    yield Met(
        ("Cords to tie",),
        "cords",
        (ALL_TIED, tied_words(DressingTask.TEST_WEAVE), TIED_ALREADY, REST_TIED, TIED_TOO, LOOK_AT_THEM, DRESS_LOOM),
    )
    tie_up = (WEAVE_IT, "Weave it this way", SET_UP, ALL_TIED, TELL_MORE, SAVE_CARD, SIDE_BY_SIDE, LOOK_CLOSER, STOP)
    yield Met(("A tie-up",), "tie-up", tie_up)
    yield Met(("Ways side by side", "A tie-up"), "ways", (MORE_WAYS,))
    yield Met(("How it is tied",), "tied", (NOT_KNOWN, DONE, more_words(0, 2)))
    board = (
        key for signs in (True, False) for row in rows_of(KeyboardLayout.QWERTY, Writing(signs=signs)) for key in row
    )
    yield Met(("Words to write",), "write", tuple(key.words for key in board if len(key.words) > 1))
    yield Met(("The record",), "every page", (BACK, CANCEL, MORE, EARLIER, NEXT))


def desks():
    """Yield the draft screen, looked at and changed, with every row of buttons that leads on."""
    waiting, met = [begun(GAMP), changing(begun(GAMP))], set()
    while waiting:
        desk = waiting.pop(0)
        row = keys(desk)
        words = tuple(key.words for key in row)
        if (words, desk.part) in met:
            continue
        met.add((words, desk.part))
        own = tuple(key.words for key in row if key.yarn is not None)
        topics = (("Changing a draft",) if desk.part is not None else ()) + ("A draft",)
        yield Met(topics, "draft", tuple(word for word in words if word not in own), own)
        waiting += [step for key in row if key.possible and isinstance(step := key.leads_to(), Desk)]
        if desk.part is DraftPart.THREADING and desk.stretch is None:
            waiting.append(touched(desk, Square(Quarter.PICK_NUMBERS, 0, 2)))
            marked = touched(desk, Square(Quarter.END_NUMBERS, 2, 0))
            waiting.append(touched(marked, Square(Quarter.END_NUMBERS, 4, 0)))


def every_page():
    """Yield the pages of all flows, the screens, and the draft with each of its rows of buttons."""
    for flow in (*flows(), *further_flows()):
        yield from pages_of(flow)
    yield from screens()
    yield from desks()
