"""The whole answer: whatever it is, it weaves the draft's cloth, and its claims hold."""

from __future__ import annotations

import itertools
import random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from companion.draft.cloth import interlacement
from companion.draft.masks import Shed, shafts_of, shed_of
from companion.draft.model import Section
from companion.remap import pipeline
from companion.remap.aim import Aim
from companion.remap.errors import RemapError
from companion.remap.feet.walking import best_feet_on, walks_of
from companion.remap.loom.cords import cord_changes
from companion.remap.loom.footings import footings_for
from companion.remap.loom.loom import Action, Loom, Tie
from companion.remap.loom.targets import columns_of, targets_of
from companion.remap.remapped import Verdict
from companion.remap.remapping import remap
from companion.remap.search.answers import Part, Solved
from companion.remap.search.fewest import fits, minimal_answers
from tests.draft.drafts import draft_of
from tests.oracles.feet_brute import least_on
from tests.oracles.lifting_by_hand import can_stand, cloth

DOUBLE_FACED = [[1], [2], [3], [4], [1, 2, 3], [2, 3, 4], [1, 3, 4], [1, 2, 4]]
ACTIONS = (Action.RISING, Action.SINKING, Action.COUNTERMARCHE)


def double_faced(**more):
    return draft_of(threading=[1, 2, 3, 4] * 5, tieup=DOUBLE_FACED, treadling=[1, 5, 2, 6, 3, 7, 4, 8] * 4, **more)


def by_hand(draft, answer):
    """The cloth of an answer, woven stage by stage without the product."""
    rows = []
    for stage in answer.stages:
        ties = [(shafts_of(tie.up), shafts_of(tie.down)) for tie in stage.tieup]
        pressed = [[treadle + 1 for treadle in feet.left + feet.right] for feet in stage.footings]
        assert all(can_stand(feet.left, feet.right, answer.loom.reach) for feet in stage.footings)
        assert len(stage.tieup) == answer.loom.treadles
        shafts = min(draft.shafts, answer.loom.shafts)
        threading = [None if shaft is None else shaft + 1 for shaft in draft.threading]
        rows += cloth(threading, pressed, ties, shafts, answer.loom.action.value)
    return rows


def _without_empty_shafts(tie, draft, loom):
    """The cords that count: those to shafts with ends; on a countermarche all, as a shaft may be drawn both ways."""
    if loom.action is Action.COUNTERMARCHE:
        return tie
    threaded = {shaft + 1 for shaft in draft.threading if shaft is not None}
    return Tie(*(shed_of(threaded & set(shafts_of(shed))) for shed in (tie.up, tie.down)))


def check(draft, answer):
    assert answer.proven_cloth
    assert by_hand(draft, answer) == interlacement(draft).tolist()
    stops = [(stage.first, stage.last + 1) for stage in answer.stages]
    assert [pick for first, stop in stops for pick in range(first, stop)] == list(range(draft.picks))
    for stage in answer.stages:
        assert sum(feet.picks for feet in stage.sheds) == stage.last - stage.first + 1
        assert all(feet.footing in stage.footings for feet in stage.sheds)


@st.composite
def drafts(draw):
    shafts = draw(st.integers(1, 4))
    sheds = st.lists(st.integers(1, shafts), unique=True, max_size=shafts)
    tieup = draw(st.lists(sheds, min_size=1, max_size=7))
    picks = st.lists(st.integers(1, len(tieup)), unique=True, min_size=0, max_size=2)
    treadling = draw(st.lists(picks, min_size=1, max_size=10))
    threading = draw(st.lists(st.one_of(st.none(), st.integers(1, shafts)), min_size=1, max_size=6))
    sections, left = [], len(treadling)
    while left:
        sections.append(Section(f"part {len(sections)}", draw(st.integers(1, left))))
        left -= sections[-1].picks
    return draft_of(
        threading=threading,
        tieup=tieup,
        treadling=treadling,
        shafts=shafts,
        rising=draw(st.booleans()),
        sections=tuple(sections),
    )


@st.composite
def presents(draw, loom):
    every = range(1, loom.shafts + 1)
    ties = []
    for _ in range(loom.treadles):
        ways = [draw(st.sampled_from("ud-")) for _ in every]
        up = shed_of([shaft for shaft, way in zip(every, ways, strict=True) if way == "u"])
        down = shed_of([shaft for shaft, way in zip(every, ways, strict=True) if way == "d"])
        ties.append(
            {
                Action.RISING: Tie(up=up),
                Action.SINKING: Tie(down=down),
                Action.COUNTERMARCHE: Tie(up, down),
            }[loom.action]
        )
    return tuple(ties)


