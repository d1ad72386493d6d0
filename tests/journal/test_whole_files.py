"""A file that is written whole is the new one or the old one, and leaves nothing else; a free name is nobody's."""

from __future__ import annotations

import os
import stat

import pytest

from companion.journal.disk import write_whole
from companion.journal.shelf import free_name


def test_a_file_is_new_or_takes_the_place_of_the_old_one(tmp_path):
    path = tmp_path / "settings.json"
    for content in (b"first", b"second, longer", b""):
        write_whole(path, content)
        assert path.read_bytes() == content
    assert list(tmp_path.iterdir()) == [path]


def test_content_and_name_are_synced_in_this_order_before_it_returns(tmp_path, monkeypatch):
    done = []
    fsync, replace = os.fsync, os.replace
    monkeypatch.setattr(os, "fsync", lambda file: (done.append(stat.S_ISDIR(os.fstat(file).st_mode)), fsync(file)))
    monkeypatch.setattr(os, "replace", lambda *names: (done.append("named"), replace(*names)))
    write_whole(tmp_path / "settings.json", b"kept")
    assert done == [False, "named", True]


def test_where_there_is_no_room_the_old_file_stays_and_nothing_is_left_behind(tmp_path, monkeypatch):
    path = tmp_path / "settings.json"
    path.write_bytes(b"old")
    monkeypatch.setattr(os, "fsync", lambda _: (_ for _ in ()).throw(OSError(28, "No space left on device")))
    with pytest.raises(OSError, match="No space"):
        write_whole(path, b"new")
    assert path.read_bytes() == b"old"
    assert list(tmp_path.iterdir()) == [path]


def test_a_name_as_long_as_the_disk_takes_is_written_too(tmp_path):
    path = tmp_path / ("n" * 255)
    write_whole(path, b"kept")
    assert path.read_bytes() == b"kept"


@pytest.mark.skipif(not hasattr(os, "umask") or os.name == "nt", reason="needs rights as Unix has them")
def test_who_may_read_it_is_as_the_weaver_has_it_for_new_files(tmp_path):
    before = os.umask(0o077)
    try:
        write_whole(tmp_path / "settings.json", b"kept")
    finally:
        os.umask(before)
    assert (tmp_path / "settings.json").stat().st_mode & 0o777 == 0o600


def test_a_free_name_has_the_first_number_that_nobody_has():
    assert free_name("Towel", set().__contains__) == "Towel"
    assert free_name("Towel", {"Towel", "Towel 3"}.__contains__) == "Towel 2"
    assert free_name("Towel", {"Towel", "Towel 2", "Towel 3"}.__contains__) == "Towel 4"
