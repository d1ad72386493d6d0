"""The weave screen with what fits badly: long names, many shafts and treadles, warnings, ends; at every size."""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations

import pytest

from companion.draft.cloth import Surface
from companion.draft.facing import Side
from companion.draft.masks import shed_of
from companion.draft.units import Units
from companion.present import wording
from companion.present.asking import Answer, Answered, Asked
from companion.present.fell_words import turned_words
from companion.present.harness import Box, harness_layout
from companion.present.loom_drawing import loom_drawing
from companion.present.shed import HarnessSigns
from companion.present.weave import weave_signs
from companion.present.weave_words import following_wordings, shortened
from companion.remap.loom.loom import Action, Footing
from companion.screens.theme import LIGHT, SMALLEST_TARGET_DP, sizes_for
from companion.weaving.pick_view import this_pick
from companion.weaving.progress import begin
from tests.screens.at_the_loom import at_the_screen
from tests.screens.looked_at import SIZES, height_of_words, touch_targets, width_of_longest_word
from tests.screens.stage import walk, worded
from tests.screens.warps import twill_warp

SMALLEST_READ_IN_PASSING = 18
"""Pixels of font: the smallest that the theme itself sets."""
SMALLEST_TIE, SMALLEST_OF_MANY, FEW_SHAFTS = 6, 2, 12
"""Pixels of a tie: of few shafts, and of 24, which are told apart by their place."""
LEAST_ROWS, LEAST_ROWS_OF_MANY, MANY_TREADLES = 13, 9, 10
"""Rows of cloth at the fell that are always seen; fewer above so many treadles in an upright window."""
CAPITALS = 0.711
"""Of Roboto's size."""
LONG_SECTION = "Second border with the supplementary pattern weft"
LONG_SHUTTLE = "hand-dyed madder singles"
MANY_LEVERS = "1 3 5 7 9 11 13 15 17 19 21 23"


def many_treadles(left, right, shafts=24, treadles=14):
    harness = HarnessSigns(
        shafts=shafts,
        ties=tuple(tuple((shaft + treadle) % 3 - 1 for shaft in range(shafts)) for treadle in range(treadles)),
        left=frozenset(left),
        right=frozenset(right),
        raised=tuple(shaft % 2 == 0 for shaft in range(shafts)),
    )
    feet = (" ".join(str(treadle + 1) for treadle in sorted(foot)) or wording.RESTING for foot in (left, right))
    return dict(zip(("harness", "left_foot", "right_foot"), (harness, *feet), strict=True))


def next_pick(shed, footing, far=True, known=True):
    """What is said of a pick that comes next, from the right, of the longest of shuttles."""
    view = replace(
        this_pick(warp := twill_warp(), begin(warp)),
        shed=shed,
        footing=footing,
        shuttle=LONG_SHUTTLE,
        far=far,
        side_known=known,
        comes_from=Side.RIGHT,
    )
    return {"following": following_wordings(view)}


def levers(shafts, up):
    harness = HarnessSigns(shafts, (), frozenset(), frozenset(), tuple(shaft in up for shaft in range(shafts)))
    words = " ".join(str(shaft + 1) for shaft in up)
    return {
        "harness": harness,
        "left_foot": wording.RESTING,
        "right_foot": wording.RESTING,
        "levers": words,
        **next_pick(shed_of(shaft + 1 for shaft in up), None),
    }


AWKWARD = {
    "long section": {
        "place": (
            f"{LONG_SECTION} · motif 12/15 · block 114/125 · pick 15/28",
            f"{shortened(LONG_SECTION)} · motif 12/15 · block 114/125 · pick 15/28",
            "motif 12/15 · block 114/125 · pick 15/28",
            "block 114/125 · pick 15/28",
            "pick 15/28",
        ),
        "count": "pick 1234 of 10000",
        "ahead": (f"{shortened(LONG_SHUTTLE)} in 120", f"{shortened(LONG_SHUTTLE, 8)} in 120"),
    },
    "long shuttle": {
        "shuttle": LONG_SHUTTLE,
        **next_pick(shed_of([1]), Footing((12, 13), (10, 11))),
    },
    "many treadles": many_treadles({1}, {12}),
    "two under a foot": many_treadles({2, 3}, {5}),
    "two high under a foot": many_treadles({11, 12}, ()),
    "two high under each foot": many_treadles({9, 10}, {12, 13}),
    "ten treadles": many_treadles({0}, {8, 9}, shafts=8, treadles=10),
    "levers": levers(8, (0, 2, 4, 6)),
    "many levers": levers(24, range(0, 24, 2)),
    "warning": {
        "warning": (
            f"The {LONG_SHUTTLE} bobbin runs out in about 12 picks",
            f"{shortened(LONG_SHUTTLE)} bobbin runs out soon",
        ),
        **next_pick(shed_of([1]), Footing((12, 13), (10, 11)), known=False),
    },
    "re-tie": {
        "cue": ("Touch here to tie the treadles for stage 12", "Touch to tie stage 12"),
        "ties_first": True,
    },
    "end of piece": {
        "place": (f"{LONG_SECTION} · piece 2 of 3", f"{shortened(LONG_SECTION)} · piece 2 of 3", "piece 2 of 3"),
        "count": "10000 picks",
        "shuttle": "",
        "following": ("leave 13 cm: fringe 5 cm, spacer 3 cm, fringe 5 cm", "leave 13 cm"),
        "cue": wording.CUE_NEXT_PIECE,
    },
    "end of warp": {"shuttle": "", "following": ("",), "cue": wording.END_OF_WARP},
    "paused": {"cue": wording.CUE_PAUSED},
    "amounts": {
        "amounts": ("4.2–13.5 h left · 1234 cm of warp", "4.2–13.5 h left"),
        "bobbin": ("123 picks on it", "123 picks"),
    },
}


