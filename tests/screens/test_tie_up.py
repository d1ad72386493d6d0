"""Ways side by side on the tie-up screen: read at every size, chosen by a touch, woven face down."""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations

import pytest

from companion.draft.masks import complement, shed_of
from companion.draft.model import Lifted
from companion.draft.wif_write import write_wif
from companion.present.tie_up import TieUpCard, TieUpSigns, harness_of
from companion.remap.loom.loom import Tie
from tests.screens.looked_at import SIZES, texts_clipped, touch_targets
from tests.screens.stage import Stage, walk
from tests.screens.warps import twill_draft


@pytest.fixture
def home(tmp_path, display, monkeypatch):
    monkeypatch.setenv("HOME", str(tmp_path))
    monkeypatch.setenv("FELLSIDE_HOME", str(tmp_path / "fellside"))
    documents = tmp_path / "Documents"
    documents.mkdir()
    (documents / "ground.wif").write_bytes(write_wif(ground_draft()))
    return tmp_path


def ground_draft():
    """Rising, seven sheds of one shaft down need many treadles; face down each lifts what two feet can."""
    plan = tuple(complement(shed_of(up), 4) for up in ([1], [2], [3], [4], [1, 2], [3, 4], [1, 4], [2, 3], [2, 4]))
    draft = twill_draft()
    return replace(draft, lifting=Lifted(plan), weft=(0,) * len(plan), sections=(), title="Ground")


def four_ways():
    """Four cards with the longest names and numbers there are."""
    harness = harness_of(tuple(Tie(up=shed_of([1, shaft])) for shaft in range(1, 9)), 8)
    numbers = ("20 treadles, 65 stops", "167 ties to change", "proven the fewest")
    names = (("This loom",), ("Two treadles", "under one foot"), ("As a", "countermarche"), ("With 12 treadles",))
    cards = tuple(TieUpCard(name, harness, numbers, chosen=name == names[1], way=way) for way, name in enumerate(names))
    detail = "12 treadles are the fewest (at least 11 are needed) \u00b7 weaves the draft's cloth (checked)"
    return TieUpSigns(
        "Two treadles under one foot: it fits", detail, harness, (), (), "Set up the loom", several=True, cards=cards
    )


def one_way():
    """One of them looked at alone, with more lines than any screen shows at once."""
    treadles = (f"treadle {treadle}: untie 1 3, tie 2 4 5 6 7" for treadle in range(1, 7))
    lines = ("counted for one lap of Body, each re-tied", *treadles)
    feet = (*(f"1 2 3 5 {shaft} up: L 1 2  R 11 12 (133 picks)" for shaft in range(6, 13)), "spare: treadle 12")
    ways = four_ways()
    harness, tied = ways.cards[0].harness, "Tied: weave on"
    return replace(ways, harness=harness, cords=lines, feet=feet, tied=tied, cards=())


def overlap(one, other):
    (x, y), (width, height) = one.to_window(*one.pos), one.size
    (left, bottom), (wide, high) = other.to_window(*other.pos), other.size
    return x < left + wide and left < x + width and y < bottom + high and bottom < y + height


@pytest.mark.parametrize("text_scale", [1.0, 1.3], ids=["usual", "large"])
def test_four_ways_can_be_read_and_touched_at_every_size(display, text_scale):
    from companion.present.button_words import MORE_WAYS
    from companion.present.tie_up import ChooseWay
    from companion.screens.tie_up import TieUpScreen
    from companion.screens.widgets.choice_card import ChoiceCard
    from companion.screens.window import FellsideWindow

    chosen = []

    def made(window):
        screen = TieUpScreen(window.surroundings, chosen.append)
        screen.signs = four_ways()
        return screen

    window = FellsideWindow(made, text_scale=text_scale)
    with Stage(window) as stage:
        for size in SIZES:
            stage.resize(*size)
            seen = []
            while len(seen) < 4:
                cards = [one for one in reversed(stage.app.place.ids.cards.children) if isinstance(one, ChoiceCard)]
                assert texts_clipped(stage.app.place) == []
                targets = list(touch_targets(stage.app.place))
                assert len(targets) >= len(cards) + 3
                assert all(min(target.size) >= 48 for target in targets)
                assert not any(overlap(*pair) for pair in combinations(targets, 2))
                # No line of a card is smaller than the words of the program at its smallest.
                lines = [one for card in cards for one in walk(card) if getattr(one, "text", "")]
                assert min(line.font_size for line in lines) >= 16
                assert len(cards) >= 2
                stage.touch(cards[0])
                assert chosen[-1] == ChooseWay(len(seen))
                seen += cards
                if len(seen) < 4:
                    stage.touch(stage.app.place.button(MORE_WAYS))
            if len(cards) < 4:
                stage.touch(stage.app.place.button(MORE_WAYS))


