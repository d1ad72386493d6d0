from __future__ import annotations

from pathlib import Path

from companion.present.cautions import PEDAL_CAUTIONS

PAGE = Path(__file__).resolve().parents[2] / "assets" / "help" / "pedals.md"


def test_each_caution_is_one_line_that_fits_a_narrow_terminal_twice():
    assert all("\n" not in caution and len(caution) <= 2 * 80 for caution in PEDAL_CAUTIONS)


def test_the_page_that_they_point_to_says_the_same_and_names_its_sources():
    page = PAGE.read_text(encoding="utf-8")
    for words in ("Extra-low voltage only", "Health and Safety Executive", "10.7759/cureus.67217", "local code"):
        assert words in page
