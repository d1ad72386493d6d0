"""What cannot be is said with its amounts in the weaver's units."""

from __future__ import annotations

import pytest

from companion.draft.units import Units
from companion.weaving.decide import measure
from companion.weaving.errors import WeavingError, error_words
from companion.weaving.progress import begin
from companion.weaving.warp import Winding
from tests.weaving.world import lever_draft, lever_warp


def test_an_amount_is_carried_and_said_in_either_units():
    with pytest.raises(WeavingError) as refused:
        Winding(-2.54)
    assert str(refused.value) == "a warp of -2.54 cm; give the length that was wound"
    assert error_words(refused.value, Units.METRIC) == str(refused.value)
    assert error_words(refused.value, Units.INCH) == "a warp of -1 in; give the length that was wound"


def test_a_measure_that_cannot_be_is_said_in_inches():
    warp = lever_warp(lever_draft([0]))
    with pytest.raises(WeavingError) as refused:
        measure(warp, begin(warp), 0.0)
    assert refused.value.said(Units.INCH) == "0 in is no length of cloth; give one such as 4.875 in"


def test_any_other_error_and_a_plain_line_stay_as_they_are():
    assert error_words(OSError("no room"), Units.INCH) == "no room"
    assert error_words("a line about 3 cm", Units.INCH) == "a line about 3 cm"
