"""Whatever the validator lets in can be worked with: no warp of a bundle, however odd, ends in anything but words.

A sound warp and its entries are altered here and there, as a hostile or a damaged bundle would be; what is let in is
then woven, recorded, searched, reckoned with and remapped for a card.
"""

import hashlib
import io
import json
import sys
import tempfile
import time
import zipfile
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from companion.cli.commands import run
from companion.draft.facing import FROM_LEFT
from companion.draft.gamp import Area
from companion.draft.units import Units
from companion.journal.bundle import bring_in
from companion.journal.bundle_file import ENTRIES, MANIFEST, WARP, write_bundle
from companion.journal.codec import entry_from_line, entry_to_line
from companion.journal.errors import BundleError
from companion.journal.plain import PlainError
from companion.journal.schema import seal_entry, seal_warp
from companion.journal.shelf import Shelf
from companion.journal.warp_codec import decode_warp, encode_warp
from companion.record.card import tieup_card
from companion.remap.remapping import remap
from companion.weaving.decide import accept_tie_up, change_bobbin, measure, note_fault, re_tie, weave_pick, write_note
from companion.weaving.events import FaultKind
from companion.weaving.marking import mark_square
from companion.workshop.loomside import AtTheLoom
from tests.journal.warps import small_warp

SECONDS = 5.0
"""Processor time that all of it may take for a warp of a few picks; some 0.3 s were measured."""
ODD = (
    *(-1, 0, 1, 2, 5, 41, 10**9, 10**13, -(10**13), 2**70),
    *(0.0, -0.5, 1e-300, 1e-9, 0.01, 3.5, 1e9, 1e308, -1e308),
    *("", "\ud800", "\x1b[2J", "=1+1", "\u202e", "x" * 5_000, "Ground"),
    *(None, True, False, [], {}, [[]], [0], [None]),
)


@pytest.fixture(scope="module")
def members(tmp_path_factory):
    """The parts of a sound bundle, as plain values: its manifest, its warp, its entries."""
    folder = tmp_path_factory.mktemp("sound")
    shelf = Shelf(folder)
    with AtTheLoom(
        shelf.create("Blue shawl", small_warp(), at_ms=0), now_ms=iter(range(0, 10**6, 700)).__next__
    ) as loom:
        loom.do(accept_tie_up)
        loom.do(re_tie)
        for _ in range(5):
            loom.do(weave_pick)
        loom.do(lambda warp, progress: write_note(warp, progress, "the oat is thin here"))
        loom.do(lambda warp, progress: note_fault(warp, progress, FaultKind.BROKEN_END, 2, end=1))
        loom.do(lambda warp, progress: mark_square(warp, progress, Area(0, 2, 1, 3), text="even"))
        loom.do(lambda warp, progress: measure(warp, progress, 3.5))
        loom.do(lambda warp, progress: change_bobbin(warp, progress, 0, 12.0))
        loom.do(weave_pick)
    with shelf.open_to_read("Blue shawl") as journal:
        write_bundle(journal, "Blue shawl", folder / "bundle.zip")
    with zipfile.ZipFile(folder / "bundle.zip") as archive:
        found = {name: archive.read(name) for name in archive.namelist()}
    return (
        json.loads(found[MANIFEST]),
        json.loads(found[WARP]),
        [json.loads(line) for line in found[ENTRIES].splitlines()],
    )


def places(plain, path=()):
    """Every place in a plain value where another value could stand."""
    yield path
    inner = plain.items() if isinstance(plain, dict) else enumerate(plain) if isinstance(plain, list) else ()
    for key, value in inner:
        yield from places(value, (*path, key))


def kinds_of_places(plain):
    """One place of each kind: the first and the last of what stands in a row stand for those between."""
    for path in places(plain):
        rows = [(at(plain, path[:depth]), step) for depth, step in enumerate(path)]
        if all(isinstance(row, dict) or step in (0, len(row) - 1) for row, step in rows):
            yield path


def at(plain, path):
    return at(plain[path[0]], path[1:]) if path else plain


def put(plain, path, value):
    at(plain, path[:-1])[path[-1]] = value
    return plain


def alike_to(value):
    """The types that may be let in where this value stands, so that much is."""
    return (int, float) if isinstance(value, float) else (type(value), type(None))


def copied(plain):
    return json.loads(json.dumps(plain))


