"""Place and cloth are one truth: after any deeds, all that is shown of them agrees with a loom kept by hand."""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st

from companion.draft.facing import FROM_LEFT, Side
from companion.draft.model import Section
from companion.draft.units import Units
from companion.present.asking import Answer, Asked
from companion.present.cloth_end import end_at, moved
from companion.present.resume import ask_resume
from companion.present.weave import weave_signs
from companion.record.sheet import sheet
from companion.weaving import decide, telling
from companion.weaving.amounts import picks_ahead
from companion.weaving.coming_back import coming_back
from companion.weaving.errors import WeavingError
from companion.weaving.events import FaultKind
from companion.weaving.history import history
from companion.weaving.onward import onward
from companion.weaving.pick_view import next_pick, rows_at_fell, this_pick
from companion.weaving.progress import carry_on
from companion.weaving.shuttles import shuttles
from companion.weaving.taking_out import taking_out
from companion.weaving.telling import picks_further
from tests.oracles.loom_by_hand import OVER, LoomByHand, PieceByHand
from tests.weaving.world import YARNS, AtLoom, lever_draft, lever_warp

WEFTS = ([0, 1, 1, 0, 2, 0, 1, 2, 2], [2, 0, 2, 1])
NAMES = [yarn.name for yarn in YARNS]
SECTIONS = ([Section("hem", 2), Section("body", 3, until_cm=3.5), Section("end", 4)], [Section("hem", 4)])
PER_CM = 2.0
MOST = max(map(len, WEFTS))

picks = st.integers(0, MOST - 1)
DEEDS = st.lists(
    st.one_of(
        st.just(("weave",)),
        st.tuples(st.just("weave some"), st.integers(2, 6)),
        st.just(("take out",)),
        st.just(("undo",)),
        st.just(("pause",)),
        st.just(("resume",)),
        st.just(("section again",)),
        st.just(("section ended",)),
        st.just(("finish",)),
        st.just(("next piece",)),
        st.just(("beside",)),
        st.tuples(st.just("skip"), st.integers(1, 3)),
        st.tuples(st.just("jump"), st.integers(0, MOST)),
        st.tuples(st.just("tell"), st.integers(0, 4), st.lists(picks, max_size=4).map(tuple)),
        st.tuples(st.just("end at"), picks, st.lists(st.integers(0, 3), min_size=8, max_size=8)),
        st.tuples(st.just("pad"), st.integers(-3, 4).filter(bool)),
        st.tuples(st.just("look"), st.integers(0, 2), st.sampled_from(["left", "right", None])),
    ),
    max_size=40,
)


