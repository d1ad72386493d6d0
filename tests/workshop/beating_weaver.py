"""A made-up weaver at a beater with a switch: what her feet, her beater and her hand do, and when, in order of time.

She beats once, twice or three times for a pick, sometimes before and after she changes the shed; she walks away, takes
picks out and beats the fell smooth afterwards. The times are our own invention (no published figures were found).
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum


class Does(Enum):
    """What she does: feet on these treadles, a beat, a touch on Back; a throw is what really makes a pick."""

    FEET = "feet"
    BEAT = "beat"
    THROW = "throw"
    BACK = "back"


@dataclass(frozen=True, slots=True)
class Habit:
    """How she weaves: seconds of a pick, seconds between beats of one, how often she beats once, twice, three times.

    `changes_before_last`: she beats, changes the shed, and beats again before the next throw.
    """

    pick_s: float
    double_s: float
    beats: tuple[int, int, int]
    changes_before_last: bool = False


HABITS = {
    "one beat": Habit(2.2, 0.4, (1, 0, 0)),
    "two beats": Habit(2.8, 0.45, (0, 1, 0)),
    "one, two or three": Habit(3.0, 0.5, (5, 4, 1)),
    "on the changed shed": Habit(3.2, 0.7, (0, 1, 0), changes_before_last=True),
    "fast": Habit(1.1, 0.22, (4, 1, 0)),
    "slow": Habit(6.0, 0.6, (3, 2, 1)),
}


class BeatingWeaver:
    """Yields what she does; `next_pick` is hers, whatever the program believes. `wanted[pick]` are the treadles."""

    def __init__(self, chance, habit, wanted):
        self.chance, self.habit, self.wanted = chance, habit, wanted
        self.now_s, self.next_pick = 100.0, 0

    def _spend(self, seconds, spread=0.15):
        self.now_s += max(0.05, self.chance.lognormvariate(0, spread) * seconds)
        return self.now_s

    def weave(self, picks):
        """Yield (what, treadles or pick or None, seconds) until so many picks lie in the cloth."""
        while self.next_pick < picks:
            yield from self._a_pick()
            luck = self.chance.random()
            if luck < 0.01:
                # She walks away, her feet off the treadles, and moves the beater as she comes back.
                yield Does.FEET, frozenset(), self._spend(0.3)
                self._spend(60.0, 0.8)
            elif luck < 0.02 and self.next_pick > 4:
                yield from self._unweave(self.chance.randint(1, 3))

    def _a_pick(self):
        habit, pick = self.habit, self.next_pick
        share = habit.pick_s
        same_again = pick > 0 and self.wanted[pick] == self.wanted[pick - 1]
        if same_again or self.chance.random() < 0.5:
            # Some weavers lift their feet between any two picks; for the same shed again she must.
            yield Does.FEET, frozenset(), self._spend(0.1 * share)
        treadles = sorted(self.wanted[pick])
        if len(treadles) > 1 and self.chance.random() < 0.3:
            yield Does.FEET, frozenset(treadles[:1]), self._spend(0.02 * share)
        yield Does.FEET, self.wanted[pick], self._spend(0.15 * share)
        yield Does.THROW, pick, self._spend(0.5 * share)
        self.next_pick += 1
        (beats,) = self.chance.choices((1, 2, 3), habit.beats)
        yield Does.BEAT, None, self._spend(0.15 * share)
        for beat in range(1, beats):
            after = self.wanted[self.next_pick] if self.next_pick < len(self.wanted) else frozenset()
            if habit.changes_before_last and beat == beats - 1 and after != self.wanted[pick]:
                yield Does.FEET, after, self.now_s + 0.4 * habit.double_s
            yield Does.BEAT, None, self._spend(habit.double_s)

    def _unweave(self, picks):
        for _ in range(picks):
            self.next_pick -= 1
            yield Does.FEET, self.wanted[self.next_pick], self._spend(1.0)
            self._spend(4.0)
            yield Does.BACK, None, self._spend(0.8)
        for _ in range(self.chance.randint(1, 2)):
            # The fell is beaten smooth, the last shed still open.
            yield Does.BEAT, None, self._spend(0.9)
        yield Does.FEET, frozenset(), self._spend(0.6)


@dataclass
class Counted:
    """What the program made of it: picks too many and too few against the cloth, and how many were thrown."""

    too_many: int = 0
    too_few: int = 0
    thrown: int = 0


def weave_by_beats(loom, feet, weaver, picks, sensed):
    """Let her weave so many picks at `loom` (commands, folded) watched by `feet`; set the place right after each slip.

    A slip is put right before the next shuttle is thrown, as if she had seen it right after the last beat.
    """
    from companion.weaving import decide, telling
    from companion.weaving.pick_view import this_pick

    counted, beaten_s = Counted(), 0.0

    def stand(now_s):
        feet.stand_at(loom.progress, this_pick(loom.warp, loom.progress), now_s)

    def carry_out(felt, now_s):
        for one in felt:
            if one.command is decide.weave_pick:
                loom.do(one.command)
                stand(now_s)

    stand(0.0)
    for does, what, at_s in weaver.weave(picks):
        if does is Does.FEET and sensed:
            carry_out(feet.felt(what, at_s), at_s)
        elif does is Does.BEAT:
            carry_out(feet.beaten(at_s), at_s)
            beaten_s = at_s
        elif does is Does.BACK:
            loom.do(decide.take_out)
            stand(at_s)
        elif does is Does.THROW:
            counted.thrown += 1
            off = loom.now.next_pick - what
            if off:
                counted.too_many += max(off, 0)
                counted.too_few += max(-off, 0)
                told = {"taken_out": off} if off > 0 else {"woven": tuple(range(what + off, what))}
                loom.do(telling.tell_cloth, **told)
                stand(beaten_s)
    return counted
