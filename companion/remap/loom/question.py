"""The draft on the loom, put so that a search can be asked: its sheds there, and what each asks of the treadles."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field

from companion.draft.masks import Shed, common, every_shaft, shafts_of, union, without
from companion.draft.model import Draft, Treadled, distinct
from companion.remap.loom.loom import Action, Loom, Tie, TieUp
from companion.remap.loom.targets import Column, Columns, Target, by_treadle, columns_of, targets_of, tieup_of
from companion.remap.loom.wished import AS_IT_COMES, WishedFeet, wished_feet


@dataclass(frozen=True, slots=True)
class Job:
    """The picks to tie for: a target per pick, on the loom, with `shafts` of it in use and the tie-up now on it."""

    loom: Loom
    shafts: int
    treadling: tuple[Target, ...]
    present: TieUp | None
    draft_order: Columns = ()
    """The draft's own columns in their order, which ours follow where nothing speaks against it."""
    wished: WishedFeet = AS_IT_COMES
    """What is wished of the feet at these picks."""

    targets: frozenset[Target] = field(init=False)
    """What these picks ask for."""
    present_columns: Columns | None = field(init=False)
    """The tie-up now on the loom, a column for every treadle; None where it is not known."""

    def __post_init__(self) -> None:
        object.__setattr__(self, "targets", frozenset(self.treadling))
        object.__setattr__(self, "present_columns", on_treadles(self.present, self.shafts, self.loom))

    def tieup_of(self, columns: Sequence[Column]) -> TieUp:
        """Return the ties of treadles that carry these columns; one that carries none keeps what it has."""
        tied = list(tieup_of(columns, self.shafts, self.loom.action))
        for treadle, tie_now in enumerate(self.present or ()):
            if not columns[treadle]:
                tied[treadle] = tie_now
        return tuple(tied)


@dataclass(frozen=True, slots=True)
class Question:
    """One draft on one loom. `shafts` of the loom are in use, of which those `carrying` ends make the cloth.

    `present` ties only shafts whose cords count. Sheds and targets are said of the shafts that carry ends: two picks
    that differ in others only are one shed.

    `sheds` are the distinct sheds in the order of first use, `targets` what each asks for (see `targets`).
    """

    draft: Draft
    loom: Loom
    shafts: int
    present: TieUp | None
    shed_of_pick: tuple[Shed, ...]
    sheds: tuple[Shed, ...]
    targets: Mapping[Shed, Target]
    treadling: tuple[Target, ...]
    carrying: Shed
    draft_order: Columns
    """The columns of the draft's own treadles; empty for a lift plan."""
    tabby: tuple[Target, Target] | None = None
    """The targets of plain weave on this threading, None where it has none."""

    @property
    def wanted(self) -> tuple[Target, ...]:
        """The target of each of the sheds."""
        return tuple(self.targets.values())

    @property
    def one_each(self) -> int:
        """How many treadles do where each shed has one of its own."""
        return sum(1 for target in self.wanted if target)

    @property
    def cords_in_doubt(self) -> bool:
        """Whether cords count that hang on shafts without ends: every treadle pressed loses them, needed or not.

        Fewer may do then, where no footing draws such a shaft both ways; so no number of cords is proven.
        """
        return any(without(union((tie.up, tie.down)), self.carrying) for tie in self.present or ())

    def job(self, first: int, stop: int, present: TieUp | None) -> Job:
        """Return the job to tie for the picks from `first` up to `stop`, `present` being tied by then."""
        picks = self.treadling[first:stop]
        begins = not any(self.treadling[:first])
        wished = wished_feet(self.loom.wish, self.tabby, picks, begins=begins)
        return Job(self.loom, self.shafts, picks, present, self.draft_order, wished)

    @property
    def wished(self) -> WishedFeet:
        """What is wished of the feet at all picks."""
        return wished_feet(self.loom.wish, self.tabby, self.treadling)


def on_treadles(present: TieUp | None, shafts: int, loom: Loom) -> Columns | None:
    """Return the column of every treadle of the loom, 0 where nothing is tied; None where that is not known."""
    if present is None:
        return None
    columns = columns_of(present, shafts, loom.action)
    return by_treadle(columns, range(len(columns)), loom.treadles)


def each_alone(targets: Iterable[Target]) -> Columns:
    """Return the columns that give each of these targets a treadle of its own."""
    return tuple(target for target in sorted(set(targets)) if target)


def question(draft: Draft, loom: Loom, present: TieUp | None, tabby: tuple[Shed, Shed] | None = None) -> Question:
    """Put the question. Shafts of the draft that the loom lacks are cut off: no end may hang on them.

    Shafts beyond the draft's are in use where their cords count (see `counted_cords`).
    `tabby` are the sheds of plain weave, for what is wished of the feet.
    """
    counted = as_counted(present, draft, loom)
    hung = max(shafts_of(union(side for tie in counted or () for side in (tie.up, tie.down))), default=0)
    shafts = min(max(draft.shafts, hung), loom.shafts)
    carrying = common(draft.threaded_shafts(), every_shaft(shafts))
    shed_of_pick = draft.sheds_of_ends()
    sheds = distinct(shed_of_pick)
    if loom.action is Action.LEVERS:
        return Question(draft, loom, shafts, None, shed_of_pick, sheds, {}, (), carrying, ())
    targets = dict(zip(sheds, targets_of(sheds, shafts, loom.action, carrying=carrying), strict=True))
    return Question(
        draft,
        loom,
        shafts,
        counted,
        shed_of_pick,
        sheds,
        targets,
        tuple(targets[shed] for shed in shed_of_pick),
        carrying,
        _draft_order(draft, loom, shafts, carrying),
        _tabby_targets(tabby, shafts, loom.action, carrying),
    )


def counted_cords(draft: Draft, action: Action, present: TieUp | None) -> Shed:
    """Return the shafts whose cords count for this draft: a cord to one without ends may hang where it likes.

    Not on a countermarche where its cords draw it up here and down there: a shaft that is drawn both ways holds the
    treadles up, with ends or without. Where the present tie-up is not known, any shaft may hang so.
    """
    threaded = draft.threaded_shafts()
    if action is not Action.COUNTERMARCHE:
        return threaded
    if present is None:
        return every_shaft(draft.shafts)
    both_ways = common(union(tie.up for tie in present), union(tie.down for tie in present))
    return union((threaded, both_ways))


def as_counted(present: TieUp | None, draft: Draft, loom: Loom) -> TieUp | None:
    """Return the present tie-up without the cords that do not count for this draft (see `counted_cords`)."""
    if present is None:
        return None
    counted = common(counted_cords(draft, loom.action, present), every_shaft(loom.shafts))
    return tuple(Tie(common(tie.up, counted), common(tie.down, counted)) for tie in present)


def _tabby_targets(
    tabby: tuple[Shed, Shed] | None, shafts: int, action: Action, carrying: Shed
) -> tuple[Target, Target] | None:
    if tabby is None:
        return None
    one, other = targets_of([common(shed, every_shaft(shafts)) for shed in tabby], shafts, action, carrying=carrying)
    return one, other


def _draft_order(draft: Draft, loom: Loom, shafts: int, carrying: Shed) -> Columns:
    if not isinstance(draft.lifting, Treadled):
        return ()
    every = every_shaft(shafts)
    ties = [common(tied, every) for tied in draft.lifting.tieup]
    if not draft.rising:
        ties = [Shed(every ^ tied) for tied in ties]
    return targets_of(ties, shafts, loom.action, carrying=carrying)