@settings(max_examples=120, deadline=None)
@given(st.data())
def test_every_answer_weaves_the_very_cloth_stage_by_stage(data):
    draft = data.draw(drafts())
    loom = Loom(
        draft.shafts,
        data.draw(st.integers(1, 5)),
        data.draw(st.sampled_from(ACTIONS)),
        data.draw(st.sampled_from([1, 2])),
    )
    present = data.draw(st.one_of(st.none(), presents(loom)))
    answer = remap(draft, loom, present=present)
    check(draft, answer)
    assert (answer.verdict is Verdict.FITS) == (len(answer.stages) == 1)
    assert (answer.verdict is Verdict.FITS) == (answer.fewest.best <= loom.treadles)
    assert answer.fewest.proven
    before = None if present is None else tuple(_without_empty_shafts(tie, draft, loom) for tie in present)
    for stage in answer.stages:
        if before is not None:
            assert stage.changes == cord_changes(before, stage.tieup)
        else:
            assert stage.changes is None
        before = stage.tieup


@pytest.mark.parametrize(("action", "reach", "fewest"), [("rising", 1, 6), ("rising", 2, 4), ("countermarche", 1, 8)])
def test_a_double_faced_twill_fits_where_it_must_and_is_re_tied_one_treadle_short_of_it(action, reach, fewest):
    """The numbers follow from counting what two feet can open, in the docstring of tests of the search."""
    draft = double_faced()
    fitting = remap(draft, Loom(4, fewest, Action(action), reach))
    check(draft, fitting)
    assert (fitting.verdict, fitting.fewest.best) == (Verdict.FITS, fewest)
    short = remap(draft, Loom(4, fewest - 1, Action(action), reach))
    check(draft, short)
    assert (short.verdict, short.fewest.best, short.fewest.proven) == (Verdict.RE_TIE, fewest, True)


@pytest.mark.parametrize("treadles", [3, 4, 5])
def test_a_conflict_does_not_fit_and_without_any_one_of_its_sheds_the_rest_does(treadles):
    answer = remap(double_faced(), Loom(4, treadles))
    sheds = answer.conflict.sheds
    assert answer.conflict.irreducible
    assert not opens_all(sheds, treadles)
    for shed in sheds:
        assert opens_all([other for other in sheds if other != shed], treadles)


def opens_all(sheds, treadles):
    """Whether some tie-up opens these sheds at reach 1, by trying every set of columns of four shafts."""
    wanted = set(sheds)
    return any(
        wanted <= {one | other for one in columns for other in columns}
        for columns in itertools.combinations(range(1, 16), treadles)
    )


def test_stages_are_no_more_than_any_way_to_cut_the_treadling_needs():
    draft = draft_of(threading=[1, 2, 3, 4], tieup=DOUBLE_FACED, treadling=[1, 5, 2, 6, 3, 7, 4, 8, 1, 5], shafts=4)
    answer = remap(draft, Loom(4, 3))
    sheds = draft.sheds()
    for stops in range(draft.picks):
        for cuts in itertools.combinations(range(1, draft.picks), stops):
            bounds = itertools.pairwise((0, *cuts, draft.picks))
            if all(opens_all(sheds[first:stop], 3) for first, stop in bounds):
                assert len(answer.stages) == stops + 1
                return
    pytest.fail("even single picks do not fit")


def test_stops_lie_at_section_ends_where_that_costs_no_stage():
    draft = draft_of(
        threading=[1, 2, 3, 4],
        tieup=[[1], [2], [3], [4]],
        treadling=[1, 2, 1, 2, 1, 3, 4, 3, 4],
        sections=(Section("hem", 4), Section("cloth", 5)),
    )
    answer = remap(draft, Loom(4, 3))
    assert [(stage.first, stage.at_section_end) for stage in answer.stages] == [(0, False), (4, True)]


def test_alternatives_say_what_else_would_do_and_each_number_is_the_search_s_own():
    answer = remap(double_faced(), Loom(4, 5))
    ways = {other.what: other for other in answer.alternatives}
    assert set(ways) == {"face down", "reach 2", "sinking", "countermarche"}
    assert (ways["reach 2"].fewest.best, ways["reach 2"].fits) == (4, True)
    assert (ways["countermarche"].fewest.best, ways["countermarche"].fits) == (8, False)
    assert answer.alternatives[0].what == "reach 2"


