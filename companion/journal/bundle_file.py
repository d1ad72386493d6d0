"""The bundle: one warp with its whole journal in one zip file, and its strict reading.

Members: `manifest.json` (format, version, name, identity, SHA-256 of every other member), `warp.json`, `entries.jsonl`
(one entry a line, in order), `words.txt` where words for the sheet stand beside the warp, and each piece's draft as
`piece-1.wif` and so on, for other programs. Nothing is ever unpacked to a file: members are read by their known names,
each within a bound, so neither a path nor a size in a bundle can do harm. Everything is checked before anything is
believed.
"""

from __future__ import annotations

import errno
import hashlib
import json
import re
import struct
import zipfile
import zlib
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from types import TracebackType
from typing import IO, Any, Self

from companion.draft.wif_write import write_wif
from companion.journal.codec import dump, entry_from_line, entry_to_line
from companion.journal.disk import publish, sync_file
from companion.journal.errors import BundleError, JournalError, clear_errors, from_os
from companion.journal.plain import PlainError, from_plain, to_plain
from companion.journal.store import Journal
from companion.journal.warp_codec import decode_warp, encode_warp
from companion.journal.words_beside import MOST_WORDS_BYTES, read_words
from companion.weaving.events import Entry
from companion.weaving.sheet_words import NOTHING_SAID, SheetWords, parse_words, print_words

FORMAT = "fellside bundle"
VERSION = 1
MANIFEST, WARP, ENTRIES, WORDS = "manifest.json", "warp.json", "entries.jsonl", "words.txt"
NAMES = re.compile(r"manifest\.json|warp\.json|entries\.jsonl|words\.txt|piece-[1-9][0-9]{0,2}\.wif")
IDENTITY = re.compile(r"[0-9a-zA-Z-]{1,64}")
MOST_ENTRIES = 250_000
"""Some two months of weaving from morning to night; a small computer still makes a record of them."""
MOST_BYTES = {MANIFEST: 1_000_000, WORDS: MOST_WORDS_BYTES, ENTRIES: 64_000_000}
"""Unpacked; 250,000 entries take some 20 MB."""
MOST_BYTES_OTHERS = 16_000_000
MOST_BYTES_IN_ALL = 128_000_000
"""Unpacked, and so for the file too."""
LONGEST_LINE = 8_000_000
"""The longest text of an entry (`weaving.bounds`), each of its letters spelled as a number."""
AT_ONCE = 65_536
_STAMP = (1980, 1, 1, 0, 0, 0)
"""The date of every member: the same journal gives the same bundle, byte for byte."""
_MEND = "ask for the bundle again and copy it once more"
_COMPLAINTS = (
    zipfile.BadZipFile,
    zipfile.LargeZipFile,
    zlib.error,
    struct.error,
    EOFError,
    NotImplementedError,
    RuntimeError,
    OverflowError,
    ValueError,
)
"""What zipfile raises on bad or encrypted members, as tried with flipped and cut bytes."""


@dataclass(frozen=True, slots=True)
class Manifest:
    """What a bundle says of itself: `members` are names with the SHA-256 of their content."""

    format: str
    version: int
    name: str
    identity: str
    made_at_ms: int
    entries: int
    seal: int
    members: tuple[tuple[str, str], ...]


def write_bundle(journal: Journal, name: str, file: Path) -> int:
    """Write the warp called `name` with its journal into the new file, verify it, and return how many entries it has.

    Raises JournalError, and leaves no half a file behind.
    """
    if file.exists():
        raise JournalError("exists already", place=file, mend="name another file")
    part = file.with_name(file.name + ".part")
    with clear_errors(file):
        try:
            _write(journal, name, part)
            sync_file(part)
            with Bundle(part) as bundle:
                entries = sum(1 for _ in bundle.entries())
            publish(part, file)
        finally:
            part.unlink(missing_ok=True)
    return entries


def _write(journal: Journal, name: str, file: Path) -> None:
    members: list[tuple[str, str]] = []
    with zipfile.ZipFile(file, "w", zipfile.ZIP_DEFLATED) as archive:

        def add(member: str, parts: Iterable[bytes]) -> None:
            digest = hashlib.sha256()
            info = zipfile.ZipInfo(member, _STAMP)
            info.compress_type = zipfile.ZIP_DEFLATED
            with archive.open(info, "w", force_zip64=True) as out:
                for part in parts:
                    digest.update(part)
                    out.write(part)
            members.append((member, digest.hexdigest()))

        number = 0

        def lines() -> Iterator[bytes]:
            nonlocal number
            for entry in journal.entries():
                number = entry.number
                yield entry_to_line(entry).encode("ascii") + b"\n"

        add(WARP, [encode_warp(journal.warp).encode("ascii")])
        add(ENTRIES, lines())
        for number_of_piece, piece in enumerate(journal.warp.pieces, 1):
            add(f"piece-{number_of_piece}.wif", [write_wif(piece.draft)])
        if (words := read_words(journal.path)).said:
            add(WORDS, [print_words(words).encode()])
        manifest = Manifest(
            FORMAT,
            VERSION,
            name,
            journal.identity,
            journal.made_at_ms,
            number,
            journal.seal_of(number),
            tuple(members),
        )
        add(MANIFEST, [dump(to_plain(Manifest, manifest)).encode("ascii")])


