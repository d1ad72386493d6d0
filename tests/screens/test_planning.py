"""A cloth planned by touch from the draft screen: its finished size told, and what it takes read off, in any units."""

from __future__ import annotations

import pytest

from companion.draft.units import Units
from companion.present.plan_cloth import SHOW
from companion.present.preferences import Preferences
from companion.workshop import app
from companion.workshop.preference_file import preference_file, save_preferences
from tests.screens.looked_at import texts_clipped
from tests.screens.newcomer import choose, choose_listed, opened
from tests.screens.stage import Stage
from tests.screens.test_new_warp import home, the_warp  # noqa: F401

SIZES = ((800, 480), (1024, 600), (800, 1280))


def typed(stage, fact, number):
    choose_listed(stage, fact)
    for key in (*number, "Done"):
        choose(stage, key)


@pytest.mark.parametrize(
    ("units", "width", "length", "ends"),
    # By hand: 18 in / 0.9 / 0.95 at 20 ends per inch in a reed of 10; 45.7 cm / 0.9 / 0.95 at 7.8 per cm.
    [(Units.INCH, "18", "72", "421 ends"), (Units.METRIC, "45.7", "182.9", "417 ends")],
)
def test_a_towel_is_planned_by_touch(home, units, width, length, ends):  # noqa: F811
    save_preferences(preference_file(), Preferences(sounds=False, units=units))
    program = opened()
    with program, Stage(program.window) as stage:
        for words in ("Open a draft", "towel", "Look at the draft"):
            choose_listed(stage, words)
        stage.touch(stage.app.place.button("Plan it"))
        assert "the finished width is not set" in stage.app.place.ask.ids.detail.text
        typed(stage, "Finished width", width)
        typed(stage, "Finished length", length)
        assert "give the warp yarn, or a sett" in stage.app.place.ask.ids.detail.text
        choose_listed(stage, "Warp yarn")
        choose_listed(stage, "8/2 cotton")
        typed(stage, "Reed", "10" if units is Units.INCH else "3.9")
        choose_listed(stage, "Sett")
        choose(stage, "Plain weave")
        assert stage.app.place.ask.ids.detail.text.startswith(ends)
        for size in SIZES:
            stage.resize(*size)
            assert texts_clipped(stage.app.place) == []
        choose(stage, SHOW)
        for size in SIZES:
            stage.resize(*size)
            assert texts_clipped(stage.app.place) == []
        choose(stage, "Done")
        stage.app.place.go_back()
        assert stage.app.place.title == "towel"
        # No way back loses what was told; and it goes into the warp, for the ends that the draft has.
        stage.touch(stage.app.place.button("Plan it"))
        assert stage.app.place.ask.ids.detail.text.startswith(ends)
        choose(stage, "Done")
        stage.touch(stage.app.place.button("Weave it"))
        assert stage.app.place.ask.ids.words.text == "How wide?"
        choose(stage, "As it is")
        for words in ("4 treadles", "Jack"):
            choose_listed(stage, words)
        stage.until(lambda: stage.app.place.signs.accept == "Set up the loom")
        stage.touch(stage.app.place.button("Set up the loom"))
        warp, _events = the_warp("Towel")
        assert warp.width_cm == pytest.approx(24 / 20 * 2.54, rel=0.02)
        assert warp.pieces[0].length_cm == pytest.approx(float(length) / 0.9 * (2.54 if units is Units.INCH else 1))


def test_all_pieces_that_are_planned_go_on_a_loom_that_must_be_tied_anew_for_the_draft(home):  # noqa: F811
    program = opened()
    with program, Stage(program.window) as stage:
        for words in ("Open a draft", "demo double faced four shaft", "Look at the draft"):
            choose_listed(stage, words)
        stage.touch(stage.app.place.button("Plan it"))
        for fact, number in (("Finished width", "50"), ("Finished length", "60"), ("Sett", "6"), ("Pieces", "3")):
            typed(stage, fact, number)
        choose(stage, "Done")
        stage.touch(stage.app.place.button("Weave it"))
        choose(stage, "As it is")
        for words in ("4 treadles", "Jack"):
            choose_listed(stage, words)
        # What takes no stop is chosen, not this loom, on which the draft is tied anew.
        stage.until(lambda: stage.app.place.ids.headline.text == "Two treadles under one foot: it fits")
        stage.touch(stage.app.place.card("This loom"))
        assert "to re-tie" in stage.app.place.ids.headline.text
        stage.touch(stage.app.place.button("Look closer"))
        stage.touch(stage.app.place.button("Tell more"))
        assert stage.app.place.ask.button("3 pieces")
        for size in SIZES:
            stage.resize(*size)
            assert texts_clipped(stage.app.place) == []
        choose(stage, "Weave it")
    (name,) = app.shelf().names()
    warp, _events = the_warp(name)
    assert [len(piece.stages) for piece in warp.pieces] == [len(warp.pieces[0].stages)] * 3
    assert len(warp.pieces[0].stages) > 1