def test_face_down_is_not_offered_where_an_end_hangs_on_no_shaft():
    draft = draft_of(threading=[1, 2, None, 3, 4], tieup=DOUBLE_FACED, treadling=[1, 5, 2, 6, 3, 7, 4, 8])
    assert "face down" not in {other.what for other in remap(draft, Loom(4, 5)).alternatives}


def test_face_down_helps_where_the_complements_need_fewer_treadles():
    """Sheds 123, 124, 134, 234, 12, 34 on rising treadles; turned over they are 4, 3, 2, 1, 34, 12."""
    plan = [[1, 2, 3], [1, 2, 4], [1, 3, 4], [2, 3, 4]]
    draft = draft_of(threading=[1, 2, 3, 4], plan=[[1], [2], [3], [4], *plan, [1, 2], [3, 4], [1, 4]])
    answer = remap(draft, Loom(4, 5))
    ways = {other.what: other for other in answer.alternatives}
    assert ways["face down"].fewest == ways["sinking"].fewest
    assert ways["face down"].face_down


def test_a_present_tie_up_that_does_already_is_left_alone():
    present = tuple(Tie(up=shed_of(shafts)) for shafts in ([1], [2], [3], [4], [1, 3], [2, 4]))
    answer = remap(double_faced(), Loom(4, 6), present=present)
    assert answer.tieup == present
    assert (answer.stages[0].cords_changed, answer.stages[0].fewest_cords) == (0, True)
    check(double_faced(), answer)


def test_no_answer_with_as_few_treadles_changes_fewer_cords():
    """Against every tie-up of four treadles: overshot sheds 12 23 34 14 with tabby 13 and 24."""
    draft = draft_of(threading=[1, 2, 3, 4], plan=[[1, 2], [2, 3], [3, 4], [1, 4], [1, 3], [2, 4]] * 2)
    present = tuple(Tie(up=shed_of(shafts)) for shafts in ([1, 2], [3], [2], [1, 4]))
    answer = remap(draft, Loom(4, 4), present=present)
    wanted = set(draft.sheds())
    least = min(
        sum((now ^ old.up).bit_count() for now, old in zip(columns, present, strict=True))
        for columns in itertools.product(range(16), repeat=4)
        if wanted <= {one | other for one, other in itertools.combinations_with_replacement(columns, 2)}
    )
    assert answer.stages[0].cords_changed == least
    check(draft, answer)


def fewest_cords_by_trying_all(sheds, present, treadles, reach):
    """The fewest cords changed by any tie-up of three shafts that uses just this many treadles and opens the sheds."""
    best = []
    for used in itertools.combinations(range(len(present)), treadles):
        for columns in itertools.product(range(1, 8), repeat=treadles):
            tied = [0] * len(present)
            for treadle, column in zip(used, columns, strict=True):
                tied[treadle] = column
            if all(footings_for(shed, tied, reach) for shed in sheds):
                best.append(sum((new ^ old).bit_count() for new, old in zip(tied, present, strict=True) if new))
    return min(best)


def test_cords_called_proven_are_the_fewest_of_all_tie_ups_and_most_are_proven():
    chance = random.Random(0)
    proven = found_fewest = asked = 0
    for _ in range(45):
        loom = Loom(3, chance.choice([3, 3, 4]), reach=chance.choice([1, 1, 2]))
        plan = [list(shafts_of(Shed(chance.randrange(1, 8)))) for _ in range(chance.randint(2, 7))]
        present = [chance.randrange(8) for _ in range(loom.treadles)]
        draft = draft_of(threading=[1, 2, 3], plan=plan, shafts=3)
        answer = remap(draft, loom, present=tuple(Tie(up=Shed(column)) for column in present), aim=Aim.TREADLES)
        if answer.verdict is not Verdict.FITS:
            continue
        stage = answer.stages[0]
        least = fewest_cords_by_trying_all(draft.sheds(), present, answer.fewest.best, loom.reach)
        # Left as it is, a tie-up may use more treadles than the fewest, and change nothing.
        assert stage.cords_changed >= least or stage.cords_changed == 0
        if stage.fewest_cords:
            assert stage.cords_changed <= least
        asked += 1
        proven += stage.fewest_cords
        found_fewest += stage.cords_changed <= least
    assert asked > 35
    assert proven > asked / 2
    assert found_fewest > asked * 0.9


