"""The copy to a stick, on a real file system behind a loop device: a stick is hostile until shown otherwise."""

from __future__ import annotations

import os
import pwd
import re
import shutil
import subprocess
import tempfile
from pathlib import Path

import pytest

from tests.fake_machine import ROOT

PLAIN_USER = "nobody"
SCRIPT = ROOT / "deploy" / "device" / "copy-to-stick.sh"
UNIT = ROOT / "deploy" / "device" / "fellside-stick@.service"
PROGRAM = '#!/bin/sh\necho "$(id -un) $*" >"$2/copied"\n'
"""Stands in for the program: says in the folder that it is given who it was and what it was told."""


def may_mount() -> bool:
    if os.geteuid() or not all(map(shutil.which, ("losetup", "mkfs.ext4", "setpriv", "blkid"))):
        return False
    probe = subprocess.run(["unshare", "--mount", "true"], check=False, capture_output=True)
    free = subprocess.run(["losetup", "--find"], check=False, capture_output=True)
    return probe.returncode == free.returncode == 0


pytestmark = pytest.mark.skipif(not may_mount(), reason="only root may mount a stick, where there are loop devices")


class Stick:
    """A stick of 8 MB in a file, and what the weaver's program is."""

    def __init__(self, folder: Path, label: str = "FELLSIDE") -> None:
        self.image, self.inside = folder / "stick.img", folder / "inside"
        self.inside.mkdir()
        self.label = label
        self.program = folder / "program"
        self.program.write_text(PROGRAM)
        self.program.chmod(0o755)

    def format(self, owner: str = PLAIN_USER) -> None:
        """Make the file system from the folder `inside`, its root owned by `owner`."""
        who = pwd.getpwnam(owner)
        root = ["-E", f"root_owner={who.pw_uid}:{who.pw_gid}"]
        subprocess.run(["truncate", "-s", "8M", self.image], check=True)
        subprocess.run(["mkfs.ext4", "-q", "-L", self.label, *root, "-d", self.inside, self.image], check=True)

    def plug_in(self) -> subprocess.CompletedProcess[str]:
        """Run the script on the stick, as the unit does; afterwards `content` is what lies on it."""
        device = subprocess.run(
            ["losetup", "--find", "--show", self.image], check=True, capture_output=True, text=True
        ).stdout.strip()
        try:
            return subprocess.run(
                ["unshare", "--mount", SCRIPT, device, PLAIN_USER, self.program],
                check=False,
                capture_output=True,
                text=True,
                timeout=60,
            )
        finally:
            subprocess.run(["losetup", "--detach", device], check=True)

    def read(self, path: str) -> str:
        """Return a file of the stick's, or nothing where there is none."""
        done = subprocess.run(["debugfs", "-R", f"cat {path}", self.image], check=True, capture_output=True, text=True)
        return done.stdout


@pytest.fixture
def stick():
    # Not below pytest's own folder, which lets nobody but its owner in.
    with tempfile.TemporaryDirectory() as folder:
        Path(folder).chmod(0o755)
        yield Stick(Path(folder))


def test_the_warps_are_copied_by_the_weaver_and_not_by_root(stick):
    stick.format()
    done = stick.plug_in()
    assert done.returncode == 0, done.stderr
    assert re.fullmatch(rf"{PLAIN_USER} backup /\S+/fellside\n", stick.read("fellside/copied"))


def test_what_was_copied_is_whole_on_the_stick_even_where_a_warp_could_not_be(stick):
    stick.program.write_text(PROGRAM + "exit 1\n")
    stick.format()
    assert stick.plug_in().returncode == 1
    assert stick.read("fellside/copied")


def test_a_link_on_the_stick_hands_nothing_to_anybody(stick, tmp_path):
    precious = tmp_path / "precious"
    precious.mkdir()
    before = precious.stat()
    (stick.inside / "fellside").symlink_to(precious)
    stick.format()
    done = stick.plug_in()
    assert (done.returncode, len(done.stderr.splitlines())) == (2, 1)
    assert "'fellside' on the stick is a link" in done.stderr
    assert (precious.stat().st_uid, list(precious.iterdir())) == (before.st_uid, [])


def test_a_file_in_place_of_the_folder_is_refused(stick):
    (stick.inside / "fellside").write_text("in the way")
    stick.format()
    done = stick.plug_in()
    assert (done.returncode, "is no folder; nothing copied" in done.stderr) == (2, True)


def test_a_stick_that_is_somebody_elses_is_not_made_the_weavers(stick):
    stick.format(owner="root")
    done = stick.plug_in()
    assert done.returncode == 2
    assert f"{PLAIN_USER} may not write on this stick; make a folder 'fellside' on it" in done.stderr.splitlines()[-1]
    assert stick.read("fellside/copied") == ""


def test_links_below_the_folder_are_not_followed(stick, tmp_path):
    precious = tmp_path / "precious"
    precious.write_text("kept")
    shutil.chown(precious, PLAIN_USER)
    (stick.inside / "fellside").mkdir()
    shutil.chown(stick.inside / "fellside", PLAIN_USER)
    (stick.inside / "fellside" / "copied").symlink_to(precious)
    stick.format()
    assert stick.plug_in().returncode != 0
    assert precious.read_text() == "kept"


def test_a_stick_of_another_label_is_left_alone(stick):
    stick.label = "HOLIDAY"
    stick.format()
    done = stick.plug_in()
    assert (done.returncode, "labelled 'HOLIDAY', not FELLSIDE; nothing copied" in done.stderr) == (2, True)


def test_the_unit_is_held_tight(tmp_path):
    """Judged by systemd's own table of exposure (man systemd-analyze, "security"); 10 is a service without bounds."""
    text = UNIT.read_text().replace("@USER@", "root").replace("@HOME@", "/root")
    unit = tmp_path / "fellside-stick@sda1.service"
    unit.write_text(re.sub("^ExecStart=.*", "ExecStart=/bin/true", text, flags=re.MULTILINE))
    done = subprocess.run(
        ["systemd-analyze", "security", "--offline=true", "--threshold=30", "--no-pager", unit],
        check=False,
        capture_output=True,
        text=True,
        timeout=60,
    )
    assert done.returncode == 0, done.stdout[-300:] + done.stderr
