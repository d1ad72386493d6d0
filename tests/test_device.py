"""The device's script on a stand-in for a fresh machine: releases, update, roll-back, removal; and its unit files."""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import tempfile
from pathlib import Path

import pytest

from tests.fake_machine import PLAIN_USER, ROOT, FakeMachine

BUTTON = ROOT / "deploy" / "device" / "shutdown-button.sh"
GIT = {"GIT_CONFIG_COUNT": "1", "GIT_CONFIG_KEY_0": "safe.directory", "GIT_CONFIG_VALUE_0": "*"}
GIT |= {f"GIT_{who}_{what}": "weaver" for who in ("AUTHOR", "COMMITTER") for what in ("NAME", "EMAIL")}
RECORDING_SUDO = '#!/bin/sh\necho "sudo $*" >>"$MACHINE/log"\ncat >/dev/null\n'


class Device(FakeMachine):
    """A stand-in machine whose project is a git checkout, with a sudo that only writes down what it is asked."""

    def __init__(self, folder: Path) -> None:
        super().__init__(folder, ("git", "id", "install", "ln", "mv", "pkill", "readlink", "rmdir", "tar"))
        self.put("sudo", RECORDING_SUDO)
        self.put("systemctl", '#!/bin/sh\necho "systemctl $*" >>"$MACHINE/log"\n')
        self.put("udevadm", "#!/bin/sh\n")
        self.git("init", "--quiet", "--initial-branch=main")
        self.commit("first")

    def git(self, *words: str) -> None:
        subprocess.run(["git", *words], check=True, cwd=self.project, env={**os.environ, **GIT})
        if os.geteuid() == 0:  # the script runs as a plain user, and git reads only what its user owns
            subprocess.run(["chown", "-R", f"{PLAIN_USER}:{PLAIN_USER}", self.project], check=True)

    def commit(self, text: str, broken: bool = False) -> None:
        """Publish a release whose file `which` says `text`; a broken one does not weave its rehearsal."""
        (self.project / "which").write_text(text)
        (self.project / "broken").unlink(missing_ok=True)
        if broken:
            (self.project / "broken").touch()
        self.git("add", "--all")
        self.git("commit", "--quiet", "--message", text)

    def device(self, *words: str, **environment: str) -> subprocess.CompletedProcess[str]:
        return self.run("device.sh", *words, plain_user=True, **GIT, **environment)

    @property
    def home(self) -> Path:
        return self.folder / "home" / ".local" / "lib" / "fellside"

    def in_use(self) -> str:
        return (self.home / "current" / "which").read_text()

    def releases(self) -> int:
        return len(list((self.home / "releases").iterdir()))


@pytest.fixture(scope="module")
def kept():
    """The machine as it is before and after the installation, made once; its paths stand in what is installed."""
    with tempfile.TemporaryDirectory() as folder:
        Path(folder).chmod(0o755)
        machine = Device(Path(folder) / "machine")
        _copy(machine.folder, machine.folder.with_name("fresh"))
        done = machine.device("install")
        assert done.returncode == 0, done.stderr
        machine.log()
        _copy(machine.folder, machine.folder.with_name("installed"))
        yield machine


def _copy(folder: Path, to: Path) -> None:
    """Copy a folder with its links and the owners of its files."""
    shutil.rmtree(to, ignore_errors=True)
    subprocess.run(["cp", "-a", folder, to], check=True)


@pytest.fixture
def device(kept):
    _copy(kept.folder.with_name("fresh"), kept.folder)
    return kept


@pytest.fixture
def installed(kept):
    _copy(kept.folder.with_name("installed"), kept.folder)
    return kept


# --- Install and remove ---------------------------------------------------------------------------------------------


def test_install_puts_the_commit_of_the_checkout_in_use_and_starts_it_with_the_session(installed):
    assert installed.in_use() == "first"
    home = installed.folder / "home"
    unit = home / ".config" / "systemd" / "user" / "fellside.service"
    assert unit.resolve() == (installed.home / "current" / "deploy" / "device" / "fellside.service").resolve()
    autostart = (home / ".config" / "autostart" / "fellside.desktop").read_text()
    assert f"\nExec={home}/.local/lib/fellside/current/deploy/device/start-in-session.sh\n" in autostart


def test_install_puts_rules_for_pedal_and_stick_into_the_system(device):
    assert device.device("install").returncode == 0
    written = {line.split()[-1] for line in device.log() if " install -D " in line}
    assert written == {
        "/etc/udev/rules.d/61-fellside.rules",
        "/etc/systemd/system/fellside-stick@.service",
        "/usr/local/lib/fellside/copy-to-stick.sh",
    }


def test_install_may_be_run_again(installed):
    assert installed.device("install").returncode == 0
    assert (installed.in_use(), installed.releases()) == ("first", 1)


