"""Nothing on the weave screen moves from pick to pick: every slot lies where it lay, over all picks of the demo."""

from __future__ import annotations

from dataclasses import replace

import pytest

from companion.draft.units import Units
from companion.present.weave import weave_signs
from companion.weaving.onward import onward
from companion.weaving.pick_view import this_pick
from companion.weaving.progress import evolve
from tests.screens.at_the_loom import at_the_screen
from tests.screens.looked_at import SIZES
from tests.screens.test_awkward import AWKWARD, MESSAGES

SLOTS = (
    *("place", "count", "ahead", "bar", "boat_left", "shuttle", "bobbin", "boat_right", "harness", "left_foot"),
    *("right_foot", "cloth", "surface", "news_slot", "following", "cue", "next_area", "actions"),
)
OTHER_TREADLES = {name for name, changes in AWKWARD.items() if "harness" in changes}
"""Contents of another loom: what has more treadles, or none, is laid out otherwise from its first pick to its last."""
MOST_TREADLES = 14
FLOATING_SELVEDGES = {"bobbin": ("over right, under left", "over right")}


@pytest.fixture(scope="module")
def all_signs():
    """Yield what the weave screen says at every pick of the demo."""
    from companion.draft.treadling import read_treadling
    from companion.remap.remapping import remap
    from companion.weaving.events import Entry
    from companion.weaving.progress import begin
    from companion.workshop import app
    from companion.workshop.dressing import dress

    draft = app.demo_draft()
    warp = dress("Demo", [draft], app.DEMO_LOOM, [remap(draft, app.DEMO_LOOM.loom)])
    reading = read_treadling(warp.pieces[0].draft)
    progress, signs = begin(warp), []
    while (view := this_pick(warp, progress)) is not None:
        signs.append(weave_signs(warp, progress, view, Units.METRIC, reading))
        number = progress.now.number + 1
        progress = evolve(warp, progress, Entry(number, number * 9000, onward(warp, progress)))
    return signs


@pytest.mark.parametrize("text_scale", [1.0, 1.3], ids=["usual", "large"])
def test_no_slot_moves_over_all_picks_of_the_demo(tmp_path, display, all_signs, text_scale):
    from kivy.clock import Clock

    assert len(all_signs) > 250
    assert len({signs.shuttle for signs in all_signs}) > 1
    assert len({signs.from_left for signs in all_signs}) == 2
    with at_the_screen(tmp_path / "towel.journal", text_scale=text_scale) as stage:
        screen = stage.app.place.weave

        def lies():
            return {name: (*screen.ids[name].pos, *screen.ids[name].size) for name in SLOTS}

        for size in SIZES:
            stage.resize(*size)
            # The loom of the demo has other treadles than the one that the window was opened at.
            screen.signs = all_signs[0]
            stage.pump(3)
            lay = lies()

            def moved(lay=lay):
                # What is drawn wrong for only one frame has moved, too.
                Clock.tick()
                now = lies()
                return [name for name in SLOTS if now[name] != lay[name]]

            for signs in all_signs[:: 1 if size == SIZES[0] else 5]:
                screen.signs = signs
                assert moved() == []
            # Names of any length, what is on the bobbin or the way past floating selvedges, warnings and news.
            unusual = {name: changes for name, changes in AWKWARD.items() if name not in OTHER_TREADLES}
            assert len(unusual) >= 8
            for name, changes in {**unusual, "floating selvedges": FLOATING_SELVEDGES}.items():
                screen.signs = replace(all_signs[0], **changes)
                assert moved() == [], name
            # Nor on a loom of so many treadles that the feet stand elsewhere.
            many = [changes for changes in AWKWARD.values() if "harness" in changes]
            many = [changes for changes in many if len(changes["harness"].ties) == MOST_TREADLES]
            assert len(many) >= 4
            for changes in many:
                screen.signs = replace(all_signs[0], **changes)
                if changes is many[0]:
                    stage.pump(3)
                    lay_of_many = lies()
                assert moved(lay_of_many) == []
            screen.signs = all_signs[0]
            stage.pump(3)
            for message in (*MESSAGES, ""):
                screen.message = message
                assert moved() == [], message
