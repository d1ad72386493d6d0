"""The scripts that set up, start and test the program, on stand-ins for a fresh machine and read by shellcheck."""

from __future__ import annotations

import os
import shutil
import subprocess
import tempfile
from pathlib import Path

import pytest

from tests.fake_machine import ROOT, FakeMachine

SCRIPTS = sorted(
    path.relative_to(ROOT)
    for path in (*(ROOT / "deploy").rglob("*"), ROOT / ".ci" / "run")
    if path.is_file() and path.read_bytes()[:60].startswith((b"#!/usr/bin/env bash", b"#!/bin/sh"))
)


@pytest.fixture
def machine():
    with tempfile.TemporaryDirectory() as folder:
        Path(folder).chmod(0o755)  # the user without rights must get in
        yield FakeMachine(Path(folder) / "machine")


def calls(machine: FakeMachine, tool: str) -> list[str]:
    return [line for line in machine.log() if line.startswith(tool)]


# --- The texts ------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("script", SCRIPTS, ids=str)
def test_shellcheck_has_nothing_to_say(script):
    if not shutil.which("shellcheck"):
        pytest.skip("shellcheck is not installed; deploy/test.sh installs it")
    done = subprocess.run(
        ["shellcheck", "--external-sources", script], check=False, cwd=ROOT, capture_output=True, text=True
    )
    assert done.returncode == 0, done.stdout


@pytest.mark.parametrize("script", SCRIPTS, ids=str)
def test_a_script_may_be_run_and_stops_at_the_first_failure(script):
    assert os.access(ROOT / script, os.X_OK)
    assert "\nset -euo pipefail\n" in (ROOT / script).read_text()


def test_there_are_scripts_to_check():
    assert {Path("deploy/run.sh"), Path("deploy/test.sh"), Path(".ci/run")} <= set(SCRIPTS)


# --- System packages ------------------------------------------------------------------------------------------------


def test_a_user_without_rights_is_told_what_is_missing_in_one_line(machine):
    machine.state("installed").write_text("libgl1\n")
    done = machine.run("run.sh", plain_user=True)
    assert done.returncode == 2
    assert done.stderr.splitlines() == [
        "fellside set-up: missing system packages, and no right to install them; "
        "ask for: apt-get install libmtdev1 xvfb"
    ]
    assert machine.log() == []
    assert not (machine.project / ".venv").exists()


def test_a_user_who_may_use_sudo_gets_the_missing_packages_installed_once(machine):
    machine.state("installed").write_text("libgl1\n")
    machine.state("may-sudo").touch()
    first = machine.run("run.sh", "help", plain_user=True)
    assert first.returncode == 0, first.stderr
    (apt,) = calls(machine, "apt-get")
    assert apt.endswith("install --no-install-recommends libmtdev1 xvfb")
    machine.run("run.sh", "help", plain_user=True)
    assert machine.log() == []


@pytest.mark.skipif(os.geteuid() != 0, reason="only root installs without sudo")
def test_root_needs_no_sudo(machine):
    machine.state("installed").write_text("libgl1\nxvfb\n")
    assert machine.run("run.sh", "help").returncode == 0
    log = machine.log()
    assert any(line.endswith("install --no-install-recommends libmtdev1") for line in log)
    assert not any(line.startswith("sudo") for line in log)


def test_the_lists_are_fetched_only_where_they_do_not_know_a_package(machine):
    machine.state("may-sudo").touch()
    machine.state("installed").write_text("libgl1\nlibmtdev1\n")
    machine.state("known").write_text("")
    assert machine.run("run.sh", "help", plain_user=True).returncode == 0
    update, install = calls(machine, "apt-get")
    assert update.endswith("update")
    assert install.endswith("xvfb")


def test_a_package_under_its_name_in_another_release_is_not_missing(machine):
    machine.state("installed").write_text("libgl1\nlibmtdev1t64\nxvfb\n")
    assert machine.run("run.sh", "help").returncode == 0
    assert calls(machine, "apt-get") == []


