"""The place-finder with a journal, jumps and all: against heaps of picks, and against weavers who lost count."""

from __future__ import annotations

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from companion.draft.facing import Side
from companion.draft.model import Section
from companion.weaving import decide
from companion.weaving.errors import WeavingError
from companion.weaving.finder import Evidence, SeenRow, positions
from companion.weaving.pick_table import pick_table
from companion.weaving.questions import Ask, best_question
from companion.weaving.sides import AT_START, OPPOSITE, UNKNOWN, sides_at, speak_against
from companion.weaving.warp import Piece, Warp
from tests.oracles import places_by_hand
from tests.weaving.test_finder import evidences, small_pieces
from tests.weaving.world import LEVERS, AtLoom, lever_draft, lever_warp

moves = st.one_of(
    st.tuples(st.just("weave"), st.integers(1, 6)),
    st.tuples(st.just("take out"), st.integers(1, 3)),
    st.tuples(st.just("jump"), st.integers(0, 10)),
    st.tuples(st.just("skip"), st.integers(1, 2)),
    st.tuples(st.just("end section"), st.none()),
    st.tuples(st.just("once more"), st.none()),
    st.tuples(st.just("undo"), st.none()),
)


def do(loom, move, number):
    """Make a move as a weaver would; what cannot be done is left undone."""
    try:
        match move:
            case "weave":
                loom.weave(number)
            case "take out":
                for _ in range(number):
                    loom.do(decide.take_out)
            case "jump":
                loom.do(decide.jump, number)
            case "skip":
                loom.do(decide.skip, number)
            case "end section":
                loom.do(decide.end_section)
            case "once more":
                loom.do(decide.repeat_section)
            case "undo":
                loom.do(decide.undo)
    except WeavingError:
        pass


@st.composite
def looms(draw):
    """A small piece with a journal of up to a dozen moves, jumps among them."""
    loom = AtLoom(Warp("small", LEVERS, (draw(small_pieces()),)))
    for move, number in draw(st.lists(moves, max_size=12)):
        do(loom, move, number)
    return loom


def cloth_of(loom):
    """The picks in the cloth by the journal, oldest first."""
    return list(loom.now.cloth.newest_first())[::-1]


@settings(max_examples=200, deadline=None)
@given(looms(), evidences)
def test_finds_exactly_the_places_that_heaping_up_picks_finds(loom, evidence):
    piece = loom.warp.pieces[0]
    table = pick_table(piece, loom.now)
    found = table.pick[positions(table, evidence)].tolist()
    assert len(found) == len(set(found))
    expected = places_by_hand.places_with_journal(piece, cloth_of(loom), loom.now.next_pick, evidence)
    assert sorted(found) == sorted(expected)


@settings(max_examples=60, deadline=None)
@given(small_pieces(), evidences)
def test_heaping_up_picks_without_a_journal_is_laying_every_cloth(piece, evidence):
    """The two oracles against each other."""
    heaped = places_by_hand.places_with_journal(piece, [], 0, evidence)
    assert heaped == places_by_hand.places(piece, evidence)


def seen_at(piece, cloth, rows):
    """What a weaver sees who looks well at the newest rows of this cloth (oldest first), and where the shuttles lie."""
    lies = dict.fromkeys(piece.draft.shuttles(), piece.start_side)
    for pick in cloth:
        lies[piece.draft.weft[pick]] = lies[piece.draft.weft[pick]].opposite
    seen = []
    for pick in cloth[::-1][:rows]:
        up = places_by_hand.shafts_up(piece.draft, pick)
        seen.append(
            SeenRow(
                frozenset({piece.draft.weft[pick]}),
                tuple(end for end, shaft in enumerate(piece.draft.threading) if shaft in up),
                tuple(end for end, shaft in enumerate(piece.draft.threading) if shaft not in up),
            )
        )
    return Evidence(tuple(seen), sides=tuple(lies.items()))


@settings(max_examples=120, deadline=None)
@given(looms(), st.integers(-4, 4), st.integers(1, 6))
def test_who_noted_a_few_picks_too_many_or_too_few_is_found_and_no_shuttle_speaks_against_it(loom, off, rows):
    piece, cloth = loom.warp.pieces[0], cloth_of(loom)
    if off <= 0:
        cloth = cloth[: len(cloth) + off] if off else cloth
    else:
        # Woven on without a press, as listed.
        cloth += [loom.now.next_pick + more for more in range(off) if loom.now.next_pick + more < piece.picks]
    if not cloth:
        return
    evidence = seen_at(piece, cloth, rows)
    table = pick_table(piece, loom.now)
    found = positions(table, evidence)
    (place,) = found[table.pick[found] == cloth[-1]]
    assert not speak_against(table, evidence.sides, np.array([place]))[0]
    against = speak_against(table, evidence.sides, found)
    assert sorted(against.tolist()) == against.tolist(), "places that a shuttle speaks against come last"