def test_the_fewest_treadles_are_used_however_many_there_are_and_their_feet_are_the_lightest_of_all_with_so_few():
    draft = double_faced()
    tight, roomy = remap(draft, Loom(4, 6), aim=Aim.TREADLES), remap(draft, Loom(4, 8), aim=Aim.TREADLES)
    for answer in (tight, roomy):
        check(draft, answer)
        assert sum(tie != Tie() for tie in answer.tieup) == answer.fewest.best
        assert answer.stages[0].footwork.at_least <= answer.stages[0].footwork.cost
    assert roomy.stages[0].footwork.cost == tight.stages[0].footwork.cost
    assert remap(draft, Loom(4, 8)).stages[0].footwork.cost < roomy.stages[0].footwork.cost


def test_levers_change_exactly_where_the_shed_does():
    draft = draft_of(threading=[1, 2, 3], plan=[[1], [1, 2], [], [3], [3]])
    answer = remap(draft, Loom(3, 0, Action.LEVERS))
    up = set()
    for shed, change in zip(draft.sheds(), answer.levers, strict=True):
        raised, lowered = set(shafts_of(change.raise_)), set(shafts_of(change.lower))
        assert not raised & up
        assert lowered <= up
        up = up - lowered | raised
        assert up == set(shafts_of(shed))
    assert [change.moves for change in answer.levers] == [1, 1, 2, 1, 0]
    assert (answer.verdict, answer.proven_cloth, answer.stages) == (Verdict.FITS, True, ())


@pytest.mark.parametrize("action", ACTIONS)
def test_a_draft_with_nothing_to_weave_fits(action):
    answer = remap(draft_of(threading=[1, 2], plan=[], shafts=2), Loom(2, 2, action))
    assert (answer.verdict, answer.fewest.best, answer.footings, answer.proven_cloth) == (Verdict.FITS, 0, (), True)


@pytest.mark.parametrize("action", ACTIONS)
def test_sheds_with_no_shaft_and_with_every_shaft_up_are_woven(action):
    draft = draft_of(threading=[1, 2, 1], plan=[[], [1, 2], [1], [2], []], shafts=2)
    answer = remap(draft, Loom(2, 4, action))
    check(draft, answer)
    free = [feet.shed for feet in answer.stages[0].sheds if not feet.footing.left and not feet.footing.right]
    assert free == {Action.RISING: [Shed(0)], Action.SINKING: [Shed(0b11)], Action.COUNTERMARCHE: []}[action]


def test_shafts_that_carry_ends_and_that_the_loom_lacks_are_named():
    draft = draft_of(threading=[1, 5, 2, 6], plan=[[1], [5]], shafts=6)
    answer = remap(draft, Loom(4, 4))
    assert (answer.verdict, answer.missing_shafts) == (Verdict.TOO_FEW_SHAFTS, (5, 6))


def test_a_declared_shaft_without_ends_may_be_missing_from_the_loom():
    draft = draft_of(threading=[1, 2], plan=[[1, 4], [2], [1], [2, 3]], shafts=4)
    for action in ACTIONS:
        answer = remap(draft, Loom(2, 2, action))
        check(draft, answer)
        assert answer.fewest.best == 2


def test_a_search_that_is_stopped_at_once_says_unknown_or_shows_an_answer_that_weaves():
    draft = double_faced()
    roomy = remap(draft, Loom(4, 8), should_stop=lambda: True)
    check(draft, roomy)
    assert roomy.fewest.at_least <= roomy.fewest.best
    tight = remap(draft, Loom(4, 5), should_stop=lambda: True)
    assert tight.verdict in (Verdict.UNKNOWN, Verdict.RE_TIE)
    check(draft, tight)
    assert tight.alternatives


@pytest.mark.parametrize(
    ("loom", "present", "what"),
    [
        (Loom(4, 21), None, "21 treadles"),
        (Loom(4, 0), None, "0 treadles"),
        (Loom(4, 4, reach=3), None, "presses 3"),
        (Loom(0, 4), None, "0 shafts"),
        (Loom(4, 1), (Tie(), Tie()), "2 treadles and the loom 1"),
        (Loom(4, 1), (Tie(up=shed_of([5])),), "treadle 1 of the present"),
    ],
)
def test_a_loom_that_makes_no_sense_is_refused_in_one_line(loom, present, what):
    with pytest.raises(RemapError, match=what) as refused:
        remap(double_faced(), loom, present=present)
    assert "\n" not in str(refused.value)


