"""One marked end lies on its side in all that dressing the loom shows and asks, on the sheet and on the tie-up page."""

from __future__ import annotations

import pytest

from companion.draft.facing import Side
from companion.draft.sley import Sley
from companion.draft.units import Units
from companion.present.asking import Asked
from companion.present.dress import dress_signs
from companion.present.dressing_wrong import ask_mistake
from companion.present.threads_picture import ThreadInks
from companion.present.tie_up import tie_up_signs
from companion.record.ink import Boxes, Letters, Paper
from companion.record.project import Handout, project_sheet
from companion.record.project_pages import project_pages
from companion.remap.loom.loom import Loom
from companion.remap.remapping import remap
from companion.weaving.dressing_commands import begin_task, go_on_dressing, plan_sley, settle_task
from companion.weaving.dressing_events import DressingTask, TaskState
from companion.weaving.dressing_way import BY_ENDS, DressingWay
from companion.weaving.trial_weave import trial_sheds
from companion.weaving.warp import LoomProfile
from companion.workshop.dressing import dress
from tests.record.conftest import AtLoom
from tests.record.marked import ENDS, FACINGS, MARKED, RED, WHITE, marked_twill, red_column

INKS = ThreadInks((0, 0, 0), (60, 60, 60), (90, 90, 90), (120, 120, 120))
DENTS = (0, 2, 3, 2, 3, 2)
"""The marked end is the second of two in the dent after an empty one; nothing is alike from both sides."""
WINDING, THREADING, SLEYING, TEST_WEAVE = *BY_ENDS, DressingTask.TEST_WEAVE


def bare():
    draft = marked_twill()
    profile = LoomProfile("five", Loom(shafts=5, treadles=6))
    loom = AtLoom(dress("Marked", [draft], profile, [remap(draft, profile.loom)]))
    loom.do(plan_sley, sley=Sley(DENTS))
    return loom


def place(ends, facing):
    """The place of the marked end, from the left, among ends (indices) that lie side by side; an empty dent is -1."""
    return sorted(ends, reverse=facing.first_end is Side.RIGHT).index(MARKED)


def steps_of(task, from_last):
    """The ends of each step in the order of doing, worked out from the dents alone."""
    if task is not SLEYING:
        steps = [(end,) for end in range(ENDS)]
    else:
        steps = [tuple(range(sum(DENTS[:at]), sum(DENTS[: at + 1]))) or (-1,) for at in range(len(DENTS))]
    return steps[::-1] if from_last else steps


@pytest.mark.parametrize("facing", FACINGS)
@pytest.mark.parametrize("from_last", [False, True])
@pytest.mark.parametrize("task", BY_ENDS)
def test_the_marked_end_lies_on_its_side_when_it_is_done_and_when_it_was_done_last(task, from_last, facing):
    steps = steps_of(task, from_last)
    at = next(number for number, step in enumerate(steps) if MARKED in step)
    loom, way = bare(), DressingWay(one_by_one=task is not WINDING)
    loom.do(begin_task, task=task, from_last=from_last)
    if at:
        loom.do(go_on_dressing, task=task, count=at)
    signs = dress_signs(loom.warp, loom.progress, way, facing, INKS)
    done = [end for step in steps[max(at - 8, 0) : at] for end in step]
    lying = [*done, *steps[at]]
    if task is WINDING:
        # Wound one end in a turn, a stripe of one end is a step of its own.
        assert lying[-1] == MARKED
    assert red_column(signs.threads.pixels, len(lying)) == place(lying, facing)

    loom.do(go_on_dressing, task=task, count=1)
    after = dress_signs(loom.warp, loom.progress, way, facing, INKS)
    last = [end for step in steps[max(at - 7, 0) : at + 1] for end in step]
    assert red_column(after.last.pixels, len(last)) == place(last, facing)
    begun = facing.first_end.opposite if from_last else facing.first_end
    assert f"from the {begun.value}, where end {ENDS if from_last else 1} is" in after.which[0] or task is WINDING


@pytest.mark.parametrize("facing", FACINGS)
@pytest.mark.parametrize("from_last", [False, True])
def test_a_group_s_numbers_stand_as_its_threads_lie(from_last, facing):
    loom = bare()
    loom.do(begin_task, task=THREADING, from_last=from_last)
    signs = dress_signs(loom.warp, loom.progress, DressingWay(), facing, INKS)
    assert signs.large.split().index("5") == place(range(ENDS), facing)
    assert red_column(signs.threads.pixels) == place(range(ENDS), facing)


