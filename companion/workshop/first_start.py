"""What a first start goes by: the locale says whether this is North America, where weavers measure in inches."""

from __future__ import annotations

from collections.abc import Mapping

from companion.draft.facing import FROM_RIGHT
from companion.draft.units import Units
from companion.present.preferences import Preferences
from companion.present.trade_words import Trade

_ASKED = ("LC_ALL", "LC_MEASUREMENT", "LANG")
"""The variables that say where a measuring person is, the strongest first (POSIX.1-2017, Base Definitions, 8.2)."""
_IN_INCHES = frozenset({"US", "CA"})
"""Territories (ISO 3166-1) whose weavers reckon in ends per inch and begin at the right: common practice, no source."""


def first_preferences(environment: Mapping[str, str]) -> Preferences:
    """Return the settings that a weaver begins with: `LANG=en_US.UTF-8` measures in inches, first end at the right."""
    locale = next((environment[name] for name in _ASKED if environment.get(name)), "")
    territory = locale.partition(".")[0].partition("@")[0].partition("_")[2]
    if territory in _IN_INCHES:
        return Preferences(units=Units.INCH, facing=FROM_RIGHT, trade=Trade(american=territory == "US"))
    return Preferences()