def test_the_draft_s_own_order_is_kept_where_no_other_is_lighter():
    draft = draft_of(threading=[1, 2, 3, 4], tieup=[[1, 2], [3, 4]], treadling=[1, 2] * 5)
    answer = remap(draft, Loom(4, 2), aim=Aim.TREADLES)
    assert [tie.up for tie in answer.tieup] == [shed_of([1, 2]), shed_of([3, 4])]


def test_footings_of_an_answer_are_among_all_that_open_the_shed():
    draft = double_faced()
    answer = remap(draft, Loom(4, 7, Action.SINKING))
    columns = columns_of(answer.tieup, 4, Action.SINKING)
    targets = targets_of(draft.sheds(), 4, Action.SINKING)
    for target, feet in zip(targets, answer.footings, strict=True):
        assert feet in footings_for(target, columns, 1)
    assert isinstance(fits(targets, 1, 7), Solved)


def random_lift_plan(shafts, sheds, picks, seed):
    rng = random.Random(seed)
    every = [[s for s in range(1, shafts + 1) if rng.random() < 0.5] for _ in range(sheds)]
    return draft_of(
        threading=list(range(1, shafts + 1)), plan=every + [rng.choice(every) for _ in range(picks)], shafts=shafts
    )


@pytest.mark.parametrize(
    ("treadles", "reach", "seed", "present"), [(8, 2, 16, None), (6, 1, 24, None), (6, 2, 3, [[1, 2]] * 6)]
)
def test_parts_whose_budget_ends_are_called_not_proven_and_the_cloth_is_woven_all_the_same(
    monkeypatch, treadles, reach, seed, present
):
    for part in ("FOR_FEWEST", "FOR_OTHERS", "FOR_STAGES", "FOR_CONFLICT"):
        monkeypatch.setattr(pipeline, f"EFFORTS_{part}", 0.02)
    monkeypatch.setattr(pipeline, "EFFORTS_OF_OTHER_WAY", 0.02)
    draft = random_lift_plan(8, 20, 30, seed)
    tied = None if present is None else tuple(Tie(up=shed_of(shafts)) for shafts in present)
    answer = remap(draft, Loom(8, treadles, reach=reach), present=tied)
    assert answer == remap(draft, Loom(8, treadles, reach=reach), present=tied)
    assert answer.verdict is not Verdict.UNKNOWN or answer.fewest.at_least <= treadles
    check(draft, answer)
    assert not all(way.fewest.proven for way in answer.alternatives)
    for stage in answer.stages:
        assert len({feet.shed for feet in stage.sheds}) > 0


def test_progress_names_the_part_that_is_worked_at():
    told = []
    remap(double_faced(), Loom(4, 5), progress=told.append)
    assert list(dict.fromkeys(progress.part for progress in told)) == [
        Part.FEWEST,
        Part.STAGES,
        Part.CONFLICT,
        Part.OTHER_WAYS,
    ]


def test_a_thorough_answer_leaves_nothing_open():
    draft = random_lift_plan(5, 10, 10, 5)
    answer = remap(draft, Loom(5, 4), thorough=True)
    check(draft, answer)
    assert answer.fewest.proven
    assert answer.fewest_stages
    assert answer.conflict.irreducible
    assert all(way.fewest.proven for way in answer.alternatives)


def stopped_after(looks, part):
    """Return what says stop so many looks after this part has ended, and the listener that tells it so."""
    left, begun = None, False

    def told(progress):
        nonlocal left, begun
        begun = begun or progress.part is part
        if begun and progress.part is not part and left is None:
            left = looks

    def should_stop():
        nonlocal left
        if left is not None:
            left -= 1
        return left is not None and left < 0

    return should_stop, told


def short_of_budget(monkeypatch):
    for part in ("FOR_FEWEST", "FOR_OTHERS", "FOR_STAGES", "FOR_CONFLICT"):
        monkeypatch.setattr(pipeline, f"EFFORTS_{part}", 0.02)
    monkeypatch.setattr(pipeline, "EFFORTS_OF_OTHER_WAY", 0.02)


@pytest.mark.parametrize("looks", [0, 20, 60])
def test_who_waits_longer_for_a_thorough_answer_never_has_less_for_it(monkeypatch, looks):
    short_of_budget(monkeypatch)
    draft, loom = random_lift_plan(8, 20, 30, 24), Loom(8, 6)
    patient = remap(draft, loom)
    assert not patient.fewest.proven
    should_stop, told = stopped_after(looks, Part.OTHER_WAYS)
    stopped = remap(draft, loom, thorough=True, should_stop=should_stop, progress=told)
    check(draft, stopped)
    assert not stopped.fewest.proven
    assert stopped.fewest.at_least >= patient.fewest.at_least
    assert stopped.fewest.best <= patient.fewest.best
    assert (stopped.stages, stopped.conflict) == (patient.stages, patient.conflict)
    assert len(stopped.alternatives) == len(patient.alternatives)


