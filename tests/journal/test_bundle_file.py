"""The bundle as a file: the same bytes each time, and refused in one line when anything about it is wrong."""

import hashlib
import json
import random
import zipfile
from pathlib import Path

import pytest

from companion.draft.reading import read_draft
from companion.journal import bundle_file
from companion.journal.bundle_file import ENTRIES, MANIFEST, WARP, Bundle, write_bundle
from companion.journal.errors import BundleError, JournalError
from companion.journal.store import Journal
from companion.weaving.events import FaultKind, FaultNoted, LengthMeasured, NoteWritten, PickWoven
from tests.journal.warps import small_warp

EVENTS = [
    PickWoven(0),
    NoteWritten("blau → weiß\nsecond line"),
    FaultNoted(FaultKind.OTHER, 0, 3),
    PickWoven(1),
    LengthMeasured(0.1 + 0.2),
]


@pytest.fixture
def journal(tmp_path):
    with Journal.create(tmp_path / "a.journal", small_warp(), at_ms=77, identity="warp-of-the-tests") as journal:
        for at_ms, event in enumerate(EVENTS):
            journal.append(event, at_ms)
        yield journal


@pytest.fixture
def file(journal, tmp_path):
    write_bundle(journal, "Blue shawl", tmp_path / "a.zip")
    return tmp_path / "a.zip"


def read_all(file):
    with Bundle(file) as bundle:
        return bundle.manifest, bundle.warp, list(bundle.entries())


def refused(file):
    """The one line that refuses this bundle."""
    with pytest.raises(BundleError) as caught:
        read_all(file)
    line = str(caught.value)
    assert "\n" not in line
    assert line.startswith(f"{file}: ")
    assert caught.value.mend
    return line