def test_remove_takes_away_everything_but_the_warps(installed):
    home = installed.folder / "home"
    warps = home / ".local" / "share" / "fellside"
    warps.mkdir(mode=0o777)
    (warps / "Scarf.journal").touch()
    for _ in range(2):
        done = installed.device("remove")
        assert done.returncode == 0, done.stderr
        assert [path.name for path in home.rglob("*") if path.is_file() or path.is_symlink()] == ["Scarf.journal"]
    assert f"the warps stay where they are, in {warps}" in done.stderr


def test_without_rights_nothing_is_begun(device):
    device.put("sudo", "#!/bin/sh\nexit 1\n")
    done = device.device("install")
    assert (done.returncode, len(done.stderr.splitlines())) == (2, 1)
    assert list((device.folder / "home").iterdir()) == []


@pytest.mark.parametrize(
    ("words", "complaint"),
    [
        ((), "say install, update, roll-back, status or remove"),
        (("install", "--kitchen"), "install knows --kiosk and --button PIN, not '--kitchen'"),
        (("update",), "nothing is installed here; run device.sh install first"),
        (("roll-back",), "nothing is installed here; run device.sh install first"),
    ],
)
def test_a_wrong_word_or_moment_is_one_clear_line(device, words, complaint):
    done = device.device(*words)
    assert (done.returncode, done.stderr) == (2, f"fellside device: {complaint}\n")


def test_remove_gives_back_the_desktop_even_where_the_kiosk_is_gone_and_names_the_packages_that_stay(installed):
    (installed.home / "former-target").write_text("graphical.target\n")
    done = installed.device("remove")
    assert done.returncode == 0, done.stderr
    assert "sudo -n systemctl --quiet set-default graphical.target" in installed.log()
    stay = next(line for line in done.stderr.splitlines() if "packages stay" in line)
    assert stay.endswith("stay, as others may use them: libgl1 libmtdev1 xvfb cage xwayland")


# --- Update and roll-back -------------------------------------------------------------------------------------------


def test_an_update_is_tried_before_it_takes_over_and_can_be_rolled_back_and_forth(installed):
    installed.commit("second")
    done = installed.device("update")
    assert done.returncode == 0, done.stderr
    assert done.stderr.index("fellside [rehearse]") < done.stderr.index("fellside [backup]")
    assert installed.in_use() == "second"
    for which in ("first", "second", "first"):
        assert installed.device("roll-back").returncode == 0
        assert installed.in_use() == which
    assert "before it: releases/" in installed.device("status").stdout


def test_an_update_that_does_not_weave_changes_nothing(installed):
    installed.commit("second", broken=True)
    done = installed.device("update")
    assert done.returncode == 2
    assert done.stderr.splitlines()[-1].endswith("did not weave its rehearsal (see above); nothing was changed")
    assert (installed.in_use(), installed.releases()) == ("first", 1)


def test_an_update_whose_packages_do_not_come_changes_nothing(installed):
    installed.commit("second")
    assert installed.device("update", PIP_FATE="fails").returncode == 2
    assert (installed.in_use(), installed.releases()) == ("first", 1)


def test_an_update_cut_off_half_way_leaves_the_old_release_and_is_done_the_next_time(installed):
    installed.commit("second")
    assert installed.device("update", PIP_FATE="cut-off").returncode != 0
    assert installed.in_use() == "first"
    assert installed.device("update").returncode == 0
    assert installed.in_use() == "second"


def test_nothing_newer_is_said_and_leaves_the_way_back_open(installed):
    installed.commit("second")
    installed.device("update")
    done = installed.device("update")
    assert (done.returncode, "is the newest and in use already" in done.stderr) == (0, True)
    assert installed.device("roll-back").returncode == 0
    assert installed.in_use() == "first"


def test_two_releases_are_kept_and_no_more(installed):
    for text in ("second", "third", "fourth"):
        installed.commit(text)
        assert installed.device("update").returncode == 0
    assert (installed.in_use(), installed.releases()) == ("fourth", 2)
    assert installed.device("roll-back").returncode == 0
    assert installed.in_use() == "third"


def test_a_tag_can_be_asked_for_and_an_unknown_one_is_refused(installed):
    installed.commit("second")
    installed.git("tag", "v2")
    installed.commit("third")
    assert installed.device("update", "v2").returncode == 0
    assert installed.in_use() == "second"
    refused = installed.device("update", "v9")
    assert refused.returncode == 2
    assert "did not give v9" in refused.stderr.splitlines()[-1]
    assert installed.in_use() == "second"


@pytest.mark.parametrize("name", ["--upload-pack=touch ran", "-f", "main:other", "two words", ""])
def test_what_is_no_name_of_a_branch_or_tag_never_reaches_git(installed, name):
    installed.commit("second")
    refused = installed.device("update", name)
    assert (refused.returncode, refused.stderr) == (
        2,
        f"fellside device: '{name}' is no name of a branch or tag\n",
    )
    assert installed.in_use() == "first"


