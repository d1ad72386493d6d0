"""The window at the loom, used as a person uses it: a real window, a real journal, touches and keys."""

from __future__ import annotations

from itertools import combinations

import pytest

from companion.weaving.events import (
    ClothTold,
    FaultKind,
    FaultNoted,
    FaultState,
    LengthMeasured,
    NoteWritten,
    Paused,
    PickTakenOut,
    PickWoven,
    Resumed,
    Undone,
)
from tests.screens.at_the_loom import at_the_screen, events_in, shows
from tests.screens.looked_at import SIZES, lay_out, texts_clipped, touch_targets
from tests.screens.stage import USUAL_SIZE
from tests.screens.warps import twill_warp


def test_a_touch_on_the_next_half_weaves_one_pick_and_shows_the_one_after(journal_path):
    with at_the_screen(journal_path) as stage:
        ids = stage.app.place.weave.ids
        assert (ids.count.text, ids.place.text) == ("pick 1 of 12", "Hem · pick 1/4")
        assert (ids.left_foot.treadles, ids.right_foot.treadles) != ("–", "–")
        assert ids.shuttle.text == "oat wool"
        stage.touch(ids.next_area)
        stage.until(shows(stage, "pick 2 of 12"))
        assert events_in(journal_path) == [PickWoven(0)]


def test_the_screen_shows_shed_feet_shuttle_and_side_of_every_pick(journal_path):
    warp = twill_warp()
    piece = warp.pieces[0]
    thrown = dict.fromkeys(piece.draft.shuttles(), 0)
    with at_the_screen(journal_path, warp) as stage:
        for pick in range(12):
            signs, yarn = stage.app.place.weave.signs, piece.draft.weft[pick]
            assert stage.app.place.weave.ids.harness.signs is signs.harness
            assert stage.app.place.weave.ids.shuttle.text == signs.shuttle
            assert stage.app.place.weave.ids.left_foot.ids.treadles.text == signs.left_foot
            up = {shaft + 1 for shaft in range(4) if signs.harness.raised[shaft]}
            tied = set().union(
                *(
                    {s + 1 for s in range(4) if signs.harness.ties[t][s]}
                    for t in signs.harness.left | signs.harness.right
                )
            )
            assert up == tied == set([[1, 2], [2, 3], [3, 4], [4, 1]][pick % 4])
            assert signs.shuttle == ("oat wool", "indigo")[yarn]
            # Every shuttle begins on the right and changes sides with each of its picks.
            assert signs.from_right == (thrown[yarn] % 2 == 0)
            thrown[yarn] += 1
            stage.key("space")
            if pick < 11:
                stage.until(shows(stage, f"pick {pick + 2} of 12"))
        stage.until(shows(stage, "12 picks"))


def test_keys_go_on_and_back_and_a_held_key_counts_once(journal_path):
    with at_the_screen(journal_path) as stage:
        stage.key("page_down", held=5)
        stage.until(shows(stage, "pick 2 of 12"))
        stage.key("enter")
        stage.until(shows(stage, "pick 3 of 12"))
        stage.key("page_up")
        # First the shed of the newest pick is seen, large; "back" says there that it is out, "next" weaves on.
        assert stage.app.place.ask.asked.harness is not None
        assert stage.app.place.ask.asked.words.startswith("Pull ")
        stage.key("page_up")
        stage.until(lambda: stage.app.place.ask.asked.detail.startswith("pick 2 taken out · pick 1 "))
        stage.key("page_down")
        assert stage.app.place.ask is None
        assert shows(stage, "pick 2 of 12")()
    assert events_in(journal_path) == [PickWoven(0), PickWoven(1), PickTakenOut(1)]


def test_two_keys_too_soon_after_one_another_are_one_pick_and_that_is_told(journal_path):
    from drivers.double_guard import GuardTimes

    with at_the_screen(journal_path, guard=GuardTimes(least_ms=60_000, most_ms=60_000)) as stage:
        stage.key("space")
        stage.until(shows(stage, "pick 2 of 12"))
        stage.key("page_down")
        stage.until(lambda: "not counted" in stage.app.place.weave.message)
    assert events_in(journal_path) == [PickWoven(0)]