class Bundle:
    """A bundle opened and verified: `manifest`, `warp`, and its entries as often as wanted. Raises BundleError."""

    def __init__(self, file: Path) -> None:
        self.file = file
        with self._believing_nothing():
            if file.exists() and not file.is_file():
                raise self._damaged("it is no file")
            if file.stat().st_size > MOST_BYTES_IN_ALL:
                raise self._damaged("it is larger than any")
            self._archive = zipfile.ZipFile(file)
        try:
            self.manifest = self._read_manifest()
            self._verify()
            self.warp = self._read_warp()
        except BaseException:
            self.close()
            raise

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.close()

    def close(self) -> None:
        """Let the file go; safe to call twice."""
        self._archive.close()

    def entries(self) -> Iterator[Entry]:
        """Yield the entries in order; raises BundleError where one is missing or is none."""
        number = 0
        with self._believing_nothing(), self._archive.open(ENTRIES) as lines:
            while line := lines.readline(LONGEST_LINE):
                number += 1
                if number > MOST_ENTRIES:
                    raise BundleError(
                        f"has more than {MOST_ENTRIES:,} entries",
                        place=self.file,
                        mend="copy the journal instead: fellside backup DIR",
                    )
                try:
                    entry = entry_from_line(line.decode("ascii"))
                except (PlainError, UnicodeDecodeError) as error:
                    raise self._damaged(f"{ENTRIES} line {number}: {error}") from error
                if entry.number != number:
                    raise self._damaged(f"{ENTRIES} line {number} has entry {entry.number}")
                if not _is_time(entry.at_ms):
                    raise self._damaged(f"{ENTRIES} line {number} has no time")
                yield entry
        if number != self.manifest.entries:
            raise self._damaged(f"{number} entries where {self.manifest.entries} belong")

    @property
    def words(self) -> SheetWords:
        """The words for the sheet that go with the warp."""
        if all(name != WORDS for name, _ in self.manifest.members):
            return NOTHING_SAID
        return parse_words(b"".join(self._content(WORDS)).decode("utf-8", "replace"))

    def _read_manifest(self) -> Manifest:
        try:
            plain = json.loads(b"".join(self._content(MANIFEST)))
        except (ValueError, RecursionError) as error:
            raise self._damaged(f"{MANIFEST} is not JSON") from error
        if not isinstance(plain, dict) or plain.get("format") != FORMAT:
            raise BundleError("is not a bundle of Fellside", place=self.file, mend="name another file")
        version = plain.get("version")
        if isinstance(version, int) and version > VERSION:
            raise BundleError(
                f"was written by a newer Fellside (bundle version {version}, this program knows {VERSION})",
                place=self.file,
                mend="update Fellside on this device",
            )
        try:
            manifest: Manifest = from_plain(Manifest, plain)
        except PlainError as error:
            raise self._damaged(str(error)) from error
        if not (_is_time(manifest.made_at_ms) and IDENTITY.fullmatch(manifest.identity)):
            raise self._damaged(f"{MANIFEST} does not tell the warp")
        return manifest

    def _verify(self) -> None:
        unpacked = sum(info.file_size for info in self._archive.infolist())
        if unpacked > MOST_BYTES_IN_ALL:
            raise self._damaged(f"it would unpack to {unpacked} bytes")
        there = sorted(self._archive.namelist())
        listed = sorted([MANIFEST, *(name for name, _ in self.manifest.members)])
        if there != listed or len(set(there)) != len(there) or not {WARP, ENTRIES} <= set(there):
            raise self._damaged("its members are not those of its manifest")
        if strange := next((name for name in there if not NAMES.fullmatch(name)), None):
            raise self._damaged(f"no member is called {strange!r:.40}")
        for name, expected in self.manifest.members:
            digest = hashlib.sha256()
            for part in self._content(name):
                digest.update(part)
            if digest.hexdigest() != expected:
                raise self._damaged(f"{name} is not as it was written")

    def _read_warp(self) -> Any:
        try:
            return decode_warp(b"".join(self._content(WARP)).decode("ascii"))
        except (PlainError, UnicodeDecodeError) as error:
            raise self._damaged(f"{WARP}: {error}") from error

    def _content(self, name: str) -> Iterator[bytes]:
        with self._believing_nothing(), self._open(name) as member:
            while part := member.read(AT_ONCE):
                yield part

    def _open(self, name: str) -> IO[bytes]:
        try:
            info = self._archive.getinfo(name)
        except KeyError as error:
            raise BundleError("is not a bundle of Fellside", place=self.file, mend="name another file") from error
        # zipfile gives out no more than the size stated here, so this bounds what is read whatever is packed.
        if info.file_size > MOST_BYTES.get(name, MOST_BYTES_OTHERS):
            raise self._damaged(f"{name} would unpack to {info.file_size} bytes")
        if info.compress_type not in (zipfile.ZIP_STORED, zipfile.ZIP_DEFLATED):
            raise self._damaged(f"{name} is packed in a way that no bundle is")
        return self._archive.open(info)

    @contextmanager
    def _believing_nothing(self) -> Iterator[None]:
        try:
            yield
        except _COMPLAINTS as error:
            raise self._damaged(str(error)) from error
        except OSError as error:
            if error.errno == errno.EINVAL:
                # A place in the file that cannot be: its table of contents is not as it was written.
                raise self._damaged(str(error)) from error
            raise from_os(error, self.file) from error

    def _damaged(self, detail: str) -> BundleError:
        return BundleError(f"is damaged or no bundle ({detail})", place=self.file, mend=_MEND)


def _is_time(at_ms: int) -> bool:
    """Tell whether SQLite can hold this time: a whole number of 64 bits."""
    return -(2**63) <= at_ms < 2**63