@pytest.mark.parametrize("looks", [0, 20])
def test_a_thorough_search_for_fewer_treadles_takes_no_time_from_the_feet(monkeypatch, looks):
    short_of_budget(monkeypatch)
    draft, loom = random_lift_plan(8, 20, 30, 24), Loom(8, 20)
    patient = remap(draft, loom, aim=Aim.TREADLES)
    assert not patient.fewest.proven
    should_stop, told = stopped_after(looks, Part.FEET)
    stopped = remap(draft, loom, aim=Aim.TREADLES, thorough=True, should_stop=should_stop, progress=told)
    check(draft, stopped)
    assert stopped.fewest.best == patient.fewest.best
    assert stopped.stages[0].footwork.cost <= patient.stages[0].footwork.cost


@pytest.mark.parametrize("present", [None, [[1], [2], [3], [4], [1, 3, 5], [2, 4, 7]]])
def test_while_fewer_treadles_may_do_no_cords_are_called_the_fewest(monkeypatch, present):
    short_of_budget(monkeypatch)
    tied = None if present is None else tuple(Tie(up=shed_of(shafts)) for shafts in present)
    answer = remap(random_lift_plan(8, 20, 30, 24), Loom(8, 20), present=tied, aim=Aim.TREADLES)
    assert answer.verdict is Verdict.FITS
    assert not answer.fewest.proven
    assert not answer.stages[0].fewest_cords


def test_cords_are_not_called_fewest_where_the_search_for_the_treadles_was_stopped(monkeypatch):
    monkeypatch.setattr(pipeline, "EFFORTS_FOR_FEWEST", 0.0)
    plan = [[1, 3], [1, 2, 4], [3, 4], [1, 4], [2, 3, 4], [2, 3]]
    tied = tuple(Tie(up=shed_of(shafts)) for shafts in ([1, 2, 3, 4], [3], [1], [1, 4], [1, 2]))
    stopped = remap(draft_of(threading=[1, 2, 3, 4], plan=plan), Loom(4, 5), present=tied, aim=Aim.TREADLES)
    assert not stopped.fewest.proven
    assert not stopped.stages[0].fewest_cords
    # Of all tie-ups with as many treadles, listed one by one, some changes three cords.
    assert stopped.stages[0].cords_changed > 3


def test_no_tie_up_with_so_few_treadles_is_lighter_where_that_is_said_even_with_smaller_columns():
    """The bags of the search stand for all answers but not for the feet: a smaller column may open a shed alone."""
    plan = ([3], [3, 4], [4], [2, 4], [2], [3], [2, 4], [2, 3, 4], [2, 4], [2, 3], [1, 3, 4], [1, 3])
    draft = draft_of(threading=[1, 2, 3, 4] * 2, plan=list(plan), shafts=4)
    known = least_on([frozenset(shed) for shed in plan], [frozenset(tie) for tie in ([1, 3], [3], [2, 4], [2], [4])], 1)
    for aim in (Aim.FEET, Aim.TREADLES):
        footwork = remap(draft, Loom(4, 5), aim=aim).stages[0].footwork
        assert footwork.at_least <= known
        assert not footwork.proven or footwork.cost <= known


@pytest.mark.parametrize(("seed", "reach"), [(9, 2), (4, 1)])
def test_of_the_tie_ups_with_so_few_treadles_none_that_the_search_knows_is_lighter(seed, reach):
    rng = random.Random(seed)
    shafts, sheds = 4, 7
    plan = [[s for s in range(1, shafts + 1) if rng.random() < 0.6] for _ in range(sheds)]
    draft = draft_of(threading=[1, 2, 3, 4], plan=plan + [rng.choice(plan) for _ in range(20)], shafts=shafts)
    answer = remap(draft, Loom(shafts, 6, reach=reach), aim=Aim.TREADLES)
    assert answer.verdict is Verdict.FITS
    targets = targets_of(draft.sheds(), shafts, Action.RISING)
    for columns in itertools.islice(minimal_answers(targets, reach, answer.fewest.best), 20):
        feet = best_feet_on(walks_of(targets), columns, reach)
        assert answer.stages[0].footwork.cost <= feet.cost