def drawn(question):
    return question.pointed.draw(600.0, 300.0, WHITE).pixels


@pytest.mark.parametrize("facing", FACINGS)
def test_where_it_is_touched_as_wrong_the_marked_end_lies_on_its_side(facing):
    expected = place(range(ENDS), facing)
    loom = bare()
    loom.do(begin_task, task=THREADING)
    loom.do(go_on_dressing, task=THREADING, count=ENDS)
    hanging = ask_mistake(loom.warp, loom.progress, THREADING, facing, INKS)
    loom.do(settle_task, task=THREADING, state=TaskState.DONE)
    loom.do(begin_task, task=TEST_WEAVE)
    plain = next(at for at, shed in enumerate(trial_sheds(loom.warp)) if shed.plain)
    loom.do(go_on_dressing, task=TEST_WEAVE, count=plain)
    asked = ask_mistake(loom.warp, loom.progress, TEST_WEAVE, facing, INKS)
    shown = next(answer for answer in asked.answers if answer.words == "Show where").leads_to()
    for question in (hanging, shown):
        assert red_column(drawn(question)) == expected
        at_end = question.pointed.leads_to((expected + 0.5) / ENDS, 0.5)
        assert isinstance(at_end, Asked)
        assert at_end.words.startswith(f"end {MARKED + 1} from the {facing.first_end.value}")


@pytest.mark.parametrize("facing", FACINGS)
def test_a_dent_that_is_touched_holds_the_marked_end_on_its_side(facing):
    loom = bare()
    loom.do(begin_task, task=SLEYING)
    loom.do(go_on_dressing, task=SLEYING, count=len(DENTS))
    wrong = ask_mistake(loom.warp, loom.progress, SLEYING, facing, INKS)
    question = next(answer for answer in wrong.answers if answer.words == "The ends in a dent").leads_to()
    dent = 1 if facing.first_end is Side.LEFT else len(DENTS) - 2
    assert red_column(drawn(question), len(DENTS)) == dent
    at_dent = question.pointed.leads_to((dent + 0.5) / len(DENTS), 0.5)
    assert at_dent.words == f"dent 2 from the {facing.first_end.value}"


@pytest.mark.parametrize("facing", FACINGS)
def test_on_the_sheet_the_marked_end_lies_on_its_side_in_cloth_and_draft(facing):
    warp, expected = bare().warp, place(range(ENDS), facing)
    pages = project_pages(project_sheet(warp, 0, Units.METRIC, Handout(on_loom=True)), Paper.LETTER, facing)
    boxes = [mark for mark in pages[0].marks if isinstance(mark, Boxes)]
    red = [one for mark in boxes if mark.colour == RED for one in mark.places]
    white = [one for mark in boxes if mark.colour == WHITE for one in mark.places]
    frames = [one for mark in boxes if mark.line for one in mark.places if one[2] > 50 and one[3] > 50]
    in_cloth = {
        (frame, int((x + wide / 2 - frame[0]) / frame[2] * ENDS))
        for x, y, wide, _ in red
        for frame in frames
        if frame[0] <= x < frame[0] + frame[2] and frame[1] <= y < frame[1] + frame[3]
    }
    # The face and the back, each with a frame of its own.
    assert [column for _, column in in_cloth] == [expected] * 2
    rows = [sorted(left for left, top, *_ in (*white, one) if top == one[1]) for one in red]
    (in_draft,) = {(len(row), row.index(one[0])) for row, one in zip(rows, red, strict=True) if one[3] == one[2]} - {
        (1, 0)
    }
    assert in_draft == (ENDS, expected)
    said = " ".join(mark.text for mark in pages[0].marks if isinstance(mark, Letters))
    assert f"first end {facing.first_end.value}, first pick {facing.first_pick.value}" in said


def test_the_tie_up_page_has_its_treadles_as_they_hang_whichever_way_a_draft_is_read():
    """Treadle 1 is the leftmost; what hangs on the marked end's shaft stands where the cloth needs it."""
    loom = bare()
    piece = loom.warp.pieces[0]
    signs = tie_up_signs(remap(piece.draft, loom.warp.loom.loom))
    on_page = {treadle for treadle, ties in enumerate(signs.harness.ties) if ties[4]}
    lifted = {
        treadle
        for pick, footing in enumerate(piece.footings)
        if pick % 4 in (0, 1)
        for treadle in (*footing.left, *footing.right)
    }
    assert on_page == lifted
    assert signs.harness.left
    assert max(signs.harness.left) < min(signs.harness.right, default=99)