def rewritten(file, change, *, consistent):
    """The bundle packed anew after `change` to its members; `consistent` brings the manifest up to date."""
    with zipfile.ZipFile(file) as archive:
        members = {name: archive.read(name) for name in archive.namelist()}
    change(members)
    if consistent:
        manifest = json.loads(members[MANIFEST])
        manifest["members"] = [
            [name, hashlib.sha256(content).hexdigest()] for name, content in members.items() if name != MANIFEST
        ]
        members[MANIFEST] = json.dumps(manifest).encode()
    with zipfile.ZipFile(file, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, content in members.items():
            archive.writestr(name, content)
    return file


def set_in_manifest(**values):
    def change(members):
        members[MANIFEST] = json.dumps(json.loads(members[MANIFEST]) | values).encode()

    return change


def test_a_bundle_holds_the_warp_and_every_entry(journal, file):
    manifest, warp, entries = read_all(file)
    assert (manifest.name, manifest.identity, manifest.made_at_ms) == ("Blue shawl", "warp-of-the-tests", 77)
    assert warp == small_warp()
    assert entries == list(journal.entries())
    assert manifest.entries == len(EVENTS)
    assert manifest.seal == journal.seal_of(len(EVENTS))


def test_anything_that_reads_zip_and_json_reads_a_bundle(file):
    """Checked with the standard library alone, none of our readers."""
    with zipfile.ZipFile(file) as archive:
        assert archive.testzip() is None
        assert archive.namelist() == [WARP, ENTRIES, "piece-1.wif", "piece-2.wif", MANIFEST]
        lines = [json.loads(line) for line in archive.read(ENTRIES).splitlines()]
        assert [line["number"] for line in lines] == [1, 2, 3, 4, 5]
        assert lines[1] == {
            "number": 2,
            "at_ms": 1,
            "name": "NoteWritten",
            "event": {"text": "blau → weiß\nsecond line"},
        }
        for name, digest in json.loads(archive.read(MANIFEST))["members"]:
            assert hashlib.sha256(archive.read(name)).hexdigest() == digest


def test_each_piece_lies_in_it_as_a_draft_file_for_other_programs(journal, file):
    with zipfile.ZipFile(file) as archive:
        for number, piece in enumerate(journal.warp.pieces, 1):
            assert read_draft(archive.read(f"piece-{number}.wif")) == piece.draft


def test_the_same_journal_gives_the_same_bytes(journal, file, tmp_path):
    write_bundle(journal, "Blue shawl", tmp_path / "b.zip")
    assert (tmp_path / "b.zip").read_bytes() == file.read_bytes()


def test_a_bundle_is_not_written_over_a_file(journal, file):
    before = file.read_bytes()
    with pytest.raises(JournalError, match="exists already; name another file"):
        write_bundle(journal, "Blue shawl", file)
    assert file.read_bytes() == before


def test_a_bundle_that_cannot_be_written_leaves_nothing_behind(journal, tmp_path):
    with pytest.raises(JournalError, match="No such file or directory"):
        write_bundle(journal, "Blue shawl", tmp_path / "no folder" / "a.zip")
    assert not list(tmp_path.glob("*.part"))


@pytest.mark.parametrize(
    ("change", "says"),
    [
        (lambda members: members.pop(MANIFEST), "is not a bundle of Fellside"),
        (set_in_manifest(format="other"), "is not a bundle of Fellside"),
        (lambda members: members.update({MANIFEST: b"{"}), "manifest.json is not JSON"),
        (lambda members: members.update({MANIFEST: b"[" * 100_000}), "manifest.json is not JSON"),
        (lambda members: members.update({MANIFEST: b"[]"}), "is not a bundle of Fellside"),
        (set_in_manifest(version=2), "newer Fellside (bundle version 2, this program knows 1); update"),
        (set_in_manifest(version="1"), "Manifest.version: '1' is not int"),
        (set_in_manifest(identity="\ud800"), "is no text"),
        (set_in_manifest(made_at_ms=2**63), "manifest.json does not tell the warp"),
        (set_in_manifest(entries=4), "5 entries where 4 belong"),
        (set_in_manifest(entries=6), "5 entries where 6 belong"),
        (lambda members: members.pop("piece-1.wif"), "its members are not those of its manifest"),
        (lambda members: members.update({"extra.txt": b""}), "its members are not those of its manifest"),
        (lambda members: members.update({WARP: members[WARP] + b" "}), "warp.json is not as it was written"),
        (
            lambda members: members.update({ENTRIES: members[ENTRIES].replace(b'"pick":1', b'"pick":2')}),
            "entries.jsonl is not as it was written",
        ),
    ],
)
def test_a_bundle_that_was_altered_is_refused(file, change, says):
    assert says in refused(rewritten(file, change, consistent=False))


@pytest.mark.parametrize(
    ("change", "says"),
    [
        (lambda members: members.update({"../../evil": b""}), "no member is called '../../evil'"),
        (lambda members: members.update({"/etc/evil": b""}), "no member is called '/etc/evil'"),
        (lambda members: members.update({"folder/": b""}), "no member is called 'folder/'"),
        (lambda members: members.update({"piece-0.wif": b""}), "no member is called 'piece-0.wif'"),
        (lambda members: members.pop(WARP), "its members are not those of its manifest"),
        (lambda members: members.update({WARP: b"{}"}), "warp.json: Warp lacks its field"),
        (lambda members: members.update({WARP: b"\xff"}), "warp.json: 'ascii' codec"),
        (lambda members: members.update({ENTRIES: b"\xff\n"}), "entries.jsonl line 1: 'ascii' codec"),
        (lambda members: members.update({ENTRIES: b"{}\n"}), "entries.jsonl line 1: no entry"),
        (lambda members: members.update({ENTRIES: b"\n"}), "entries.jsonl line 1: not JSON"),
        (lambda members: members.update({ENTRIES: b"7" * 2_000_000}), "entries.jsonl line 1: not JSON"),
        (
            lambda members: members.update({ENTRIES: members[ENTRIES].replace(b'"at_ms":0', b'"at_ms":%d' % 2**63)}),
            "entries.jsonl line 1 has no time",
        ),
        (
            lambda members: members.update({ENTRIES: members[ENTRIES].replace(b"0.30000000000000004", b"NaN")}),
            "entries.jsonl line 5: LengthMeasured.centimetres: nan is no measure",
        ),
        (
            lambda members: members.update({ENTRIES: b"".join(members[ENTRIES].splitlines(True)[1:])}),
            "entries.jsonl line 1 has entry 2",
        ),
        (
            lambda members: members.update({ENTRIES: members[ENTRIES].replace(b"NoteWritten", b"NoteEaten")}),
            "entries.jsonl line 2: no event is called 'NoteEaten'",
        ),
    ],
)
def test_a_bundle_made_to_look_right_is_refused_as_well(file, change, says):
    assert says in refused(rewritten(file, change, consistent=True))


def test_a_member_that_would_unpack_beyond_its_bound_is_not_unpacked(file, monkeypatch):
    monkeypatch.setitem(bundle_file.MOST_BYTES, ENTRIES, 1_000_000)
    bomb = rewritten(file, lambda members: members.update({ENTRIES: b"\n" * 2_000_000}), consistent=True)
    assert bomb.stat().st_size < 20_000
    assert "entries.jsonl would unpack to 2000000 bytes" in refused(bomb)


def test_two_members_of_one_name_are_refused(file):
    with zipfile.ZipFile(file, "a") as archive, pytest.warns(UserWarning, match="Duplicate name"):
        archive.writestr(WARP, "{}")
    assert "its members are not those of its manifest" in refused(file)


def test_another_way_of_packing_is_refused(file, tmp_path):
    with zipfile.ZipFile(file) as archive, zipfile.ZipFile(tmp_path / "b.zip", "w", zipfile.ZIP_LZMA) as other:
        for name in archive.namelist():
            other.writestr(name, archive.read(name))
    assert "packed in a way that no bundle is" in refused(tmp_path / "b.zip")


@pytest.mark.parametrize("content", [b"", b"PK", b"not a zip at all", b"PK\x05\x06" + b"\0" * 18])
def test_a_file_that_is_no_bundle_is_refused(tmp_path, content):
    file = tmp_path / "a.zip"
    file.write_bytes(content)
    assert "no bundle" in refused(file) or "not a bundle" in refused(file)


def test_a_bundle_that_is_not_there_is_named(tmp_path):
    with pytest.raises(JournalError, match=r"nowhere\.zip: No such file or directory; check"):
        Bundle(tmp_path / "nowhere.zip")


def test_a_flipped_byte_is_told_or_harms_nothing(file, tmp_path):
    truth, whole = read_all(file), file.read_bytes()
    chance, told = random.Random(3), 0
    for _ in range(600):
        place = chance.randrange(len(whole))
        file.write_bytes(whole[:place] + bytes([whole[place] ^ 1 << chance.randrange(8)]) + whole[place + 1 :])
        try:
            found = read_all(file)
        except BundleError:
            told += 1
        else:
            assert found == truth
    assert told > 300


def test_a_cut_bundle_is_refused(file):
    whole = file.read_bytes()
    for length in range(0, len(whole), 97):
        file.write_bytes(whole[:length])
        refused(file)


def test_a_bundle_that_a_small_computer_could_not_bear_is_refused(file, monkeypatch):
    monkeypatch.setattr(bundle_file, "MOST_ENTRIES", 4)
    assert "has more than 4 entries; copy the journal instead" in refused(file)
    monkeypatch.setattr(bundle_file, "MOST_BYTES_IN_ALL", file.stat().st_size)
    assert "would unpack to" in refused(file)
    monkeypatch.setattr(bundle_file, "MOST_BYTES_IN_ALL", 100)
    assert "larger than any" in refused(file)


@pytest.mark.skipif(not Path("/dev/zero").exists(), reason="needs a file without an end")
def test_what_has_no_end_is_no_bundle():
    assert "it is no file" in refused(Path("/dev/zero"))
