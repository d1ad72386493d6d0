"""A first start measures and reads as weavers do where the locale says that this is; later the settings say it."""

from __future__ import annotations

import pytest

from companion.draft.facing import FROM_LEFT, FROM_RIGHT
from companion.draft.units import Units
from companion.present.preferences import Preferences
from companion.present.trade_words import Trade
from companion.workshop.first_start import first_preferences
from companion.workshop.preference_file import load_preferences, save_preferences


@pytest.mark.parametrize(
    ("environment", "units", "facing"),
    [
        ({"LANG": "en_US.UTF-8"}, Units.INCH, FROM_RIGHT),
        ({"LANG": "fr_CA"}, Units.INCH, FROM_RIGHT),
        ({"LANG": "de_DE.UTF-8@euro"}, Units.METRIC, FROM_LEFT),
        ({"LANG": "en_US.UTF-8", "LC_MEASUREMENT": "en_GB.UTF-8"}, Units.METRIC, FROM_LEFT),
        ({"LANG": "en_GB.UTF-8", "LC_ALL": "en_US"}, Units.INCH, FROM_RIGHT),
        ({"LANG": "en_US.UTF-8", "LC_ALL": ""}, Units.INCH, FROM_RIGHT),
        ({"LANG": "C.UTF-8"}, Units.METRIC, FROM_LEFT),
        ({}, Units.METRIC, FROM_LEFT),
    ],
)
def test_the_locale_says_how_a_first_start_measures_and_reads(environment, units, facing):
    first = first_preferences(environment)
    assert (first.units, first.facing, first.trade.harness) == (units, facing, False)


def test_settings_kept_before_there_were_units_stay_metric_and_from_the_left(tmp_path, monkeypatch):
    monkeypatch.setenv("LC_ALL", "en_US.UTF-8")
    path = tmp_path / "settings.json"
    american = Trade(american=True)
    assert load_preferences(path) == Preferences(units=Units.INCH, facing=FROM_RIGHT, trade=american)
    path.write_text('{"theme": "light"}', encoding="utf-8")
    assert load_preferences(path) == Preferences(theme="light")
    save_preferences(path, Preferences(units=Units.METRIC, facing=FROM_RIGHT))
    assert load_preferences(path) == Preferences(units=Units.METRIC, facing=FROM_RIGHT)
