"""Plans of cloths, kept by what their drafts weave, so that a plan is there again whenever its draft is."""

from __future__ import annotations

import json
from hashlib import sha256
from pathlib import Path
from typing import Any

from companion.draft.model import Draft
from companion.journal.disk import write_whole
from companion.journal.shelf import data_folder
from companion.weaving.cloth_plan import WARP, WEFT, ClothWished, PlanFact, PlannedYarn
from companion.weaving.planning import Weave
from companion.weaving.yarn_written import read_yarn

MOST_KEPT = 200
"""The oldest are forgotten first."""


def plans_file() -> Path:
    """Return where this weaver's plans are kept."""
    return data_folder() / "plans.json"


def plan_of(draft: Draft) -> ClothWished:
    """Return the plan that was kept for this draft; one that tells nothing where there is none, or a spoilt one."""
    kept = _kept().get(_mark(draft))
    try:
        return ClothWished({}, {}, draft=draft) if kept is None else _read(kept, draft)
    except (ValueError, TypeError, KeyError, ArithmeticError, AttributeError):
        return ClothWished({}, {}, draft=draft)


def keep_plan(wished: ClothWished) -> None:
    """Keep a plan for its draft; raises OSError."""
    if wished.draft is None:
        return
    kept, mark = _kept(), _mark(wished.draft)
    kept.pop(mark, None)
    kept[mark] = {
        "told": {fact.value: value for fact, value in wished.told.items()},
        "yarns": {side: yarn.words for side, yarn in wished.yarns.items()},
        "weave": None if wished.weave is None else wished.weave.name.lower(),
    }
    plans_file().parent.mkdir(parents=True, exist_ok=True)
    write_whole(plans_file(), json.dumps(dict(list(kept.items())[-MOST_KEPT:])).encode())


def _read(kept: dict[str, Any], draft: Draft) -> ClothWished:
    told = {PlanFact(name): float(value) for name, value in kept["told"].items()}
    yarns = {side: PlannedYarn(str(words), read_yarn(str(words))) for side, words in kept["yarns"].items()}
    weave = None if kept["weave"] is None else Weave[kept["weave"].upper()]
    return ClothWished(told, {side: yarns[side] for side in (WARP, WEFT) if side in yarns}, weave, draft)


def _kept() -> dict[str, Any]:
    try:
        kept = json.loads(plans_file().read_text(encoding="utf-8"))
    except (OSError, ValueError, RecursionError):
        return {}
    return kept if isinstance(kept, dict) else {}


def _mark(draft: Draft) -> str:
    """Return what tells this draft from others: its threads, colours and sheds, whatever file it lies in."""
    parts = (draft.threading, draft.warp, draft.weft, draft.sheds_of_ends())
    return sha256(repr(parts).encode()).hexdigest()