def misfits(screen, window):
    """Every label too small to be read or with words beyond its box, and every pair of boxes that overlap."""
    shown = [child for child in worded(screen) if child.text and child.get_root_window()]
    shown = [child for child in shown if child.opacity and child.parent.opacity and child.height]
    found = []
    boxes = []
    for label in shown:
        x, y = label.to_window(*label.pos)
        boxes.append((label.text, x, y, label.width, label.height))
        if label.font_size < SMALLEST_READ_IN_PASSING and label.text not in ("L", "R"):
            found.append(f"{label.text!r} at {label.font_size}")
        natural = width_of_longest_word(label)
        lines = height_of_words(label)
        if natural > label.width + 1 or lines > label.height + 1:
            found.append(f"{label.text!r} clipped: {natural} x {lines} in {label.size}")
        if x < 0 or y < 0 or x + label.width > window[0] + 1 or y + label.height > window[1] + 1:
            found.append(f"{label.text!r} out of the window: {x, y, label.size}")
    for one, other in combinations(boxes, 2):
        if min(one[1] + one[3], other[1] + other[3]) - max(one[1], other[1]) > 1 and (
            min(one[2] + one[4], other[2] + other[4]) - max(one[2], other[2]) > 1
        ):
            found.append(f"{one[0]!r} over {other[0]!r}")
    return found


MESSAGES = (
    "pick 39 taken out",
    'note "the tension was set again after the tea…"',
    "Not treadle 13 14; treadles 11 12 are missing",
    "The disk is full: nothing more can be written before there is room; make room or put in a stick",
)


@pytest.mark.parametrize("text_scale", [1.0, 1.3], ids=["usual-text", "large-text"])
def test_no_message_hides_or_moves_the_next_pick_or_what_the_next_touch_does(tmp_path, display, text_scale):
    from kivy.clock import Clock

    warp = twill_warp()
    plain = weave_signs(warp, begin(warp), this_pick(warp, begin(warp)), Units.METRIC)
    with at_the_screen(tmp_path / "towel.journal", text_scale=text_scale) as stage:
        screen = stage.app.place.weave
        ids, slots = screen.ids, ("following", "cue", "news_slot", "cloth", "next_area")
        screen.signs = replace(plain, **next_pick(shed_of([1]), Footing((12, 13), (10, 11))))
        for size in SIZES:
            stage.resize(*size)
            lie = [(*ids[name].pos, *ids[name].size) for name in slots]
            for message in MESSAGES:
                screen.message = message
                for _ in range(3):
                    Clock.tick()
                assert (ids.news.text, ids.news.cut, ids.cue.text) == (message, False, "Woven? Touch here"), size
                assert ids.news.y >= ids.following.top - 1
                assert ids.news.top <= ids.cloth_part.top or not screen.upright
                assert [(*ids[name].pos, *ids[name].size) for name in slots] == lie
                said = ids.following.text
                assert "L 13 14  R 11 12" in said, size
                assert "right" in said, size
                assert not ids.following.cut, size
            screen.message = ""


def small(screen):
    """Every sign of this pick that is no tenth of the shorter side high, a cloth or a target that is too small."""
    ids, shorter = screen.ids, min(screen.size)
    ties = screen.signs.harness.ties
    if not screen.signs.levers and ties:
        shafts = screen.signs.harness.shafts
        boxes = harness_layout(Box(0, 0, *ids.harness.size), shafts, len(ties)).ties[0]
        if min(boxes[0].width, boxes[0].height) < (SMALLEST_TIE if shafts <= FEW_SHAFTS else SMALLEST_OF_MANY):
            yield f"ties {boxes[0]}"
    if ids.surface.text and ids.surface.right > ids.cloth.x and ids.cloth.height < 2 * ids.surface.height:
        yield f"{ids.surface.text!r} over cloth {ids.cloth.height} high"
    if any(label.cut for label in (ids.following, ids.cue, ids.news)):
        yield f"cut: {ids.following.text!r}, {ids.cue.text!r}, {ids.news.text!r}"
    rows = ids.cloth.height / screen.sizes.crossing
    if rows < (LEAST_ROWS if len(ties) < MANY_TREADLES else LEAST_ROWS_OF_MANY):
        yield f"{rows} rows of cloth"
    for target in touch_targets(screen):
        if min(target.size) < 48:
            yield f"target {target.size}"
    for sign in (ids.left_foot.ids.treadles, ids.right_foot.ids.treadles, ids.levers, ids.shuttle):
        capitals = sign.font_size * CAPITALS
        read = sign.text and sign.text != wording.RESTING and sign.parent.opacity
        if read and capitals < shorter / (20 if sign.text in (LONG_SHUTTLE, MANY_LEVERS) else 10):
            yield f"{sign.text!r}: capitals 1/{shorter / capitals:.1f}"