BACKUP_FATE = """#!/bin/sh
if [ "$1" = backup ]; then echo "fellside: told of backup" >&2; exit STATUS; fi
echo "fellside [$*]"
"""


@pytest.mark.parametrize(("status", "goes_on"), [(0, True), (1, True), (2, False), (70, False)])
def test_damaged_warps_do_not_hold_up_an_update_but_a_full_disk_does(installed, status, goes_on):
    program = BACKUP_FATE.replace("STATUS", str(status))
    (installed.home / "current" / ".venv" / "bin" / "fellside").write_text(program)
    installed.state("fellside").write_text(program)
    installed.commit("second")
    done = installed.device("update")
    assert "told of backup" in done.stderr
    assert (done.returncode == 0, installed.in_use() == "second") == (goes_on, goes_on)


def test_a_release_that_cannot_even_copy_is_replaced_by_one_that_can(installed):
    (installed.home / "current" / ".venv" / "bin" / "fellside").write_text("#!/bin/sh\nexit 70\n")
    installed.commit("second")
    assert installed.device("update").returncode == 0
    assert installed.in_use() == "second"


def test_there_is_no_way_back_before_the_first_update(installed):
    done = installed.device("roll-back")
    assert (done.returncode, len(done.stderr.splitlines())) == (2, 1)


# --- The shutdown button's lines in config.txt ------------------------------------------------------------------------

CONFIG = "# For more options see the documentation\n[pi5]\ndtparam=fan_temp0=50000\n\n[all]\ncamera_auto_detect=1\n"


def button(*words: str | Path) -> subprocess.CompletedProcess[str]:
    return subprocess.run([BUTTON, *words], check=False, capture_output=True, text=True, timeout=60)


def test_a_button_is_added_moved_and_taken_away_without_a_trace(tmp_path):
    config = tmp_path / "config.txt"
    config.write_text(CONFIG)
    for pin in ("3", "17", "17"):
        assert button("add", pin, config).returncode == 0
        assert config.read_text().startswith(CONFIG)
        assert [line for line in config.read_text().splitlines() if "gpio-shutdown" in line] == [
            f"dtoverlay=gpio-shutdown,gpio_pin={pin},active_low=1,gpio_pull=up"
        ]
    for _ in range(2):
        assert button("remove", config).returncode == 0
        assert config.read_text() == CONFIG
    assert [path.name for path in tmp_path.iterdir()] == ["config.txt"]


@pytest.mark.parametrize("pin", ["", "1", "28", "08", "-3", "3,gpio_pull=off", "x"])
def test_what_is_no_pin_is_refused_and_the_file_left_alone(tmp_path, pin):
    config = tmp_path / "config.txt"
    config.write_text(CONFIG)
    done = button("add", pin, config)
    assert (done.returncode, len(done.stderr.splitlines())) == (2, 1)
    assert config.read_text() == CONFIG


OURS = (
    "# fellside: shutdown button, begin\n[all]\ndtoverlay=gpio-shutdown,gpio_pin=3,active_low=1,gpio_pull=up\n"
    "# fellside: shutdown button, end\n"
)


@pytest.mark.parametrize(
    ("text", "says"),
    [
        (CONFIG + OURS.rpartition("# ")[0], "'# fellside: shutdown button, end' is missing in"),
        (CONFIG + OURS.rpartition("# ")[0] + "hdmi_group=2\n", "'hdmi_group=2' in"),
        (CONFIG + OURS.replace("[all]", "[pi4]"), "'[pi4]' in"),
    ],
)
@pytest.mark.parametrize("words", [("remove",), ("add", "3")])
def test_lines_that_are_not_ours_are_never_taken_out(tmp_path, text, says, words):
    config = tmp_path / "config.txt"
    config.write_text(text)
    done = button(*words, config)
    assert (done.returncode, done.stderr.count("\n"), says in done.stderr) == (2, 1, True)
    assert config.read_text() == text


def test_lines_of_ours_that_another_system_ended_its_way_are_taken_out(tmp_path):
    config = tmp_path / "config.txt"
    config.write_text(CONFIG + OURS.replace("\n", "\r\n"), newline="")
    assert button("remove", config).returncode == 0
    assert config.read_text() == CONFIG


# --- A program that does not start -----------------------------------------------------------------------------------

LOG = "Started Fellside.\nfellside: the program broke off (KeyError: 'x')\nMain process exited <code=70>\n"


