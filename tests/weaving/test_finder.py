"""The place-finder against every cloth laid by hand; its questions against counting."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from companion.draft.facing import Side
from companion.draft.masks import Shed, shed_of, treadle_set
from companion.draft.model import Draft, Lifted, Section, Treadled
from companion.weaving.finder import Evidence, SeenRow, positions, rows_that_tell_place, rows_to_be_sure
from companion.weaving.pick_table import pick_table
from companion.weaving.questions import Ask, PlaceQuestion, best_question
from companion.weaving.sides import speak_against
from companion.weaving.uniqueness import rows_that_tell
from companion.weaving.warp import Piece
from tests.oracles import places_by_hand
from tests.weaving.world import TWILL, YARNS, lever_draft

ENDS = 5


@st.composite
def small_pieces(draw):
    """Up to 10 picks, 3 wefts, 3 shafts, sometimes with sections woven to a length."""
    picks = draw(st.integers(1, 10))
    draft = Draft(
        shafts=3,
        threading=tuple(draw(st.lists(st.sampled_from([0, 1, 2, None]), min_size=ENDS, max_size=ENDS))),
        lifting=Lifted(tuple(Shed(draw(st.integers(0, 7))) for _ in range(picks))),
        yarns=YARNS,
        warp=(0,) * ENDS,
        weft=tuple(draw(st.integers(0, draw(st.integers(0, 2)))) for _ in range(picks)),
        sections=_sections(draw, picks),
    )
    return Piece("small", draft)


def _sections(draw, picks):
    if draw(st.booleans()):
        return ()
    first = draw(st.integers(1, picks))
    sections = [first, picks - first] if picks > first else [first]
    return tuple(
        Section(f"s{number}", size, draw(st.sampled_from([None, 5.0]))) for number, size in enumerate(sections)
    )


seen_rows = st.builds(
    SeenRow,
    yarns=st.none() | st.frozensets(st.integers(0, 2), min_size=1, max_size=2),
    up=st.lists(st.integers(0, ENDS - 1), max_size=2).map(tuple),
    down=st.lists(st.integers(0, ENDS - 1), max_size=1).map(tuple),
)
evidences = st.builds(
    Evidence, rows=st.lists(seen_rows, max_size=4).map(tuple), since_change=st.none() | st.integers(1, 4)
)


@settings(max_examples=400, deadline=None)
@given(small_pieces(), evidences)
def test_finds_exactly_the_places_that_laying_every_cloth_finds(piece, evidence):
    found = positions(pick_table(piece), evidence)
    assert sorted(found.tolist()) == sorted(places_by_hand.places(piece, evidence))


@settings(max_examples=200, deadline=None)
@given(small_pieces(), st.integers(1, 5), st.integers(0, 9))
def test_what_truly_lies_at_the_fell_is_always_found(piece, rows, newest):
    newest %= piece.picks
    truth = tuple(
        SeenRow(
            frozenset({piece.draft.weft[pick]}),
            up=tuple(
                end
                for end, shaft in enumerate(piece.draft.threading)
                if shaft in places_by_hand.shafts_up(piece.draft, pick)
            ),
        )
        for pick in range(newest, max(-1, newest - rows), -1)
    )
    table = pick_table(piece)
    assert newest in positions(table, Evidence(truth, since_change=None)).tolist()
    # With everything seen down to the beginning the picks that lie alike are all that is left.
    everything = positions(table, Evidence(truth))
    assert all(table.weft[place] == piece.draft.weft[newest] for place in everything)


@settings(max_examples=300, deadline=None)
@given(st.lists(st.integers(0, 2), max_size=40))
def test_rows_that_tell_a_pick_from_every_other(looks):
    assert rows_that_tell(np.array(looks, dtype=np.int64)).tolist() == places_by_hand.rows_that_tell(looks)


@settings(max_examples=60, deadline=None)
@given(small_pieces())
def test_the_rows_that_tell_one_place_are_those_that_tell_it_among_all(piece):
    table = pick_table(piece)
    assert [rows_that_tell_place(table, place) for place in range(table.picks)] == rows_that_tell(table.look).tolist()


def test_more_rows_than_are_read_off_a_cloth_tell_nothing():
    assert rows_that_tell_place(pick_table(Piece("plain", lever_draft([0] * 400))), 300) is None


@settings(max_examples=100, deadline=None)
@given(small_pieces())
def test_rows_to_be_sure_tell_all_positions_apart_and_one_fewer_does_not(piece):
    table = pick_table(piece)
    found = np.arange(table.picks)
    rows = rows_to_be_sure(table, found)
    assert rows == (0 if table.picks < 2 else max(places_by_hand.rows_that_tell(table.look.tolist())))


def test_the_nearest_position_comes_first():
    table = pick_table(Piece("p", lever_draft([0, 1] * 6)))
    assert positions(table, Evidence((SeenRow(frozenset({1})),)), near=6).tolist() == [5, 7, 3, 9, 1, 11]


def test_a_remembered_treadle_leaves_the_picks_that_use_it():
    draft = Draft(
        shafts=4,
        threading=(0, 1, 2, 3),
        lifting=Treadled(TWILL, tuple(treadle_set(pick) for pick in ([1], [2, 3], [3], [4]))),
        yarns=YARNS,
        warp=(0,) * 4,
        weft=(0,) * 4,
    )
    table = pick_table(Piece("p", draft))
    assert positions(table, Evidence(treadle=2)).tolist() == [1, 2]
    assert positions(table, Evidence(treadle=9)).tolist() == []


def test_the_cloth_face_down_is_matched_as_it_lies():
    sheds = (shed_of([1]), shed_of([2]), shed_of([3]))
    draft = lever_draft([0, 0, 0], sheds=sheds)
    face_up, face_down = pick_table(Piece("p", draft)), pick_table(Piece("p", draft, face_down=True))
    first_end_up = Evidence((SeenRow(up=(0,)),))
    assert positions(face_up, first_end_up).tolist() == [0]
    assert positions(face_down, first_end_up).tolist() == [1, 2]


def answers(piece, found, question):
    """What a weaver would answer at each position, worked out from the draft alone."""
    draft, told = piece.draft, []
    for place in found:
        pick = place - question.row
        if question.ask is Ask.WEFT:
            told.append(draft.weft[pick] if pick >= 0 else None)
        elif question.ask is Ask.END:
            told.append(draft.threading[question.end] in places_by_hand.shafts_up(draft, pick) if pick >= 0 else None)
        elif question.ask is Ask.SIDE:
            told.append(frozenset(places_by_hand.sides_when_listed(piece, question.yarn)[place]))
        else:
            run = 0
            while place - run >= 0 and draft.weft[place - run] == draft.weft[place]:
                run += 1
            told.append(run)
    return Counter(told)


def kept_by(piece, found, question):
    """How many places each answer keeps: those with it, and those that could give any answer."""
    told = answers(piece, found, question)
    if question.ask is not Ask.SIDE:
        return list(told.values()), 0
    return [number for sides, number in told.items() if len(sides) == 1], told[frozenset({"left", "right"})]


def left_on_average(piece, found, question):
    kept, either = kept_by(piece, found, question)
    if not kept:
        return len(found)
    return sum((number + either / len(kept)) * (number + either) for number in kept) / len(found)


@settings(max_examples=200, deadline=None)
@given(small_pieces())
def test_the_best_question_leaves_what_it_says_and_no_question_leaves_less(piece):
    table = pick_table(piece)
    found = np.arange(table.picks)
    best = best_question(table, found)

    every = [PlaceQuestion(Ask.SINCE_CHANGE, 0, None, 0, 0)]
    every += [PlaceQuestion(Ask.WEFT, row, None, 0, 0) for row in range(8)]
    every += [PlaceQuestion(Ask.END, row, end, 0, 0) for row in range(8) for end in range(ENDS)]
    every += [PlaceQuestion(Ask.SIDE, 0, None, 0, 0, yarn) for yarn in piece.draft.shuttles()]
    least = min(left_on_average(piece, found.tolist(), question) for question in every)
    if best is None:
        assert least == len(found)
    else:
        assert abs(best.left_on_average - left_on_average(piece, found.tolist(), best)) < 1e-9
        assert abs(best.left_on_average - least) < 1e-9
        kept, either = kept_by(piece, found.tolist(), best)
        assert best.left_at_worst == max(kept) + either


@settings(max_examples=80, deadline=None)
@given(small_pieces(), st.integers(0, 9))
def test_no_question_comes_twice_and_true_answers_keep_the_true_place(piece, truth):
    truth %= piece.picks
    table = pick_table(piece)
    known, asked = Evidence(), set()
    while True:
        found = positions(table, known)
        found = found[~speak_against(table, known.sides, found)]
        assert truth in found
        question = best_question(table, found, known=known)
        # A row below the beginning of the cloth cannot be answered; the weaver is "not sure" then.
        if question is None or question.row > truth:
            break
        about = (question.ask, question.row, question.end, question.yarn)
        assert about not in asked
        asked.add(about)
        known = told_truly(piece, known, question, truth)


def told_truly(piece, known, question, truth):
    """What is known after the question is answered for the cloth that ends with `truth`."""
    (answer,) = answers(piece, [truth], question)
    rows = [*known.rows, *[SeenRow()] * (question.row + 1 - len(known.rows))]
    seen = rows[question.row]
    if question.ask is Ask.SINCE_CHANGE:
        return replace(known, since_change=answer)
    if question.ask is Ask.SIDE:
        return replace(known, sides=(*known.sides, (question.yarn, Side(min(answer)))))
    if question.ask is Ask.WEFT:
        rows[question.row] = replace(seen, yarns=frozenset({answer}))
    else:
        ends = {"up": (*seen.up, question.end)} if answer else {"down": (*seen.down, question.end)}
        rows[question.row] = replace(seen, **ends)
    return replace(known, rows=tuple(rows))