@pytest.mark.parametrize("text_scale", [1.0, 1.3], ids=["usual", "large"])
def test_an_answer_can_be_read_to_its_last_line_and_taken_at_every_size(display, text_scale):
    from companion.present.button_words import MORE
    from companion.screens.tie_up import TieUpScreen
    from companion.screens.window import FellsideWindow

    def made(window):
        screen = TieUpScreen(window.surroundings, print)
        screen.signs = one_way()
        return screen

    with Stage(FellsideWindow(made, text_scale=text_scale)) as stage:
        for size in SIZES:
            stage.resize(*size)
            # The only way there is has another button in place of the one that shows the others.
            stage.app.place.signs = replace(one_way(), several=not stage.app.place.signs.several)
            stage.pump(4)
            assert texts_clipped(stage.app.place) == []
            said, read = (*one_way().cords, *one_way().feet), []
            while len(read) < len(said):
                targets = list(touch_targets(stage.app.place))
                assert all(min(target.size) >= 48 for target in targets)
                assert not any(overlap(*pair) for pair in combinations(targets, 2))
                assert texts_clipped(stage.app.place) == []
                lines = [one for one in reversed(stage.app.place.ids.lines.children) if one.text]
                assert not any(overlap(*pair) for pair in combinations(lines, 2))
                read += [one.text for one in lines]
                assert len(lines) >= 2 or len(read) == len(said)
                turn = [key for key in stage.app.place.foot.buttons if key.text.startswith(f"{MORE} ")]
                assert turn or len(read) == len(said)
                for key in turn:
                    stage.touch(key)
            assert tuple(read) == said
            # After the last page comes the first.
            assert stage.app.place.ids.lines.children[-1].text == said[0]


def test_a_cloth_is_taken_face_down_and_woven_so(home):
    from companion.wiring.screen_app import ScreenApp
    from companion.workshop import app
    from tests.screens.newcomer import choose, go_to_the_cords

    program = ScreenApp(None, guard=None)
    with program, Stage(program.window) as stage:
        for words in ("Open a draft", "ground", "4 treadles", "Jack"):
            choose(stage, words)
        stage.until(lambda: stage.app.place.signs.cards and all(one.harness for one in stage.app.place.signs.cards))
        assert texts_clipped(stage.app.place) == []
        stage.touch(stage.app.place.card("Face down"))
        assert stage.app.place.ids.headline.text == "Face down: it fits"
        assert "its face below" in stage.app.place.ids.detail.text
        stage.touch(stage.app.place.button("Set up the loom"))
        go_to_the_cords(stage)
        stage.touch(stage.app.place.cords.button("It is tied"))
        stage.touch(stage.app.place.cords.button("Yes, tied"))
        stage.until(lambda: not stage.app.place._must_tie)
        screen = stage.app.place.weave
        assert screen.surface == "Face down: the back lies up"
        assert texts_clipped(stage.app.place) == []
        for pick, up in enumerate(([1], [2], [3], [4], [1, 2])):
            assert [shaft + 1 for shaft in range(4) if screen.signs.harness.raised[shaft]] == up
            stage.touch(screen.ids.next_area)
            stage.until(lambda pick=pick: screen.ids.count.text == f"pick {pick + 2} of 9")
    with app.shelf().open_to_read("Ground") as journal:
        assert journal.warp.pieces[0].face_down
        assert journal.warp.pieces[0].draft.sheds() == ground_draft().sheds()


def test_tie_ups_for_other_aims_are_seen_beside_the_one_for_the_feet(home):
    from companion.wiring.screen_app import ScreenApp
    from tests.screens.newcomer import choose_listed

    program = ScreenApp(None, guard=None)
    with program, Stage(program.window) as stage:
        for words in ("Open a draft", "overshot four shaft", "6 treadles", "Jack"):
            choose_listed(stage, words)
        stage.until(lambda: stage.app.place.signs.accept)
        screen = stage.app.place
        assert screen.ids.headline.text == "It fits"
        assert screen.ids.detail.text.startswith("chosen for the feet")
        stage.touch(screen.button("Other ways"))
        stage.until(lambda: screen.signs.cards and all(one.harness for one in screen.signs.cards))
        for size in SIZES:
            stage.resize(*size)
            assert texts_clipped(screen) == []
        stage.resize(1280, 800)
        stage.touch(screen.card("Few treadles"))
        assert screen.ids.headline.text == "Few treadles: it fits"
        stage.touch(screen.button("Look closer"))
        assert screen.signs.harness.left
        stage.touch(screen.button("Set up the loom"))
        stage.until(lambda: stage.app.place is not screen)
    from companion.workshop import app

    (name,) = app.shelf().names()
    with app.shelf().open_to_read(name) as journal:
        footings = journal.warp.pieces[0].footings
    assert any(footing.left and footing.right for footing in footings)
