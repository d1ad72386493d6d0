"""Bringing bundles in: twice is harmless, more is added, and nothing here is ever lost."""

import pytest

from companion.journal.bundle import BroughtIn, ImportResult, bring_in
from companion.journal.bundle_file import write_bundle
from companion.journal.database import write_new
from companion.journal.errors import BundleError, JournalError, JournalInUseError
from companion.journal.shelf import Shelf
from companion.journal.snapshots import progress_of
from companion.journal.store import Journal
from companion.journal.warp_codec import encode_warp
from companion.remap.loom.loom import Footing
from companion.weaving.events import NoteWritten, PickWoven
from tests.journal.warps import long_warp, pressed_first


@pytest.fixture
def home(tmp_path):
    return Shelf(tmp_path / "home")


@pytest.fixture
def class_room(tmp_path):
    return Shelf(tmp_path / "class room")


def weave(shelf, *picks, name="shawl"):
    with shelf.open(name) as journal:
        for pick in picks:
            journal.append(PickWoven(pick), at_ms=1_000 * pick)


@pytest.fixture
def carry(tmp_path):
    """Writes a warp of a shelf into a new bundle."""
    made = []

    def carry(shelf, name="shawl"):
        made.append(tmp_path / f"{len(made)}.zip")
        with shelf.open_to_read(name) as journal:
            write_bundle(journal, name, made[-1])
        return made[-1]

    return carry


@pytest.fixture(autouse=True)
def _shawl(home):
    home.create("shawl", long_warp(40), at_ms=500).close()
    weave(home, 0, 1, 2)


def content(shelf, name="shawl"):
    with shelf.open_to_read(name) as journal:
        return journal.identity, journal.made_at_ms, journal.warp, list(journal.entries())


def test_a_warp_comes_over_whole(home, class_room, carry):
    assert bring_in(carry(home), class_room) == BroughtIn("shawl", ImportResult.NEW, 3, 3)
    assert content(class_room) == content(home)
    with class_room.open("shawl") as journal:
        assert progress_of(journal).now.next_pick == 3
        assert journal.append(PickWoven(3), 0).number == 4


def test_an_empty_warp_comes_over(home, class_room, carry):
    home.create("empty", long_warp(4), at_ms=9).close()
    assert bring_in(carry(home, "empty"), class_room) == BroughtIn("empty", ImportResult.NEW, 0, 0)
    assert content(class_room, "empty") == content(home, "empty")


def test_the_same_bundle_twice_is_harmless(home, class_room, carry):
    file = carry(home)
    bring_in(file, class_room)
    before = content(class_room)
    assert bring_in(file, class_room) == BroughtIn("shawl", ImportResult.NOTHING_TO_DO, 0, 3)
    assert bring_in(file, home) == BroughtIn("shawl", ImportResult.NOTHING_TO_DO, 0, 3)
    assert content(class_room) == before
    assert class_room.names() == ("shawl",)


def test_a_longer_bundle_adds_what_is_missing(home, class_room, carry):
    bring_in(carry(home), class_room)
    weave(home, 3, 4)
    assert bring_in(carry(home), class_room) == BroughtIn("shawl", ImportResult.EXTENDED, 2, 5)
    assert content(class_room) == content(home)


def test_an_older_bundle_takes_nothing_away(home, class_room, carry):
    old = carry(home)
    bring_in(old, class_room)
    weave(class_room, 3, 4)
    assert bring_in(old, class_room) == BroughtIn("shawl", ImportResult.NOTHING_TO_DO, 0, 5)


def test_a_warp_goes_to_and_fro(home, class_room, carry):
    bring_in(carry(home), class_room)
    for there, back, picks in ((class_room, home, (3, 4)), (home, class_room, (5,)), (class_room, home, (6, 7, 8))):
        weave(there, *picks)
        assert bring_in(carry(there), back).outcome is ImportResult.EXTENDED
        assert content(home) == content(class_room)


def test_a_warp_is_known_by_more_than_its_name(home, class_room, carry):
    bring_in(carry(home), class_room, as_name="Shawl for class")
    assert class_room.names() == ("Shawl for class",)
    weave(home, 3)
    assert bring_in(carry(home), class_room) == BroughtIn("Shawl for class", ImportResult.EXTENDED, 1, 4)


def test_woven_on_apart_is_refused_and_both_can_be_kept(home, class_room, carry):
    bring_in(carry(home), class_room)
    weave(home, 3, 4)
    with class_room.open("shawl") as journal:
        journal.append(NoteWritten("woven here"), at_ms=0)
    before, file = content(class_room), carry(home)
    with pytest.raises(BundleError, match="was woven on differently from 'shawl' here; nothing was changed; keep both"):
        bring_in(file, class_room)
    assert content(class_room) == before
    assert bring_in(file, class_room, as_name="shawl from home") == BroughtIn("shawl from home", ImportResult.NEW, 5, 5)
    assert content(class_room) == before
    assert content(class_room, "shawl from home")[1:] == content(home)[1:]
    assert content(class_room, "shawl from home")[0] != content(home)[0]


def test_another_warp_of_that_name_is_left_alone(home, class_room, carry):
    class_room.create("Shawl", long_warp(6), at_ms=0).close()
    before = content(class_room)
    with pytest.raises(BundleError, match="another warp is called 'shawl' here; bring it in under another name"):
        bring_in(carry(home), class_room)
    assert content(class_room) == before
    assert class_room.names() == ("Shawl",)


def test_a_damaged_journal_here_keeps_its_name_and_its_bytes(home, class_room, carry):
    bring_in(carry(home), class_room)
    class_room.path("shawl").write_bytes(b"damaged")
    with pytest.raises(BundleError, match="another warp is called 'shawl' here"):
        bring_in(carry(home), class_room)
    assert class_room.path("shawl").read_bytes() == b"damaged"
    assert bring_in(carry(home), class_room, as_name="shawl again").added == 3


def test_nothing_is_added_under_the_weavers_hands(home, class_room, carry):
    bring_in(carry(home), class_room)
    weave(home, 3)
    with class_room.open("shawl") as journal:
        with pytest.raises(JournalInUseError):
            bring_in(carry(home), class_room)
        assert journal.last_number == 3


def test_entries_that_make_no_sense_on_their_warp_are_refused(home, class_room, carry):
    weave(home, 30)
    with pytest.raises(BundleError, match=r"does not make sense .*pick 31 woven where pick 4 was next"):
        bring_in(carry(home), class_room)
    assert class_room.names() == ()


def test_a_warp_whose_sheds_are_not_opened_is_refused(home, class_room, carry):
    write_new(home.path("odd"), "0" * 32, 0, encode_warp(pressed_first(Footing((1,)))))
    with pytest.raises(BundleError, match="what is pressed at pick 1 does not open its shed"):
        bring_in(carry(home, "odd"), class_room)
    assert class_room.names() == ()


def test_a_disk_that_refuses_leaves_no_half_a_warp(home, class_room, carry, monkeypatch):
    file = carry(home)

    def refuse(journal, entries):
        raise JournalError("could not be written: the disk is full")

    monkeypatch.setattr(Journal, "extend", refuse)
    with pytest.raises(JournalError, match="disk is full"):
        bring_in(file, class_room)
    assert class_room.names() == ()
    monkeypatch.undo()
    assert bring_in(file, class_room).outcome is ImportResult.NEW