def written(folder, manifest, warp, entries):
    """Write a bundle of these values whose sums and seals are right, as somebody would who means harm."""
    warp_text = json.dumps(warp, separators=(",", ":"), sort_keys=True)
    lines = [json.dumps(entry, separators=(",", ":"), sort_keys=True) for entry in entries]
    parts = {WARP: warp_text.encode(), ENTRIES: b"".join(line.encode() + b"\n" for line in lines)}
    seal = seal_warp(manifest["identity"], manifest["made_at_ms"], warp_text)
    for number, entry in enumerate(entries, 1):
        body = json.dumps(entry.get("event"), separators=(",", ":"), sort_keys=True)
        seal = seal_entry(seal, number, entry.get("at_ms"), entry.get("name"), body)
    manifest = manifest | {
        "entries": len(entries),
        "seal": seal,
        "members": [[name, hashlib.sha256(content).hexdigest()] for name, content in parts.items()],
    }
    file = folder / "altered.zip"
    with zipfile.ZipFile(file, "w") as archive:
        for name, content in {**parts, MANIFEST: json.dumps(manifest).encode()}.items():
            archive.writestr(name, content)
    return file


def let_in(folder, manifest, warp, entries):
    """Bring the bundle in; True where the validator took it."""
    try:
        bring_in(written(folder, manifest, warp, entries), Shelf(folder / "journal"))
    except BundleError:
        return False
    return True


def work_with_it(folder, monkeypatch, capsys):
    """Weave, record, search, reckon and make a card, as a weaver would; each command ends well."""
    began = time.process_time()
    monkeypatch.setenv("FELLSIDE_HOME", str(folder))
    (name,) = Shelf(folder / "journal").names()
    out = folder / "out"
    for words in (
        ["weave", name, "--text"],
        ["record", name, "--html", f"{out}.html", "--csv", f"{out}.csv"],
        ["record", name, "--json"],
        ["find", name, "--since-change", "1"],
        ["find", name, "--seen", "?"],
        ["amounts", name],
        ["amounts", name, "--json"],
        ["backup"],
    ):
        monkeypatch.setattr(sys, "stdin", io.StringIO("\n\nb\n\nq\n"))
        status = run(words)
        told = capsys.readouterr()
        # 1 is an answer too: no place fits, say. 2 tells of something that cannot be done here, in one line.
        assert status in (0, 1) or told.err.count("\n") == 1, (words, told.err)
        if words[0] in ("record", "amounts", "backup"):
            assert status == 0, (words, told.err)
    with Shelf(folder / "journal").open_to_read(name) as journal:
        for piece in journal.warp.pieces:
            answer = remap(piece.draft, journal.warp.loom.loom, should_stop=lambda: True)
            assert "<svg" in tieup_card(piece.name, piece.draft, answer, FROM_LEFT, Units.METRIC)
    assert time.process_time() - began < SECONDS


def test_the_sound_bundle_is_let_in_and_can_be_worked_with(members, tmp_path, monkeypatch, capsys):
    assert let_in(tmp_path, *map(copied, members))
    work_with_it(tmp_path, monkeypatch, capsys)


@given(data=st.data())
@settings(
    max_examples=60, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow]
)
def test_what_is_let_in_can_be_worked_with(data, members, capsys):
    manifest, warp, entries = map(copied, members)
    for _ in range(data.draw(st.integers(1, 3))):
        plain = data.draw(st.sampled_from([warp, entries]))
        path = data.draw(st.sampled_from([place for place in places(plain) if len(place) > (plain is entries)]))
        alike = [value for value in ODD if type(value) in alike_to(at(plain, path))] or ODD
        put(plain, path, copied(data.draw(st.sampled_from(alike))))
    with tempfile.TemporaryDirectory() as folder, pytest.MonkeyPatch.context() as monkeypatch:
        if let_in(Path(folder), manifest, warp, entries):
            work_with_it(Path(folder), monkeypatch, capsys)


def test_every_kind_of_place_with_every_odd_value_is_refused_or_can_be_decided_on(members):
    """One kind of place after the other: the validator answers with its own error or takes it, quickly."""
    _, warp, entries = members
    taken = 0
    for path in list(kinds_of_places(warp))[1:]:
        for value in ODD:
            altered = json.dumps(put(copied(warp), path, copied(value)))
            try:
                again = decode_warp(altered)
            except PlainError:
                continue
            taken += 1
            encode_warp(again)
    assert taken
    for line in entries:
        assert json.loads(entry_to_line(entry_from_line(json.dumps(line)))) == line