def gave_up(folder: Path, where: str) -> str:
    """Return what stands on the screen, on a machine whose log holds LOG and whose browser notes its page."""
    bin_folder = folder / "bin"
    bin_folder.mkdir()
    for name, script in {"journalctl": f"cat <<'END'\n{LOG}END", "xdg-open": 'echo "$1" >"$HOME/opened"'}.items():
        (bin_folder / name).write_text(f"#!/bin/sh\n{script}\n")
        (bin_folder / name).chmod(0o755)
    environment = {"PATH": f"{bin_folder}:/usr/bin:/bin", "HOME": str(folder), "XDG_RUNTIME_DIR": str(folder)}
    script = ROOT / "deploy" / "device" / "gave-up.sh"
    done = subprocess.run([script, where], check=True, capture_output=True, text=True, env=environment, timeout=60)
    return Path((folder / "opened").read_text().strip()).read_text() if where == "window" else done.stdout


@pytest.mark.parametrize("where", ["window", "terminal"])
def test_a_program_that_does_not_start_is_told_of_on_the_screen_with_what_to_do(tmp_path, where):
    page = gave_up(tmp_path, where)
    assert "fellside: the program broke off (KeyError: 'x')\n\nWhat to do:" in page
    assert f"{tmp_path}/.local/share/fellside\n" in page
    assert "/.local/lib/fellside/current/deploy/device.sh roll-back" in page
    assert ("<pre" in page, "Alt and F2" in page) == (where == "window", where == "terminal")


@pytest.mark.parametrize("name", ["fellside.service", "fellside-kiosk.service"])
def test_the_unit_gives_up_after_a_few_quick_restarts_and_has_a_page_shown(name):
    folder = ROOT / "deploy" / "device"
    lines = dict(line.split("=", 1) for line in (folder / name).read_text().splitlines() if "=" in line)
    quickest_s = int(lines["StartLimitBurst"]) * int(lines["RestartSec"])
    assert quickest_s < int(lines["StartLimitIntervalSec"]), "else it would never give up"
    assert (folder / lines["OnFailure"]).is_file()


# --- Keeping the screen lit -----------------------------------------------------------------------------------------


def test_swayidle_stands_still_while_the_program_runs_and_goes_on_afterwards(device, tmp_path):
    stand_in = tmp_path / "swayidle"
    shutil.copy(shutil.which("sleep"), stand_in)
    blanking = ROOT / "deploy" / "device" / "blanking.sh"
    with subprocess.Popen([stand_in, "60"]) as idle:
        try:
            for word, state in (("off", "T"), ("on", "S")):
                environment = {**os.environ, "XDG_SESSION_TYPE": "wayland"}
                subprocess.run([blanking, word], check=True, env=environment, timeout=60)
                shown = Path(f"/proc/{idle.pid}/stat").read_text().rpartition(") ")[2][0]
                assert shown == state
        finally:
            idle.kill()


# --- Unit files -----------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", sorted(path.name for path in (ROOT / "deploy" / "device").glob("*.service")))
def test_systemd_understands_the_units(tmp_path, name):
    if not shutil.which("systemd-analyze"):
        pytest.skip("systemd-analyze is not installed here")
    text = (ROOT / "deploy" / "device" / name).read_text()
    # Every program is one that this machine has: what stands before us is the unit, not what else is installed.
    lines = [
        f"{line.split('=')[0]}=/bin/true"
        if line.startswith("Exec")
        else line.replace("@USER@", "root").replace("@HOME@", "/root")
        for line in text.splitlines()
    ]
    (tmp_path / name).write_text("\n".join(lines) + "\n")
    unit = tmp_path / name.replace("@.", "@sda1.")
    done = subprocess.run(
        ["systemd-analyze", "verify", "--man=no", "--generators=no", unit],
        check=False,
        capture_output=True,
        text=True,
        timeout=60,
    )
    complaints = [line for line in (done.stdout + done.stderr).splitlines() if "fellside" in line]
    assert (done.returncode, complaints) == (0, [])


def test_modem_manager_is_kept_off_the_makers_of_pedals_and_off_nobody_else():
    rules = (ROOT / "deploy" / "device" / "61-fellside.rules").read_text()
    told_off = [line for line in rules.splitlines() if "ID_MM_DEVICE_IGNORE" in line]
    assert len(told_off) == 1
    assert re.search(r'ENV\{ID_VENDOR_ID\}=="[0-9a-f]{4}(\|[0-9a-f]{4})+"', told_off[0])


def test_udev_understands_the_rules():
    rules = ROOT / "deploy" / "device" / "61-fellside.rules"
    probe = (
        subprocess.run(["udevadm", "verify", "--help"], check=False, capture_output=True)
        if shutil.which("udevadm")
        else None
    )
    if probe is None or probe.returncode:
        pytest.skip("udevadm verify, of systemd 254 and later, is not here")
    done = subprocess.run(["udevadm", "verify", rules], check=False, capture_output=True, text=True, timeout=60)
    assert done.returncode == 0, done.stdout + done.stderr