def test_back_and_pause_are_one_touch_away_and_next_brings_the_weaver_back(journal_path):
    from companion.present.weave import WeaveButton

    with at_the_screen(journal_path) as stage:
        screen = stage.app.place.weave
        stage.touch(screen.ids.next_area)
        stage.until(shows(stage, "pick 2 of 12"))
        stage.touch(screen.button(WeaveButton.BACK))
        stage.touch(stage.app.place.ask.button("It is out"))
        stage.until(shows(stage, "pick 1 of 12"))
        stage.touch(screen.button(WeaveButton.PAUSE))
        stage.until(lambda: stage.app.place.ask is not None)
        assert stage.app.place.ask.ids.words.text == "Towel"
        assert "No pick lies" in stage.app.place.ask.ids.detail.text
        stage.touch(stage.app.place.ask.button("Weave on"))
        stage.until(lambda: "Woven" in screen.ids.cue.text)
    assert events_in(journal_path) == [PickWoven(0), PickTakenOut(0), Paused(), Resumed()]


def test_a_touch_begins_the_taking_out_shows_shed_after_shed_and_each_is_on_disk_when_it_is_out(journal_path):
    from companion.present.weave import WeaveButton

    with at_the_screen(journal_path) as stage:
        place = stage.app.place
        for pick in range(2, 6):
            stage.key("space")
            stage.until(shows(stage, f"pick {pick} of 12"))
        stage.touch(place.weave.button(WeaveButton.BACK))
        woven = [PickWoven(pick) for pick in range(4)]
        assert events_in(journal_path) == woven
        # What was done stands there until the next, and what is to be done beside it.
        for pick, answered in ((3, ""), (2, "pick 4 taken out · ")):
            assert place.ask.small_line == f"{answered}pick {pick + 1} · {pick + 1} picks in the cloth"
            assert place.ask.asked.words.startswith("Pull ")
            stage.touch(place.ask.button("It is out"))
            stage.until(lambda pick=pick: place.ask.small_line.startswith(f"pick {pick + 1} taken out"))
            assert PickTakenOut(pick) == events_in(journal_path)[-1]
        # Whoever weaves on by foot takes out nothing, and has woven nothing by that alone.
        stage.key("space")
        assert place.ask is None
        assert events_in(journal_path) == [*woven, PickTakenOut(3), PickTakenOut(2)]
        stage.key("space")
        stage.until(shows(stage, "pick 4 of 12"))
    assert events_in(journal_path) == [*woven, PickTakenOut(3), PickTakenOut(2), PickWoven(2)]


def test_a_second_tap_on_it_is_out_takes_out_no_second_pick(journal_path):
    from companion.present.weave import WeaveButton

    with at_the_screen(journal_path) as stage:
        place = stage.app.place
        for pick in range(2, 5):
            stage.key("space")
            stage.until(shows(stage, f"pick {pick} of 12"))
        stage.touch(place.weave.button(WeaveButton.BACK))
        stage.app.root.settle_s = 600
        stage.app.root._changed_s = -1e9
        stage.touch(place.ask.button("It is out"))
        stage.until(lambda: place.ask.small_line.startswith("pick 3 taken out"))
        stage.touch(place.ask.button("It is out"))
        stage.key("backspace")
        stage.until(lambda: place.ask.small_line.startswith("pick 2 taken out"))
    assert events_in(journal_path)[3:] == [PickTakenOut(2), PickTakenOut(1)]


def test_taking_out_where_nothing_is_woven_says_why_and_changes_nothing(journal_path):
    from companion.present.weave import WeaveButton

    with at_the_screen(journal_path) as stage:
        stage.touch(stage.app.place.weave.button(WeaveButton.BACK))
        assert stage.app.place.ask is None
        stage.until(lambda: "no pick" in stage.app.place.weave.ids.news.text)
        stage.key("space")
        stage.until(shows(stage, "pick 2 of 12"))
        assert "no pick" not in stage.app.place.weave.ids.news.text
    assert events_in(journal_path) == [PickWoven(0)]


def test_the_cloth_turns_over_at_a_touch_weaves_nothing_and_says_which_surface_it_shows(journal_path):

    with at_the_screen(journal_path) as stage:
        screen = stage.app.place.weave
        face = screen.cloth.pixels.copy()
        stage.touch(screen.ids.cloth_part)
        assert screen.ids.surface.text == "Back of the cloth · all 24 ends"
        assert screen.ids.surface.font_size >= 18
        assert screen.cloth.pixels.shape[1] == face.shape[1]
        stage.touch(screen.ids.cloth_part)
        assert screen.ids.surface.text == "all 24 ends"
        assert (screen.cloth.pixels == face).all()
    assert events_in(journal_path) == []


