"""The keys of the text stepper of dressing, as it tells of them."""

from __future__ import annotations

HELP = "enter = done, b = back, q = leave, ? = the other keys"
ALL_DONE = "the loom is dressed; fellside weave begins the cloth"
KEYS = (
    ("enter", "these are done; right, in the test weave"),
    ("b", "back: take them out again"),
    ("a", "say it once more"),
    ("h", "end by end (turn by turn when winding), or group by group"),
    ("g N", "groups of at most N ends"),
    ("t N", "take out the last N ends, dents or sheds; t N TASK of another task"),
    ("f", "go from the other side (before anything is done)"),
    ("o TASK", "go to another task: winding, threading, sleying, …"),
    ("d", "this task is done"),
    ("s", "skip this task"),
    ("p PLAN", "ends in the dents: 2, or (1 1 2 2 0)x20"),
    ("r REED", "the reed: 10/in, 4/cm"),
    ("m END", "a mistake at this end: how to mend it; m END mended WORDS notes it; m 13-16 for several"),
    ("m dent N", "the same for a dent; m shed N for a shed of the test weave"),
    ("e END", "on which heddles the ends near this one belong"),
    ("w WORDS", "this shed of the test weave is wrong"),
    ("n WORDS", "note these words"),
    ("u", "undo: names the newest entry, once more takes it back"),
    ("l", "the tasks and how far they are"),
    ("q", "leave; everything is kept"),
)
