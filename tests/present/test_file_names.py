"""Files on buttons are never two alike, and say where they lie."""

from __future__ import annotations

from pathlib import PurePosixPath as P

from hypothesis import given
from hypothesis import strategies as st

from companion.present.file_names import draft_choices, place_words, told_apart

HOME, SHIPPED = P("/home/w"), P("/opt/f/assets/drafts")


def test_a_file_is_called_by_its_stem_and_by_more_only_where_two_are_alike():
    paths = [P("/d/towel-one.wif"), P("/d/scarf.wif"), P("/d/scarf.txt"), P("/a/rug.wif"), P("/b/rug.wif")]
    assert told_apart(paths) == ("towel one", "scarf.wif", "scarf.txt", "rug.wif in a", "rug.wif in b")


@given(
    st.sets(
        st.tuples(
            st.sampled_from(["/x/a", "/y/a", "/b"]), st.sampled_from(["t", "T", "u"]), st.sampled_from([".wif", ".txt"])
        ),
        min_size=1,
    )
)
def test_no_two_files_are_called_alike(parts):
    paths = [P(folder) / (stem + suffix) for folder, stem, suffix in sorted(parts)]
    assert len(set(told_apart(paths))) == len(paths)


def test_a_choice_says_where_the_draft_lies():
    assert place_words(HOME / "Documents/towels", HOME, SHIPPED) == "Documents/towels"
    assert place_words(SHIPPED, HOME, SHIPPED) == "comes with Fellside"
    assert place_words(P("/media/w/BLUE/2026"), HOME, SHIPPED) == "stick BLUE/2026"
    assert place_words(P("/srv/drafts"), HOME, SHIPPED) == "/srv/drafts"
    (choice,) = draft_choices([HOME / "Drafts/rug.wif"], HOME, SHIPPED)
    assert (choice.key, choice.words, choice.detail) == ("/home/w/Drafts/rug.wif", "rug", "Drafts")
