"""Finding the place with a real finger: in the picture of the piece, and in the few touches after it."""

from __future__ import annotations

import pytest

from companion.present.find_questions import WHERE_IN_PIECE
from companion.present.first_look import DRESSED
from companion.weaving.events import ClothTold
from tests.screens.test_window import at_the_screen, events_in, shows, texts_clipped, touch_targets
from tests.weaving.world import lever_draft, lever_warp


@pytest.fixture
def journal_path(tmp_path, display):
    return tmp_path / "towel.journal"


def banded_warp():
    """Plain weave with four picks of another weft, never at the same distance."""
    weft = [1 if pick in (10, 21, 43, 75) else 0 for pick in range(90)]
    return lever_warp(lever_draft(weft, sheds=(0b0101, 0b1010), ends=60))


def point_at(stage, place):
    """Touch the picture there and have the places that fit shown; return their picks (indices)."""
    picture = next(one for one in touch_targets(stage.app.place.ask) if hasattr(one, "place_at"))
    stage.drag([picture.place_at(*place)])
    stage.touch(stage.app.place.ask.button("Show what fits"))
    return [answer.rows[0] for answer in stage.app.place.ask.asked.answers]


def test_a_finger_in_the_picture_of_the_piece_leads_to_what_lies_there_in_every_window(journal_path):
    from companion.present.piece_map import PieceMap
    from companion.present.weave import WeaveButton

    drawn = PieceMap(0, 90)
    with at_the_screen(journal_path, banded_warp()) as stage:
        stage.touch(stage.app.place.ask.button(DRESSED))
        for pick in (2, 3):
            stage.key("space")
            stage.until(shows(stage, f"pick {pick} of 90"))
        stage.touch(stage.app.place.weave.button(WeaveButton.FIND))

        def asked():
            return stage.app.place.ask.asked

        while asked().pointed is None:
            stage.touch(stage.app.place.ask.button("Not sure"))
        assert asked().words == WHERE_IN_PIECE
        for size in ((800, 480), (800, 1280)):
            stage.resize(*size)
            assert texts_clipped(stage.app.place.ask) == []
            shown = point_at(stage, drawn.place_of(84))
            assert 84 in shown, (size, shown)
            assert max(abs(one - 84) for one in shown) <= 3
            for _ in range(2):
                stage.touch(stage.app.place.ask.button("Back"))
        point_at(stage, drawn.place_of(40))
        stage.touch(stage.app.place.ask.button("Pick 41"))
        stage.until(lambda: len(events_in(journal_path)) == 3)
    assert events_in(journal_path)[-1] == ClothTold(woven=tuple(range(2, 41)))
