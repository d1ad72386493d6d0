"""Looms met at the start in a real window: the weaver's own, kept and changed, and one with too few treadles."""

from __future__ import annotations

from tests.screens.looked_at import texts_clipped, touch_targets
from tests.screens.newcomer import choose, choose_listed, opened
from tests.screens.stage import Stage


def test_a_loom_with_too_few_treadles_is_told_what_would_do_and_how_often_to_re_tie(home):
    program = opened()
    with program, Stage(program.window) as stage:
        choose(stage, "Open a draft")
        choose_listed(stage, "demo double faced four shaft")
        choose(stage, "4 treadles")
        choose(stage, "Jack")
        stage.until(lambda: stage.app.place.signs.accept)
        # What takes no stop is chosen, not this loom with its many.
        stage.until(lambda: stage.app.place.ids.headline.text == "Two treadles under one foot: it fits")
        stage.touch(stage.app.place.card("This loom"))
        assert "to re-tie" in stage.app.place.ids.headline.text
        assert "6 treadles are the fewest (proven)" in stage.app.place.ids.detail.text
        assert texts_clipped(stage.app.place) == []
        stage.until(lambda: all(card.harness for card in stage.app.place.signs.cards))
        stage.touch(stage.app.place.card("Two treadles"))
        assert stage.app.place.ids.headline.text == "Two treadles under one foot: it fits"
        assert "4 treadles are the fewest (proven)" in stage.app.place.ids.detail.text
        stage.touch(stage.app.place.button("Look closer"))
        assert texts_clipped(stage.app.place) == []
        stage.touch(stage.app.place.button("Back"))
        assert stage.app.place.card("Two treadles").mark.text == "Chosen"
        assert stage.app.place.card("This loom").mark.text == ""
        # Another loom is one step back, and needs no other draft.
        stage.touch(stage.app.place.button("Back"))
        assert stage.app.place.ask.ids.words.text == "How many treadles on your loom?"
        choose(stage, "8 treadles")
        choose(stage, "Jack")
        stage.until(lambda: stage.app.place.signs.accept)
        assert stage.app.place.ids.headline.text == "It fits"


def test_the_way_back_from_other_ways_leads_over_the_answer_to_the_loom(home):
    program = opened()
    with program, Stage(program.window) as stage:
        choose(stage, "Open a draft")
        choose_listed(stage, "overshot four shaft")
        choose(stage, "6 treadles")
        choose(stage, "Jack")
        stage.until(lambda: stage.app.place.signs.others)
        stage.touch(stage.app.place.button("Other ways"))
        assert stage.app.place.signs.cards
        stage.touch(stage.app.place.button("Back"))
        assert not stage.app.place.signs.cards
        stage.touch(stage.app.place.button("Back"))
        assert stage.app.place.ask.ids.words.text == "How many treadles on your loom?"


def test_the_weavers_own_loom_is_one_touch_and_its_cords_are_counted(home):
    from companion.remap.loom.loom import Action, Loom
    from companion.remap.loom.tieup_text import parse_tieup
    from companion.weaving.warp import LoomProfile
    from companion.workshop import app
    from companion.workshop.looms_file import save_looms

    tied = parse_tieup("1 2, 2 3, 3 4, 1 4", Action.RISING)
    save_looms(app.looms_file(), [LoomProfile("Floor loom", Loom(4, 4), tied)])
    program = opened()
    with program, Stage(program.window) as stage:
        choose(stage, "Open a draft")
        choose(stage, "towel")
        assert texts_clipped(stage.app.place) == []
        choose(stage, "Floor loom")
        stage.until(lambda: stage.app.place.signs.accept)
        stage.key("space")
        stage.until(lambda: app.shelf().names() == ("Towel",))
    with app.shelf().open_to_read("Towel") as journal:
        assert journal.warp.loom.name == "Floor loom"
        assert journal.warp.pieces[0].stages[0].tieup == tied


def test_a_loom_is_kept_changed_removed_and_put_back_by_touch(home):
    from companion.remap.loom.loom import Action, Loom
    from companion.workshop import app
    from companion.workshop.looms_file import load_looms

    def kept():
        return [(loom.name, loom.loom) for loom in load_looms(app.looms_file())]

    program = opened()
    with program, Stage(program.window) as stage:
        stage.resize(800, 480)
        choose(stage, "Your looms")
        for words in ("Add a loom", "4 shafts", "8", "Done", "6 treadles", "7", "Done"):
            assert texts_clipped(stage.app.place) == []
            assert all(min(target.size) >= 48 for target in touch_targets(stage.app.place))
            choose(stage, words)
        choose(stage, "Done")
        assert kept() == [("Floor loom", Loom(8, 7))]
        for words in ("Floor loom", "Jack", "Counterbalance", "Another name", "Small loom", "Done"):
            choose(stage, words)
        assert kept() == [("Small loom", Loom(8, 7, Action.SINKING))]
        for words in ("Small loom", "Remove"):
            choose(stage, words)
        assert kept() == []
        choose(stage, "Put Small loom back")
        assert kept() == [("Small loom", Loom(8, 7, Action.SINKING))]
        choose(stage, "Back")
        assert "Nothing is on the loom" in stage.app.place.ask.ids.words.text
