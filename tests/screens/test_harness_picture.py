"""The picture of the loom is brought up to date in parts, and looks as if it had been drawn anew."""

from __future__ import annotations

from dataclasses import replace

from companion.present.shed import HarnessSigns
from tests.screens.test_words_drawn import bare, drawn

__all__ = ["bare"]

SIGNS = HarnessSigns(
    shafts=4,
    ties=((1, 1, 0, 0), (0, 1, -1, 0), (0, 0, 1, 1), (1, 0, 0, 1)),
    left=frozenset({0}),
    right=frozenset(),
    raised=(True, True, False, False),
)
PICKS = (
    replace(SIGNS, left=frozenset(), right=frozenset({2}), raised=(False, False, True, True)),
    replace(SIGNS, left=frozenset({1}), right=frozenset({3}), raised=(True, True, False, True)),
    replace(SIGNS, left=frozenset(), raised=(False,) * 4),
    replace(SIGNS, left_letter="G"),
    replace(SIGNS, ties=SIGNS.ties[:3]),
    replace(SIGNS, shafts=3, ties=tuple(tie[:3] for tie in SIGNS.ties), raised=(True, True, False)),
)
FELT = ({"wrong": [2]}, {"missing": [1]}, {"wrong": [], "missing": [2]}, {"feet_right": True}, {"missing": []})


def anew(stage, **looks):
    from companion.screens.widgets.harness_picture import HarnessPicture

    return drawn(stage, HarnessPicture(**looks))


def test_from_pick_to_pick_and_foot_to_foot_it_looks_as_drawn_anew(bare):
    from companion.screens.theme import DARK, LIGHT
    from companion.screens.widgets.harness_picture import HarnessPicture

    looks = {"signs": SIGNS, "theme": DARK}
    kept = HarnessPicture(**looks)
    seen = [drawn(bare, kept)]
    assert (seen[0] == anew(bare, **looks)).all()
    for change in (*({"signs": signs} for signs in PICKS), *FELT, {"theme": LIGHT}, {"signs": SIGNS}):
        looks |= change
        for name, value in change.items():
            setattr(kept, name, value)
        seen.append(drawn(bare, kept))
        assert (seen[-1] == anew(bare, **looks)).all(), change
        assert (seen[-1] != seen[-2]).any(), change


def test_a_pick_redraws_only_the_treadles_and_shafts_that_it_changes(bare, monkeypatch):
    from companion.screens.theme import DARK
    from companion.screens.widgets.harness_picture import HarnessPicture

    picture = HarnessPicture(signs=SIGNS, theme=DARK)
    drawn(bare, picture)
    redrawn = []
    for name in ("_ties", "_pedal", "_shaft"):
        draw = getattr(picture, name)
        monkeypatch.setattr(
            picture, name, lambda part, *looks, name=name, draw=draw: (redrawn.append((name, part)), draw(part, *looks))
        )
    picture.signs = replace(SIGNS, left=frozenset({1}), raised=(False, True, True, False))
    assert redrawn == [("_ties", 0), ("_ties", 1), ("_pedal", 0), ("_pedal", 1), ("_shaft", 0), ("_shaft", 2)]
    redrawn.clear()
    picture.signs = replace(picture.signs)
    assert not redrawn
