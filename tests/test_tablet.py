"""A tablet's life, as far as it can be held here: what it lacks is not needed, and what a package is made of starts.

Nothing was built for a tablet, nor run on one.
"""

from __future__ import annotations

import configparser
import os
import subprocess
import sys
import time
from pathlib import Path

import pytest

from companion.screens import environment
from tests.screens.stage import virtual_display

ROOT = Path(__file__).resolve().parents[1]
TABLET = ROOT / "deploy" / "tablet"

HIDDEN = ("fcntl", "termios", "pty", "tty", "grp", "pwd", "resource", "serial")
"""Modules that a tablet or Windows lacks, and the serial library, which is of no use on a tablet."""

WITHOUT = f"""
import sys
from importlib.abc import MetaPathFinder

class Hidden(MetaPathFinder):
    def find_spec(self, name, path=None, target=None):
        if name.partition(".")[0] in {HIDDEN!r}:
            raise ImportError(f"{{name}} is hidden")

for name in [name for name in sys.modules if name.partition(".")[0] in {HIDDEN!r}]:
    del sys.modules[name]
sys.meta_path.insert(0, Hidden())
"""

WINDOWS_LOCK = """
import subprocess  # before it could take this system for Windows
import types

held = {}

def locking(number, mode, length):
    # As Microsoft documents _locking: a byte that another handle holds is refused with EACCES.
    import os
    file = os.fstat(number).st_ino
    if mode != stand_in.LK_NBLCK or length != 1 or os.lseek(number, 0, os.SEEK_CUR) != 0:
        raise AssertionError("the first byte, without waiting")
    if held.setdefault(file, number) != number:
        raise PermissionError(13, "Permission denied")

stand_in = types.ModuleType("msvcrt")
stand_in.LK_NBLCK, stand_in.locking = 2, locking
sys.modules["msvcrt"] = stand_in
"""


def python(program, *words, **settings):
    environment = os.environ | {"PYTHONPATH": str(ROOT)} | {name: str(value) for name, value in settings.items()}
    return subprocess.run(
        [sys.executable, "-c", program, *map(str, words)],
        check=False,
        input="\n\nb\nq\n",
        capture_output=True,
        text=True,
        env=environment,
        timeout=120,
    )


def test_every_module_but_the_screens_is_imported_without_what_a_tablet_lacks():
    every = [path for room in ("companion", "drivers") for path in sorted((ROOT / room).rglob("*.py"))]
    names = [".".join(path.relative_to(ROOT).with_suffix("").parts).removesuffix(".__init__") for path in every]
    # Screens load Kivy, which needs a window; what a screen is wired to is loaded by the test that opens one.
    plain = [name for name in names if not name.startswith(("companion.screens", "companion.wiring"))]
    program = WITHOUT + f"import importlib\nfor name in {plain!r}:\n    importlib.import_module(name)\n"
    done = python(program)
    assert (done.returncode, done.stderr) == (0, "")
    assert len(plain) > 150


def test_weaving_works_without_them_by_windows_own_lock(tmp_path):
    weave = "from companion.cli.commands import run\nsys.exit(run(['weave', '--text']))\n"
    done = python(WITHOUT + WINDOWS_LOCK + weave, FELLSIDE_HOME=tmp_path)
    assert done.returncode == 0, done.stderr
    assert "paused; 1 pick lies in the cloth" in done.stdout
    assert (tmp_path / "journal" / "Demo.journal.lock").read_bytes() == b""


def test_windows_own_lock_lets_one_writer_in_and_names_it(tmp_path):
    program = """
from pathlib import Path
from companion.journal.errors import JournalInUseError
from companion.journal.lock import WriterLock
path = Path(sys.argv[1])
lock = WriterLock(path)
lock.name_holder()
try:
    WriterLock(path)
except JournalInUseError as error:
    print(error)
lock.release()
"""
    done = python(WITHOUT + WINDOWS_LOCK + program, tmp_path / "scarf.journal")
    assert done.returncode == 0, done.stderr
    assert "this warp is already open in process " in done.stdout


def test_a_device_without_serial_ports_says_so_and_names_the_pedals_that_work():
    watch = "from companion.cli.commands import run\nsys.exit(run(['pedal', *sys.argv[1:]]))\n"
    listed = python(WITHOUT + watch)
    assert listed.returncode == 0, listed.stderr
    watched = python(WITHOUT + watch, "--port", "/dev/ttyUSB0", "--seconds", "5")
    line = "/dev/ttyUSB0: this device has no serial ports; a pedal that acts as a keyboard will do"
    assert (watched.returncode, line in watched.stderr) == (2, True)