class BothLooms:
    """The program and the loom by hand, side by side; what the program refuses is not done by hand either."""

    def __init__(self, start):
        drafts = [lever_draft(weft, sections) for weft, sections in zip(WEFTS, SECTIONS, strict=True)]
        self.loom = AtLoom(lever_warp(*drafts, picks_per_cm=PER_CM, start_side=start))
        by_hand = []
        for weft, sections in zip(WEFTS, SECTIONS, strict=True):
            ends, first = [], 0
            for section in sections:
                ends.append((first, first + section.picks - 1))
                first += section.picks
            lengths = [
                (*end, section.until_cm * PER_CM)
                for end, section in zip(ends, sections, strict=True)
                if section.until_cm
            ]
            by_hand.append(PieceByHand([NAMES[yarn] for yarn in weft], start.value, ends, lengths))
        self.hand = LoomByHand(by_hand)
        self.looks = []

    def do(self, command, *arguments, **named):
        """Carry out a command; tell whether the program took it."""
        try:
            self.loom.do(command, *arguments, **named)
        except WeavingError:
            return False
        self.looks.append(self.hand.copy())
        return True

    def deed(self, kind, *more):
        hand, at_work = self.hand, not (self.hand.away or self.hand.done)
        more_to_weave = hand.next < len(hand.on.weft)
        match kind:
            case "weave":
                assert self.do(decide.weave_pick) == (at_work and more_to_weave)
                if at_work and more_to_weave:
                    hand.weave()
            case "weave some":
                for _ in range(more[0]):
                    self.deed("weave")
            case "take out":
                assert self.do(decide.take_out) == (at_work and bool(hand.rows))
                if at_work and hand.rows:
                    hand.unweave()
            case "pause":
                assert self.do(decide.pause) == (not hand.away)
                hand.away = True
            case "resume":
                assert self.do(decide.resume)
                hand.away = False
            case "jump":
                if self.do(decide.jump, *more):
                    assert at_work
                    hand.go_to(*more)
            case "skip":
                if self.do(decide.skip, *more):
                    assert at_work
                    hand.go_to(hand.next + more[0])
            case "section ended":
                if self.do(decide.end_section):
                    hand.go_to(hand.section_of(hand.next)[1] + 1)
            case "section again":
                if self.do(decide.repeat_section):
                    assert hand.rows[-1] == hand.section_of(hand.rows[-1])[1]
                    hand.begin_section_again()
            case "finish":
                assert self.do(decide.finish_piece) == at_work
                hand.done = hand.done or at_work
            case "next piece":
                before = (hand.done, hand.piece)
                assert self.do(decide.start_piece) == (before == (True, 0))
                if before == (True, 0):
                    hand.begin_next_piece()
            case "beside":
                # Nothing of this moves a row or a shuttle.
                self.do(decide.write_note, "calm")
                self.do(decide.note_fault, FaultKind.OTHER, 0)
                self.do(decide.change_bobbin, 0, 20.0)
            case "tell":
                if self.do(telling.tell_cloth, *more):
                    hand.is_told(*more)
            case "look":
                self.look(*more)
            case "pad":
                self.answered(lambda: moved(self.loom.warp, self.loom.progress, *more))
            case "end at":
                self.end_at(*more)
            case "undo":
                self.undo()

    def look(self, yarn, side):
        named = {"unknown" if side is None else side: (yarn,)}
        if self.do(telling.tell_sides, **named):
            self.hand.is_seen(NAMES[yarn], side)

    def undo(self):
        # The program forgets what lies very far back, and so it may refuse, but never anything near.
        if not self.looks:
            return
        looks = self.looks
        assert self.do(decide.undo)
        self.looks = looks[:-2]
        self.hand = looks[-2]

    def end_at(self, pick, answers):
        """Say where the cloth ends, and answer whatever is asked on the way there."""
        at_work = not self.hand.done

        def asked():
            return end_at(self.loom.warp, self.loom.progress, pick, Answer("Not sure", asked))

        step, answers, otherwise = self.answered(asked, ask=True), list(answers), False
        while isinstance(step, Asked):
            choices = [answer for answer in (*step.answers, *step.foot) if answer.words]
            choice = choices[answers.pop() % len(choices)] if answers else choices[0]
            # A few picks off the journal's place is what who is not sure may say in place of that pick.
            otherwise = otherwise or choice.words.endswith((" further", " back"))
            step = choice.leads_to()
        if step is not None and at_work:
            self.carry_out(step.result)
            assert otherwise or self.hand.rows[-1] == pick

    def answered(self, lead, ask=False):
        try:
            step = lead()
        except WeavingError:
            return None
        if ask:
            return step
        if not self.hand.done:
            self.carry_out(step.result)
        return None

    def carry_out(self, commands):
        for command in commands:
            assert self.do(command)
            told = command.keywords
            if "looked_right" in told:
                self.hand.away = False
            elif "taken_out" in told:
                self.hand.is_told(told["taken_out"], told["woven"])
            if "left" in told:
                for side in ("left", "right", "unknown"):
                    for yarn in told[side]:
                        self.hand.is_seen(NAMES[yarn], None if side == "unknown" else side)

    def agree(self):
        """Compare everything that is shown of place, cloth and shuttles."""
        warp, progress, hand = self.loom.warp, self.loom.progress, self.hand
        now, piece = progress.now, warp.pieces[hand.piece]
        newest_first = hand.rows[::-1]
        assert (now.piece, now.paused, now.finished) == (hand.piece, hand.away, hand.done)
        assert list(now.cloth.newest_first()) == newest_first
        assert now.cloth.picks == len(hand.rows)
        assert now.next_pick == hand.next
        for view in shuttles(warp, progress):
            assert view.side_known == (view.name not in hand.lost)
            assert view.side.value == hand.lies[view.name]
        self._at_the_fell(warp, progress, newest_first)
        self._next(warp, progress, piece)
        self._record(warp, hand)
        again = carry_on(warp, progress.settled, self.loom.entries[progress.settled.number :])
        assert again == progress

    def _at_the_fell(self, warp, progress, newest_first):
        """The picture at the fell, the one on coming back, and Back and the list of what to take out."""
        hand = self.hand
        assert [row.pick for row in rows_at_fell(warp, progress, 5)] == newest_first[:5]
        seen = coming_back(warp, progress, progress.now.at_ms)
        assert [row.pick for row in seen.rows] == newest_first[:8]
        assert (seen.last.pick if seen.last else None) == (newest_first[0] if newest_first else None)
        asked = ask_resume(warp, progress, FROM_LEFT, Units.METRIC, 0)
        assert asked.with_cloth == bool(newest_first)
        assert asked.rows == ()
        if not newest_first:
            assert "No pick lies in the cloth" in asked.detail
            return
        assert f"Last pick {newest_first[0] + 1}, " in asked.detail
        looking, out = hand.copy(), taking_out(warp, progress, len(newest_first))
        for step in out:
            shuttle = hand.on.weft[step.pick]
            assert (step.pull_from.value, step.shuttle) == (looking.lies[shuttle], shuttle)
            assert looking.pull_back() == step.pick
            assert step.pull_to.value == looking.lies[shuttle]
        assert [step.pick for step in out] == newest_first

    def _next(self, warp, progress, piece):
        """The pick that is next, what the screen says of it, and the one after."""
        hand, view = self.hand, this_pick(warp, progress)
        signs = weave_signs(warp, progress, view, Units.METRIC)
        if hand.done or hand.next >= len(hand.on.weft):
            assert view is None
            assert (signs.from_left, signs.from_right) == (False, False)
            return
        shuttle = hand.on.weft[hand.next]
        side = None if shuttle in hand.lost else hand.lies[shuttle]
        assert (view.pick, view.shuttle) == (hand.next, shuttle)
        assert view.section_cm == hand.in_section() / PER_CM
        assert (signs.from_left, signs.from_right) == (side == "left", side == "right")
        after = hand.copy()
        after.weave()
        later = next_pick(warp, progress)
        assert (len(piece.draft.weft) if later is None else later.pick) == after.next
        if later is not None:
            assert later.comes_from.value == after.lies[after.on.weft[after.next]]
            assert later.section_cm == after.in_section() / PER_CM

    def agree_to_the_end(self):
        """Compare what is still to come with the loom by hand woven to the end of the piece."""
        progress, hand = self.loom.progress, self.hand.copy()
        coming = []
        while not hand.done and hand.next < len(hand.on.weft):
            coming.append(hand.next)
            hand.weave()
        piece = self.loom.warp.pieces[hand.piece]
        assert picks_ahead(piece, progress.now).picks == len(coming)
        if hand.done:
            return
        for view in shuttles(self.loom.warp, progress):
            assert view.next_use == next((pick for pick in coming if hand.on.weft[pick] == view.name), None)
        for count in range(1, len(coming) + 1):
            assert picks_further(piece, progress.now, count) == tuple(coming[:count])

    def _record(self, warp, hand):
        told = sheet(warp, self.loom.entries)
        assert [list(piece.lying) for piece in told.pieces] == [*hand.before, hand.rows]
        lying = [(woven.piece, woven.pick) for woven in history(warp, self.loom.entries).woven if not woven.taken_out]
        assert lying == [(piece, pick) for piece, rows in enumerate([*hand.before, hand.rows]) for pick in rows]