def test_a_package_is_installed_under_the_name_this_release_has(machine):
    machine.state("may-sudo").touch()
    names = ["libgl1", "libmtdev1t64", "xvfb"]
    machine.state("installed").write_text("libgl1\nxvfb\n")
    for state in ("known", "archive"):
        machine.state(state).write_text("".join(f"{name}\n" for name in names))
    assert machine.run("run.sh", "help", plain_user=True).returncode == 0
    assert calls(machine, "apt-get")[-1].endswith("install --no-install-recommends libmtdev1t64")


def test_missing_packages_without_a_network_end_in_one_clear_line(machine):
    machine.state("may-sudo").touch()
    machine.state("installed").write_text("libgl1\nlibmtdev1\n")
    machine.state("offline").touch()
    done = machine.run("run.sh", plain_user=True)
    assert done.returncode == 2
    assert done.stderr.splitlines()[-1] == (
        "fellside set-up: system packages could not be installed (see above); "
        "mend that, or ask for: apt-get install xvfb"
    )


def test_another_system_is_told_what_debian_calls_the_packages_and_goes_on(machine):
    for tool in ("apt-get", "apt-cache", "dpkg-query"):
        (machine.folder / "bin" / tool).unlink()
    first = machine.run("run.sh", "help")
    assert first.returncode == 0
    assert "install what Debian calls libgl1 libmtdev1|libmtdev1t64 xvfb" in first.stderr
    assert machine.run("run.sh", "help").stderr == ""


# --- Python ---------------------------------------------------------------------------------------------------------


def test_a_python_that_is_too_old_or_too_new_is_passed_over_for_one_that_fits(machine):
    machine.put_python("python3", "3, 14")
    machine.put_python("python3.12", "3, 12")
    assert machine.run("run.sh", "help").returncode == 0
    assert "3, 12" in (machine.project / ".venv" / "bin" / "python").read_text()


@pytest.mark.parametrize("version", ["3, 10", "3, 14"])
def test_no_fitting_python_is_one_clear_line(machine, version):
    machine.put_python("python3", version)
    done = machine.run("run.sh")
    assert done.returncode == 2
    assert len(done.stderr.splitlines()) == 1
    assert done.stderr.startswith("fellside set-up: no Python 3.11, 3.12 or 3.13 found")


def test_the_package_that_makes_environments_is_installed_where_it_is_missing(machine):
    machine.state("may-sudo").touch()
    machine.state("no-ensurepip").touch()
    installed = machine.state("installed").read_text().replace("python3.11-venv\n", "")
    machine.state("installed").write_text(installed)
    assert machine.run("run.sh", "help", plain_user=True).returncode == 0
    assert calls(machine, "apt-get")[-1].endswith("install --no-install-recommends python3.11-venv")


# --- The virtual environment ----------------------------------------------------------------------------------------


def test_the_second_run_asks_nothing_of_pip_apt_or_the_network(machine):
    assert machine.run("run.sh", "help").returncode == 0
    assert len(calls(machine, "pip")) == 1
    machine.state("offline").touch()
    second = machine.run("run.sh", "help", PIP_FATE="fails")
    assert (second.returncode, second.stdout, second.stderr) == (0, "fellside [help]\n", "")
    assert machine.log() == []


def test_new_dependencies_are_installed_and_new_settings_of_tools_are_not(machine):
    machine.run("run.sh", "help")
    machine.log()
    description = machine.project / "pyproject.toml"
    text = description.read_text()
    description.write_text(text + "\n[tool.other]\nx = 1\n")
    machine.run("run.sh", "help")
    assert calls(machine, "pip") == []
    description.write_text(text.replace('"pyserial', '"another", "pyserial'))
    machine.run("run.sh", "help")
    assert len(calls(machine, "pip")) == 1


def test_the_environment_of_the_tests_also_runs_the_program_but_not_the_other_way_round(machine):
    machine.run("run.sh", "help")
    assert calls(machine, "pip")[0].endswith("--editable " + str(machine.project))
    machine.run("test.sh", DISPLAY=":7")
    assert calls(machine, "pip")[0].endswith("[test]")
    machine.run("run.sh", "help")
    assert machine.log() == []


def test_an_environment_cut_off_half_made_is_made_anew(machine):
    cut = machine.run("run.sh", "help", PIP_FATE="cut-off")
    assert cut.returncode == -9
    left_over = machine.project / ".venv" / "left-over"
    left_over.touch()
    assert machine.run("run.sh", "help").returncode == 0
    assert not left_over.exists()