def test_the_screen_does_not_sleep_at_the_loom_nor_on_a_pause(journal_path):
    from kivy.core.window import Window

    from companion.present.weave import WeaveButton

    with at_the_screen(journal_path) as stage:
        stage.key("space")
        stage.until(shows(stage, "pick 2 of 12"))
        assert not Window.allow_screensaver
        stage.touch(stage.app.place.weave.button(WeaveButton.PAUSE))
        stage.until(lambda: stage.app.place.ask is not None)
        # A foot on a pedal wakes no screen: whoever comes back from a pause would weave on unseen.
        assert not Window.allow_screensaver


def test_two_quick_presses_are_two_picks(journal_path):
    with at_the_screen(journal_path) as stage:
        stage.app.post(stage.app.place.go_on)
        stage.app.post(stage.app.place.go_on)
        stage.until(shows(stage, "pick 3 of 12"))
    assert events_in(journal_path) == [PickWoven(0), PickWoven(1)]


def test_of_many_presses_while_nothing_is_drawn_none_is_lost_none_is_two_and_the_last_picture_is_true(journal_path):
    with at_the_screen(journal_path, twill_warp(rounds=8)) as stage:
        place = stage.app.place
        for _ in range(30):
            stage.app.post(place.go_on)
        stage.until(shows(stage, "pick 31 of 32"))
        stage.pump(10)
        assert place.weave.ids.count.text == "pick 31 of 32"
        came_one_by_one = place.weave.cloth.pixels
    assert events_in(journal_path) == [PickWoven(pick) for pick in range(30)]
    with at_the_screen(journal_path) as stage:
        stage.app.place.escape()
        stage.pump()
        assert (stage.app.place.weave.cloth.pixels == came_one_by_one).all()


def test_opened_again_it_stands_at_the_pick_after_the_last_one_on_disk(journal_path):
    with at_the_screen(journal_path) as stage:
        for pick in (2, 3, 4, 5, 6):
            stage.key("space")
            stage.until(shows(stage, f"pick {pick} of 12"))
    with at_the_screen(journal_path) as stage:
        assert stage.app.place.ask.ids.words.text == "Does your cloth look like this?"
        assert "Last pick 5" in stage.app.place.ask.ids.detail.text
        stage.touch(stage.app.place.ask.button("Yes, weave on"))
        assert stage.app.place.weave.ids.count.text == "pick 6 of 12"
        assert stage.app.place.weave.ids.place.text == "Body · pick 2/8"


def test_a_fault_is_noted_in_three_touches(journal_path):
    from companion.present.weave import WeaveButton

    with at_the_screen(journal_path) as stage:
        for pick in (2, 3, 4):
            stage.key("space")
            stage.until(shows(stage, f"pick {pick} of 12"))
        stage.touch(stage.app.place.weave.button(WeaveButton.FAULT))
        stage.touch(stage.app.place.ask.button("Wrong shed"))
        stage.touch(stage.app.place.ask.button("Mended"))
        stage.until(lambda: len(events_in(journal_path)) == 4)
    assert events_in(journal_path)[3] == FaultNoted(FaultKind.WRONG_SHED, 2, None, FaultState.MENDED)


def test_back_leads_one_question_back_at_the_loom_and_from_the_first_one_to_the_pick(journal_path):
    from companion.present.weave import WeaveButton

    with at_the_screen(journal_path) as stage:
        place = stage.app.place

        def asked():
            return None if place.ask is None else place.ask.ids.words.text

        stage.key("space")
        stage.until(shows(stage, "pick 2 of 12"))
        stage.touch(place.weave.button(WeaveButton.FAULT))
        first = asked()
        for back in (lambda: stage.touch(place.ask.button("Back")), lambda: stage.key("page_up")):
            stage.touch(place.ask.button("Wrong shed"))
            assert asked() not in (None, first)
            back()
            stage.pump()
            assert asked() == first
        stage.key("page_up")
        stage.pump()
        assert asked() is None
    assert events_in(journal_path) == [PickWoven(0)]


def test_a_note_is_written_in_two_touches(journal_path):
    from companion.present.weave import WeaveButton

    with at_the_screen(journal_path) as stage:
        stage.touch(stage.app.place.weave.button(WeaveButton.NOTE))
        stage.touch(stage.app.place.ask.button("Tension set again"))
        stage.until(lambda: len(events_in(journal_path)) == 1)
    assert events_in(journal_path) == [NoteWritten("Tension set again")]


def test_a_length_is_measured_by_its_figures_and_can_be_undone_with_one_touch(journal_path):
    from companion.present.weave import WeaveButton

    with at_the_screen(journal_path) as stage:
        stage.key("space")
        stage.until(shows(stage, "pick 2 of 12"))
        stage.touch(stage.app.place.weave.button(WeaveButton.MEASURE))
        for words in ("1", "0", "Under tension"):
            stage.touch(stage.app.place.ask.button(words))
        stage.until(lambda: len(events_in(journal_path)) == 2)
        stage.touch(stage.app.place.weave.button(WeaveButton.UNDO))
        stage.touch(stage.app.place.ask.button("Undo it"))
        stage.until(lambda: len(events_in(journal_path)) == 3)
    assert events_in(journal_path)[1:] == [LengthMeasured(10.0), Undone(2)]