def test_a_tablet_has_a_screen_without_an_x_display(monkeypatch):
    monkeypatch.delenv("DISPLAY", raising=False)
    monkeypatch.setenv("ANDROID_ARGUMENT", "app")
    assert environment.has_display()


def test_no_screen_asks_for_the_systems_keyboard_which_would_cover_it():
    """Words are written on a keyboard of our own, or on a real one; Kivy shows the system's only when asked."""
    for path in (ROOT / "companion").rglob("*.*"):
        if path.suffix in (".py", ".kv"):
            text = path.read_text(encoding="utf-8")
            assert not any(word in text for word in ("TextInput", "request_keyboard", "FocusBehavior")), path


# --- The package ------------------------------------------------------------------------------------------------------


def spec():
    read = configparser.ConfigParser(interpolation=None)
    read.read(TABLET / "buildozer.spec")
    return read["app"]


@pytest.fixture(scope="module")
def app(tmp_path_factory):
    folder = tmp_path_factory.mktemp("tablet") / "app"
    subprocess.run([TABLET / "lay-out.sh", folder], check=True, capture_output=True, timeout=60)
    return folder


def test_the_package_holds_every_file_of_the_program(app):
    suffixes = {f".{suffix}" for suffix in spec()["source.include_exts"].split(",")}
    files = [path for path in app.rglob("*") if path.is_file()]
    assert {path.suffix for path in files} - {".typed"} == suffixes
    ours = [path for room in ("companion", "drivers") for path in (ROOT / room).rglob("*.py")]
    assert len(list(app.rglob("*.py"))) == len(ours) + 1
    assert (app / "companion" / "assets" / "drafts").is_dir()


def test_what_is_laid_out_starts_with_its_warps_in_the_systems_private_storage(app, tmp_path):
    private = tmp_path / "files"
    private.mkdir()
    kept = {name: value for name, value in os.environ.items() if name not in ("HOME", "FELLSIDE_HOME", "XDG_DATA_HOME")}
    with virtual_display(800, 480) as display:
        # Not ANDROID_ARGUMENT, by which Kivy would take this computer for a tablet.
        settings = {"DISPLAY": display, "ANDROID_PRIVATE": str(private)}
        settings |= {"SDL_VIDEODRIVER": "x11", "SDL_AUDIODRIVER": "dummy", "KIVY_HOME": str(tmp_path / "kivy")}
        program = subprocess.Popen(
            [sys.executable, "-P", "main.py"],
            cwd=app,
            env=kept | settings | {"PYTHONPATH": str(app)},
            stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL,
        )
        try:
            end = time.monotonic() + 120
            # Held open: somebody sits at the loom, in the window.
            lock = private / "fellside" / "journal" / "Demo.journal.lock"
            while not (lock.is_file() and lock.read_text()):
                assert program.poll() is None, program.returncode
                assert time.monotonic() < end, "the program did not come up"
                # A first start offers the demo; a window that is not up yet hears no key.
                subprocess.run(["xdotool", "key", "space"], env=os.environ | {"DISPLAY": display}, check=True)
                time.sleep(0.1)
        finally:
            program.kill()
            program.wait()


def test_what_the_package_asks_for_is_known_to_python_for_android():
    """Worked out by python-for-android's own graph of recipes; nothing is fetched or built."""
    graph = pytest.importorskip("pythonforandroid.graph", reason="comes with the extra 'tablet'")
    from pythonforandroid.bootstrap import Bootstrap
    from pythonforandroid.build import Context

    context = Context()
    asked = {name.partition("==")[0].strip() for name in spec()["requirements"].split(",")}
    bootstrap = Bootstrap.get_bootstrap(spec()["p4a.bootstrap"], context)
    recipes, plain, _ = graph.get_recipe_order_and_bootstrap(context, asked, bootstrap)
    assert asked <= set(recipes), "each has a recipe of its own; none is fetched as plain Python"
    assert recipes.index("sqlite3") < recipes.index("python3") < recipes.index("numpy")
    assert "serial" not in " ".join(plain)
    least = max(getattr(recipe, "min_ndk_api_support", 0) for recipe in (recipe_of(name, context) for name in asked))
    assert int(spec()["android.minapi"]) >= least


def recipe_of(name, context):
    from pythonforandroid.recipe import Recipe

    return Recipe.get_recipe(name, context)