@settings(max_examples=250, deadline=None)
@given(DEEDS, st.sampled_from(Side))
def test_place_cloth_and_shuttles_agree_with_a_loom_by_hand_after_any_deeds(deeds, start):
    both = BothLooms(start)
    for deed in deeds:
        both.deed(*deed)
        both.agree()
    both.agree_to_the_end()


@settings(max_examples=60, deadline=None)
@given(
    st.lists(
        st.one_of(
            st.sampled_from([("section again",), ("take out",), ("undo",)]),
            st.tuples(st.just("weave some"), st.integers(1, 7)),
            st.tuples(st.just("skip"), st.integers(1, 2)),
            st.tuples(st.just("pad"), st.integers(-3, 4).filter(bool)),
            st.tuples(st.just("tell"), st.integers(0, 3), st.lists(st.integers(1, 5), max_size=3).map(tuple)),
        ),
        max_size=12,
    )
)
def test_a_length_begun_anew_agrees_with_a_loom_by_hand(deeds):
    """From where the section woven to a length is woven: 2 picks of hem, and 3 times 3 of the body."""
    both = BothLooms(Side.LEFT)
    for deed in (("weave some", 11), ("section again",), *deeds):
        both.deed(*deed)
        both.agree()
    both.agree_to_the_end()


@settings(max_examples=60, deadline=None)
@given(st.lists(st.sampled_from(["go on", "undo", "take out"]), max_size=60))
def test_going_on_through_both_pieces_agrees_with_a_loom_by_hand(deeds):
    """ "Next" does whatever comes next: to go on is to weave, to finish, to begin the next piece."""
    both = BothLooms(Side.RIGHT)
    for deed in deeds:
        if deed != "go on":
            both.deed(deed)
        elif both.hand.done and both.hand.piece == 1:
            assert not both.do(onward)
        elif both.hand.done:
            both.do(onward)
            both.hand.begin_next_piece()
        elif both.hand.next >= len(both.hand.on.weft):
            both.do(onward)
            both.hand.done = True
        else:
            both.do(onward)
            both.hand.weave()
        both.agree()


def test_the_loom_by_hand_throws_and_pulls_back():
    """The oracle itself, worked by hand: sand goes over and back, sea stays where it began."""
    hand = LoomByHand([PieceByHand(["sand", "sand", "sea"], "right", [(0, 2)])])
    hand.weave()
    assert (hand.rows, hand.next, hand.lies) == ([0], 1, {"sand": OVER["right"], "sea": "right"})
    hand.weave()
    hand.unweave()
    assert (hand.rows, hand.next, hand.lies) == ([0], 1, {"sand": "left", "sea": "right"})
    hand.is_told(1, (2,))
    assert (hand.rows, hand.next, hand.lies) == ([2], 3, {"sand": "right", "sea": "left"})
