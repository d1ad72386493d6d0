"""What treadles to spare are good for: a treadle of its own for each of the sheds that are opened most often.

Where this comes in: assets/mathematics.md, "Cords and places".
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

from companion.remap.loom.footings import footings_for
from companion.remap.loom.targets import Column, Columns, Target


def with_spares(columns: Sequence[Column], treadles: int, treadling: Sequence[Target], reach: int) -> Columns:
    """Return the columns and, up to `treadles` in all, the most frequent targets that two feet opened till now.

    With reach 1 a column that is no target itself and is needed no longer makes room for one more. Columns 1, 2, 4 and
    treadling 3, 3, 5, 6, 1, 2, 4 on four treadles give 1, 2, 4, 3. With reach 2 the columns keep their places, the new
    ones follow.
    """
    often = Counter(target for target in treadling if target)
    kept = list(columns)
    for target in sorted(often, key=lambda target: -often[target]):
        if target not in kept:
            grown = [*kept, target]
            if reach == 1:
                _drop_needless(grown, often)
            if len(grown) <= treadles:
                kept = grown
    return tuple(kept)


def _drop_needless(columns: list[Column], targets: Counter[Target]) -> None:
    for column in list(columns):
        if column in targets:
            continue
        fewer = [other for other in columns if other != column]
        if all(footings_for(target, fewer, 1) for target in targets):
            columns.remove(column)
