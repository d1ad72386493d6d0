"""How far a dressing is, the slow way: the ends on the loom as lists, made anew from every event that stands.

Shares no code with companion.weaving.dressing: what is threaded is a list of ends, undoing strikes an event off.
"""

from __future__ import annotations

from companion.weaving import dressing_events as de
from companion.weaving import events as ev


def standing(entries):
    struck = {entry.event.number for entry in entries if isinstance(entry.event, ev.Undone)}
    return [e.event for e in entries if e.number not in struck and not isinstance(e.event, ev.Undone)]


class DressedLoom:
    """The ends (dents, sheds) done of each task, in the order in which they were done, and what was said."""

    def __init__(self, entries, amounts):
        self.piles = {task: [] for task in de.DressingTask}
        self.last_first = dict.fromkeys(de.DressingTask, False)
        self.said = dict.fromkeys(de.DressingTask, "to do")
        self.dents, self.wrong, self.mistakes = None, [], 0
        for event in standing(entries):
            self._take(event, amounts)

    def _take(self, event, amounts):
        match event:
            case de.TaskBegun(task, from_last):
                self.last_first[task] = from_last
            case de.Dressed(task, _, count):
                waiting = list(range(amounts(task, self.dents)))
                if self.last_first[task]:
                    waiting.reverse()
                for _ in range(count):
                    self.piles[task].append(waiting[len(self.piles[task])])
                self.said[task] = "to do"
                if task is de.DressingTask.TEST_WEAVE:
                    self.wrong = [shed for shed in self.wrong if shed not in self.piles[task][-count:]]
            case de.DressingTakenOut(task, count):
                for _ in range(count):
                    self.piles[task].pop()
                self.said[task] = "to do"
            case de.TaskSettled(task, state):
                self.said[task] = state.value
            case de.SleyPlanned(dents):
                self.dents = dents
            case de.ShedFoundWrong(test):
                self.wrong = [shed for shed in self.wrong if shed != test] + [test]
            case de.DressingMistake():
                self.mistakes += 1