@pytest.mark.skipif(os.geteuid() != 0, reason="only root can make what belongs to root")
@pytest.mark.parametrize("fits", [True, False])
def test_an_environment_that_root_made_serves_or_is_told_of_in_one_line(machine, fits):
    assert machine.run("run.sh", "looms").returncode == 0
    for path in (machine.project / ".venv", *(machine.project / ".venv").rglob("*")):
        path.chmod(0o755)
    if not fits:
        (machine.project / ".venv" / "fellside-set-up").write_text("another\n")
    done = machine.run("run.sh", "looms", plain_user=True)
    assert done.returncode == (0 if fits else 2), done.stderr
    if not fits:
        assert done.stderr.splitlines() == [
            f"fellside set-up: {machine.project}/.venv belongs to root; have it taken away "
            f"(sudo rm -rf {machine.project}/.venv), then run this again"
        ]


def test_an_update_without_a_network_leaves_the_environment_that_was_whole(machine):
    machine.run("run.sh", "help")
    description = machine.project / "pyproject.toml"
    text = description.read_text()
    description.write_text(text.replace('"pyserial', '"another", "pyserial'))
    refused = machine.run("run.sh", "help", PIP_FATE="fails")
    assert refused.returncode == 2
    assert "is the network there?" in refused.stderr.splitlines()[-1]
    description.write_text(text)
    machine.log()
    assert machine.run("run.sh", "help", PIP_FATE="fails").stdout == "fellside [help]\n"
    assert machine.log() == []


def test_an_environment_without_pip_or_of_a_python_that_has_gone_is_made_anew(machine):
    machine.run("run.sh", "help")
    python = machine.project / ".venv" / "bin" / "python"
    python.unlink()
    python.symlink_to(machine.folder / "gone")
    assert machine.run("run.sh", "help").returncode == 0
    assert python.is_file()


def test_a_moved_project_is_installed_again(machine):
    machine.run("run.sh", "help")
    machine.log()
    machine.project = machine.project.rename(machine.folder / "elsewhere")
    machine.run("run.sh", "help")
    assert calls(machine, "pip")[0].endswith("--editable " + str(machine.project))


# --- What is started ------------------------------------------------------------------------------------------------


def test_arguments_go_to_the_program_as_they_are(machine):
    done = machine.run("run.sh", "check", "a file.wif", "--json", DISPLAY=":7")
    assert done.stdout == "fellside [check a file.wif --json]\n"


def test_with_a_display_the_program_opens_its_window(machine):
    assert machine.run("run.sh", DISPLAY=":7").stdout == "fellside []\n"


def test_with_a_terminal_and_no_display_the_program_starts_its_text_stepper(machine):
    assert machine.run("run.sh", terminal=True).stdout == "fellside []\r\n"


def test_with_neither_the_program_rehearses(machine):
    assert machine.run("run.sh").stdout == "fellside [rehearse]\n"


def test_the_tests_run_on_a_display_of_their_own_which_is_gone_afterwards(machine):
    done = machine.run("test.sh", "-k", "some thing")
    assert done.returncode == 0, done.stderr
    assert machine.log()[-1] == "pytest on display :41: -m pytest -n 3 --dist worksteal -k some thing"
    process = int(machine.state("display-process").read_text())
    with pytest.raises(ProcessLookupError):
        os.kill(process, 0)


def test_the_tests_run_on_the_display_that_is_there(machine):
    machine.run("test.sh", DISPLAY=":7")
    assert machine.log()[-1] == "pytest on display :7: -m pytest -n 3 --dist worksteal"
    assert not machine.state("display-process").exists()


def test_failing_tests_fail_the_script(machine):
    assert machine.run("test.sh", PYTEST_STATUS="3").returncode == 3


def test_a_display_that_does_not_start_is_one_clear_line(machine):
    machine.put("Xvfb", "#!/bin/sh\necho no screens found >&2\nexit 1\n")
    done = machine.run("test.sh")
    assert done.returncode == 2
    assert done.stderr.splitlines()[-1] == "fellside set-up: no virtual display: no screens found"
