"""What is built is what a weaver installs: the wheel, made from the source archive, works far from the checkout."""

from __future__ import annotations

import json
import os
import subprocess
import sys
import sysconfig
import zipfile
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[1]


def run(*words: str | Path, cwd: Path) -> subprocess.CompletedProcess[str]:
    environment = {name: value for name, value in os.environ.items() if not name.startswith("PYTHON")}
    return subprocess.run(
        [str(word) for word in words],
        check=False,
        cwd=cwd,
        env=environment,
        capture_output=True,
        text=True,
        timeout=120,
    )


@pytest.fixture(scope="module")
def wheel(made_once) -> Path:
    """The wheel made from the source archive made from this checkout, without the network."""

    def build(folder: Path) -> None:
        done = run(sys.executable, "-m", "build", "--no-isolation", "--outdir", folder, ROOT, cwd=folder)
        assert done.returncode == 0, done.stdout + done.stderr

    (wheel,) = made_once("wheel", build).glob("fellside-*.whl")
    return wheel


@pytest.fixture(scope="module")
def installed(wheel, made_once) -> Path:
    """A fresh environment that holds the wheel, and sees the libraries (only them) of the environment of the tests."""

    def install(home: Path) -> None:
        python = home / "bin" / "python"
        assert run(sys.executable, "-m", "venv", "--without-pip", home, cwd=home).returncode == 0
        where = run(python, "-c", "import sysconfig; print(sysconfig.get_path('purelib'))", cwd=home).stdout.strip()
        # A folder named in a .pth file is searched, but not its own .pth files, the link to this checkout among them.
        (Path(where) / "libraries.pth").write_text(sysconfig.get_path("purelib") + "\n")
        done = run(
            *(sys.executable, "-m", "pip", "--python", python),
            *("install", "--quiet", "--no-deps", "--no-index", "--ignore-installed", wheel),
            cwd=home,
        )
        assert done.returncode == 0, done.stdout + done.stderr

    return made_once("installed", install)


def test_the_wheel_holds_every_asset_and_every_layout(wheel):
    names = set(zipfile.ZipFile(wheel).namelist())
    tracked = subprocess.run(
        ["git", "ls-files", "assets", "companion", "drivers"], check=False, cwd=ROOT, capture_output=True, text=True
    )
    if tracked.returncode:
        pytest.skip("not a git checkout: there is no list to compare with")
    files = [name for name in tracked.stdout.splitlines() if (ROOT / name).is_file()]
    assert any(name.endswith(".kv") for name in files), "the list itself is wrong"
    assert {f"companion/{name}" if name.startswith("assets/") else name for name in files} <= names


def test_the_wheel_holds_nothing_but_the_program(wheel):
    tops = {name.split("/")[0] for name in zipfile.ZipFile(wheel).namelist()}
    assert {top for top in tops if not top.endswith(".dist-info")} == {"companion", "drivers"}


def test_the_installed_program_finds_its_assets_and_reads_one(installed, tmp_path):
    python = installed / "bin" / "python"
    found = run(
        python,
        "-c",
        "from companion.workshop.app import DEMO\nfrom companion.workshop.places import asset\nprint(asset(DEMO))",
        cwd=tmp_path,
    )
    assert found.returncode == 0, found.stderr
    demo = Path(found.stdout.strip())
    assert demo.is_relative_to(installed)
    done = run(installed / "bin" / "fellside", "check", demo, "--json", cwd=tmp_path)
    assert done.returncode == 0, done.stderr
    assert json.loads(done.stdout)


def test_the_installed_package_has_the_version_that_it_says_and_shows_its_types(installed, tmp_path):
    told = "import companion, importlib.metadata as m; print(companion.__version__, m.version('fellside'))"
    done = run(installed / "bin" / "python", "-c", told, cwd=tmp_path)
    assert done.returncode == 0, done.stderr
    said, recorded = done.stdout.split()
    assert said == recorded
    for package in ("companion", "drivers"):
        assert list(installed.glob(f"lib/*/site-packages/{package}/py.typed"))