@pytest.mark.parametrize("text_scale", [1.0, 1.3], ids=["usual-text", "large-text"])
def test_awkward_contents_are_whole_and_large_at_every_size(tmp_path, display, text_scale):
    from kivy.clock import Clock

    warp = twill_warp()
    plain = weave_signs(warp, begin(warp), this_pick(warp, begin(warp)), Units.METRIC)
    with at_the_screen(tmp_path / "towel.journal", text_scale=text_scale) as stage:
        screen, found = stage.app.place.weave, []
        for size in SIZES:
            stage.resize(*size)
            for surface, pedal in ((Surface.FACE, ""), (Surface.BACK, "Pedal lost")):
                screen.surface, screen.pedal = turned_words(surface), pedal
                for name, changes in AWKWARD.items():
                    screen.signs = replace(plain, **changes)
                    # Laid out, not drawn: what is measured here needs no picture.
                    for _ in range(3):
                        Clock.tick()
                    found += [(size, pedal, name, misfit) for misfit in (*misfits(screen, size), *small(screen))]
        assert not found, "\n".join(map(str, found))


def asked_at_large_text(asked, window):
    from companion.screens.ask import AskScreen
    from companion.screens.look import look_of

    ask = AskScreen(asked, look_of(LIGHT), sizes_for(*window, SMALLEST_TARGET_DP, 1.3), size=window)
    ask.show(asked, (True, False))
    ticks()
    return ask


def cut_words(ask):
    labels = [one for one in walk(ask) if getattr(one, "text", "")]
    assert len(labels) >= 8
    return [one.text for one in labels if getattr(one, "cut", False)]


@pytest.mark.parametrize("window", SIZES[:2], ids=str)
def test_a_long_list_at_large_text_holds_three_answers_a_page_and_cuts_nothing(display, window):
    drafts = tuple(Answer(f"colour and weave {number}", Answered, detail="comes with Fellside") for number in range(38))
    foot = tuple(Answer(words, Answered) for words in ("Look again", "Any folder", "Write a draft"))
    ask = asked_at_large_text(Asked("Which draft?", drafts, foot=foot, as_list=True), window)
    assert len(ask.ids.answers.children) >= 3
    assert cut_words(ask) == []


@pytest.mark.parametrize("drawn", [(), loom_drawing(Action.COUNTERMARCHE)], ids=["words", "drawn"])
@pytest.mark.parametrize("window", SIZES[:2], ids=str)
def test_eight_answers_at_large_text_are_whole(display, window, drawn):
    words = ("Straight", "Reversed", "Rosepath", "Herringbone", "Wide point", "Blocks", "Broken", "No, find my place")
    names = words[: 7 if drawn else 8]
    answers = tuple(Answer(name, Answered, detail="ends 141 to 164", drawn=drawn) for name in names)
    ask = asked_at_large_text(Asked("Which threading?", answers), window)
    assert cut_words(ask) == []


def test_where_two_lines_find_no_room_an_answer_is_said_in_brief_and_helped_in_full(display):
    from companion.screens.help import things_on

    words = (*(f"{picks} {way}" for way in ("further", "back") for picks in (1, 2, 3)), "4+ off")
    yes, no = (
        Answer(said, Answered, brief=brief) for said, brief in (("Yes, weave on", "Yes"), ("No, find my place", "No"))
    )
    for told, shown in (((), {"Yes, weave on", "No, find my place"}), (("End 12 is broken",), {"Yes", "No"})):
        answers = (yes, no, *(Answer(one, Answered) for one in words))
        asked = Asked("Does your cloth look like this?", answers, detail="next L 2", lines=told, with_cloth=True)
        ask = asked_at_large_text(asked, SIZES[0])
        assert cut_words(ask) == []
        assert shown <= {button.text for button in ask.ids.answers.children}
        assert {"Yes, weave on", "No, find my place"} <= set(things_on(ask))


def ticks():
    """Let everything that waits for the next frame be laid out."""
    from kivy.clock import Clock

    for _ in range(4):
        Clock.tick()