@settings(max_examples=80, deadline=None)
@given(looms())
def test_in_the_cloth_of_the_journal_each_side_is_known_by_counting(loom):
    piece, cloth = loom.warp.pieces[0], cloth_of(loom)
    table = pick_table(piece, loom.now)
    if table.places == table.picks:
        return
    for yarn in piece.draft.shuttles():
        sides = sides_at(table, yarn, np.arange(table.picks, table.picks + len(cloth)))
        crossings = [sum(piece.draft.weft[pick] == yarn for pick in cloth[: top + 1]) for top in range(len(cloth))]
        assert sides.tolist() == [AT_START if number % 2 == 0 else OPPOSITE for number in crossings]


@settings(max_examples=60, deadline=None)
@given(small_pieces())
def test_as_listed_a_side_is_told_where_every_cloth_agrees_on_it_and_only_there(piece):
    table = pick_table(piece)
    told = {frozenset({"right"}): AT_START, frozenset({"left"}): OPPOSITE, frozenset({"left", "right"}): UNKNOWN}
    for yarn in range(3):
        sides = sides_at(table, yarn, np.arange(table.picks)).tolist()
        assert sides == [told[frozenset(may)] for may in places_by_hand.sides_when_listed(piece, yarn)]


def rows_of(*wefts):
    return Evidence(tuple(SeenRow(frozenset({weft})) for weft in wefts))


def test_what_was_woven_across_a_jump_is_found_on_both_ways():
    """Wefts 0 0 1 2 0 1: after pick 2 the weaver jumps to pick 5, so that a 0 lies on a 0 and a 1 on that."""
    loom = AtLoom(lever_warp(lever_draft([0, 0, 1, 2, 0, 1])))
    loom.weave(2)
    loom.do(decide.jump, 4)
    loom.weave(2)
    piece = loom.warp.pieces[0]
    with_journal, without = pick_table(piece, loom.now), pick_table(piece)
    across, as_listed = rows_of(1, 0, 0), rows_of(1, 0, 2)
    assert with_journal.pick[positions(with_journal, across)].tolist() == [5, 2]
    assert positions(without, across).tolist() == [2]
    assert with_journal.pick[positions(with_journal, as_listed)].tolist() == [5]
    (first, *_) = positions(with_journal, across)
    assert with_journal.rows(first, 3) == (5, 4, 1)


def test_the_place_found_by_hand_is_the_nearest_although_the_journal_has_another_cloth():
    loom = AtLoom(lever_warp(lever_draft([0] * 20)))
    loom.weave(3)
    loom.do(decide.jump, 12, "place found")
    table = pick_table(loom.warp.pieces[0], loom.now)
    assert table.pick[positions(table, Evidence())][:4].tolist() == [2, 11, 1, 12]


def test_sides_put_places_in_order_and_rule_none_out():
    """Three alike picks to a repeat: only the side tells odd repeats from even ones."""
    loom = AtLoom(lever_warp(lever_draft([0, 0, 1] * 8, sheds=(3, 6, 12))))
    loom.weave(13)
    table = pick_table(loom.warp.pieces[0], loom.now)
    newest = rows_of(*[1, 0, 0] * 3)
    assert table.pick[positions(table, newest)].tolist() == [11, 14, 8, 17, 20, 23]
    sea_left = Evidence(newest.rows, sides=((1, Side.LEFT),))
    assert table.pick[positions(table, sea_left)].tolist() == [14, 8, 20, 11, 17, 23]
    found = positions(table, newest)
    question = best_question(table, found, known=newest)
    assert (question.ask, question.yarn) == (Ask.SIDE, 1)
    assert (question.left_on_average, question.left_at_worst) == (3.0, 3)


def test_after_a_jump_no_side_is_claimed_for_a_place_by_the_treadling():
    loom = AtLoom(lever_warp(lever_draft([0] * 8)))
    loom.weave(1)
    loom.do(decide.jump, 5)
    table = pick_table(loom.warp.pieces[0], loom.now)
    assert set(sides_at(table, 0, np.arange(8)).tolist()) == {UNKNOWN}
    # By the journal pick 1 lies on the left; pick 6 on top of it brings the shuttle back to the right.
    assert sides_at(table, 0, np.arange(8, 10)).tolist() == [OPPOSITE, AT_START]


def test_laps_of_a_section_are_no_jump():
    draft = lever_draft([0, 1, 1], [Section("hem", 1), Section("body", 2, until_cm=5.0)])
    loom = AtLoom(lever_warp(draft, picks_per_cm=2.0))
    loom.weave(6)
    assert loom.now.cloth.picks == 6
    table = pick_table(loom.warp.pieces[0], loom.now)
    assert sides_at(table, 1, np.arange(3)).tolist() == [AT_START, OPPOSITE, AT_START]


def test_a_piece_without_picks_or_without_cloth_has_places_to_look_at():
    loom = AtLoom(lever_warp(lever_draft([0, 1])))
    assert positions(pick_table(loom.warp.pieces[0], loom.now), Evidence()).tolist() == [0, 1]
    empty = Piece("nothing", lever_draft([]))
    assert positions(pick_table(empty), Evidence(sides=((0, Side.LEFT),))).tolist() == []