def test_a_lost_place_is_found_from_what_lies_at_the_fell(journal_path):
    from companion.present.weave import WeaveButton

    with at_the_screen(journal_path) as stage:
        stage.touch(stage.app.place.weave.button(WeaveButton.FIND))
        ask = stage.app.place.ask
        # The newest row as it may look, in wool or indigo, drawn alone: each way to point at is drawn otherwise.
        strips = [one._cloth.image.pixels.tobytes() for one in ask._strips.children]
        assert len(set(strips)) == 3
        stage.touch(ask._strips.children[-1])
        assert "Which of these is your cloth?" in ask.ids.words.text
        assert all(one._cloth.image is not None for one in ask._answers.children)
        stage.touch(stage.app.place.ask._answers.children[-1])
        stage.until(lambda: len(events_in(journal_path)) == 1)
    (found,) = events_in(journal_path)
    assert isinstance(found, ClothTold)
    assert found.woven == tuple(range(found.woven[-1] + 1))


@pytest.mark.parametrize("mirrored", [False, True], ids=["right-handed", "left-handed"])
@pytest.mark.parametrize("text_scale", [1.0, 1.3], ids=["usual-text", "large-text"])
def test_nothing_is_clipped_and_targets_are_large_and_apart(journal_path, text_scale, mirrored):
    from companion.present.weave import WeaveButton, WeavePart

    with at_the_screen(journal_path, mirrored=mirrored, text_scale=text_scale) as stage:
        for size in SIZES:
            stage.resize(*size)
            root = stage.app.place.weave
            assert texts_clipped(root) == []
            targets = touch_targets(root)
            upright = size[1] > size[0]
            assert len(targets) == 1 + len(WeavePart) + len(WeaveButton) - (not upright)
            boxes = [(*target.to_window(*target.pos), *target.size) for target in targets]
            for x, y, width, height in boxes:
                assert min(width, height) >= 48
                assert x >= 0
                assert y >= 0
                assert x + width <= size[0]
                assert y + height <= size[1]
            for one, other in combinations(boxes, 2):
                assert (
                    one[0] + one[2] <= other[0]
                    or other[0] + other[2] <= one[0]
                    or one[1] + one[3] <= other[1]
                    or other[1] + other[3] <= one[1]
                )
            next_area = root.ids.next_area
            assert upright or (next_area.center_x < size[0] / 2) == mirrored
            # The characters that this pick needs: capitals a tenth of the shorter side; Roboto's are 0.711 of its size.
            for foot in (root.ids.left_foot, root.ids.right_foot):
                assert foot.ids.treadles.font_size * 0.711 >= min(size) / 10
            assert root.ids.shuttle.font_size * 0.711 >= min(size) / 10


def test_every_question_fits_with_large_targets_that_lie_apart(journal_path):
    from companion.present.weave import WeaveButton

    with at_the_screen(journal_path) as stage:
        for pick in (2, 3, 4):
            stage.key("space")
            stage.until(shows(stage, f"pick {pick} of 12"))
        for action, *answers in (
            (WeaveButton.FAULT, "Skipped end", "One row lower", "Unweave to it"),
            (WeaveButton.NOTE, "New bobbin: oat wool"),
            (WeaveButton.MEASURE, "1", "2"),
            (WeaveButton.FIND, "Not sure", "Not sure"),
            (WeaveButton.FIND, "4+ off", "By number", "1"),
        ):
            stage.touch(stage.app.place.weave.button(action))
            for answer in (*answers, None):
                # What is touched lies where the window itself has room for it, so that comes last.
                for size in (*SIZES, USUAL_SIZE):
                    lay_out(stage.app, size)
                    assert texts_clipped(stage.app.place.ask) == []
                    for target in touch_targets(stage.app.place.ask):
                        assert min(target.size) >= 48
                        assert target.right <= size[0]
                        assert target.x >= 0
                if answer:
                    stage.touch(stage.app.place.ask.button(answer))
            questions = 0
            while stage.app.place.ask is not None:
                stage.key("escape")
                questions += 1
            # One question back at a time; one more centimetre or one row lower is the same question.
            assert questions == 1 + sum(not answer.startswith(("1", "2", "One row")) for answer in answers)
