"""Small warps of our own, and a loom that numbers and times its entries."""

from __future__ import annotations

from companion.draft.masks import shed_of, treadle_set
from companion.draft.model import Colour, Draft, Lifted, Treadled, Yarn
from companion.remap.loom.loom import Action, Footing, Loom, Tie
from companion.weaving.decide import weave_pick
from companion.weaving.events import Entry
from companion.weaving.progress import begin, evolve
from companion.weaving.warp import LoomProfile, Piece, Stage, Warp

YARNS = (
    Yarn("sand", Colour(210, 190, 150)),
    Yarn("sea", Colour(20, 90, 120)),
    Yarn("rust", Colour(170, 70, 30)),
)
TWILL = (shed_of([1, 2]), shed_of([2, 3]), shed_of([3, 4]), shed_of([1, 4]))
LEVERS = LoomProfile("small loom", Loom(4, 0, Action.LEVERS))


def lever_draft(weft, sections=(), sheds=TWILL, yarns=YARNS, ends=8):
    """A straight-threaded draft whose sheds follow one another, with this weft (yarn per pick)."""
    return Draft(
        shafts=4,
        threading=tuple(end % 4 for end in range(ends)),
        lifting=Lifted(tuple(sheds[pick % len(sheds)] for pick in range(len(weft)))),
        yarns=yarns,
        warp=(0,) * ends,
        weft=tuple(weft),
        sections=tuple(sections),
    )


def lever_warp(*drafts, **piece):
    """A warp on a lever loom: nothing to tie."""
    return Warp(
        "try-out", LEVERS, tuple(Piece(f"piece {number}", draft, **piece) for number, draft in enumerate(drafts, 1))
    )


def two_stage_warp(present=None):
    """A treadle loom and 8 picks of straight twill: four sheds on two treadles, re-tied after pick 4."""
    draft = Draft(
        shafts=4,
        threading=(0, 1, 2, 3) * 2,
        lifting=Treadled(TWILL, tuple(treadle_set([pick]) for pick in (1, 2, 1, 2, 3, 4, 3, 4))),
        yarns=YARNS,
        warp=(0,) * 8,
        weft=(0, 0, 1, 1, 0, 0, 1, 1),
    )
    first = (Tie(up=TWILL[0]), Tie(up=TWILL[1]))
    second = (Tie(up=TWILL[2]), Tie(up=TWILL[3]))
    piece = Piece(
        "sampler",
        draft,
        stages=(Stage(0, 3, first), Stage(4, 7, second)),
        footings=(Footing(left=(0,)), Footing(right=(1,))) * 4,
    )
    return Warp("two ties", LoomProfile("floor loom", Loom(4, 2), present=present), (piece,))


class AtLoom:
    """Carries out commands as the shell does: command, entry, fold. Entries come `gap_ms` apart."""

    def __init__(self, warp, gap_ms=5_000):
        self.warp = warp
        self.progress = begin(warp)
        self.entries = []
        self.gap_ms = gap_ms
        self.at_ms = 1_700_000_000_000

    @property
    def now(self):
        return self.progress.now

    def do(self, command, *args, **kwargs):
        event = command(self.warp, self.progress, *args, **kwargs)
        self.at_ms += self.gap_ms
        entry = Entry(len(self.entries) + 1, self.at_ms, event)
        self.progress = evolve(self.warp, self.progress, entry)
        self.entries.append(entry)
        return entry

    def weave(self, picks):
        for _ in range(picks):
            self.do(weave_pick)
