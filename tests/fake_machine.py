"""A small Debian-like machine for the scripts of `deploy/`: hand-written stand-ins for apt, dpkg, sudo, Python and pip.

The scripts run as they are, with a PATH that holds these stand-ins and a few plain tools and nothing else.
"""

from __future__ import annotations

import os
import pty
import shutil
import subprocess
import sys
from contextlib import ExitStack
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
PLAIN_TOOLS = (
    "bash",
    "sh",
    "env",
    "cat",
    "chmod",
    "cp",
    "cut",
    "dirname",
    "grep",
    "mkdir",
    "mkfifo",
    "mktemp",
    "rm",
    "sed",
)
PLAIN_TOOLS += ("sha256sum", "sleep", "stat", "tail", "touch", "true")

PLAIN_USER = 65534
"""`nobody`: who runs a script as a user without rights when the tests themselves run as root."""

REAL_PYTHON = shutil.which("python3", path="/usr/bin") or sys.executable
"""The system's, where there is one: a user without rights may not reach that of the tests."""

PYTHON = """#!/bin/sh
if [ "$1 $2" = "-m venv" ]; then mkdir -p "$3/bin" && cp "$0" "$3/bin/python"; exit; fi
if [ "$1 $2" = "-m pytest" ]; then
  echo "pytest on display $DISPLAY: $*" >>"$MACHINE/log"
  exit "${PYTEST_STATUS:-0}"
fi
if [ "$1 $2" = "-m pip" ]; then
  echo "pip $*" >>"$MACHINE/log"
  case "${PIP_FATE:-works}" in
    fails) exit 1 ;;
    cut-off) kill -KILL $PPID; exit 1 ;;
  esac
  bin=$(dirname "$0")
  cp "$MACHINE/fellside" "$bin/fellside"
  exit
fi
case "$2" in
  *version_info*) exec REAL_PYTHON -c "import sys; sys.version_info = (PYTHON_VERSION, 0); $2" ;;
  *ensurepip*) [ -e "$MACHINE/no-ensurepip" ] && exit 1 ;;
  "import pip") exit ;;
esac
exec REAL_PYTHON "$@"
"""

FELLSIDE = """#!/bin/sh
if [ -e "$(dirname "$0")/../../broken" ]; then echo "it does not weave" >&2; exit 1; fi
echo "fellside [$*]"
"""

STAND_INS = {
    "dpkg-query": """grep -q -x -- "$3" "$MACHINE/installed" && printf installed""",
    "apt-cache": """for name; do case "$name" in show|-*) continue ;; esac
grep -q -x -- "$name" "$MACHINE/known" || exit 100; done; echo "Filename: pool/main" """,
    "apt-get": """echo "apt-get $*" >>"$MACHINE/log"
case "$*" in
  *update*) [ -e "$MACHINE/offline" ] && exit 100; cat "$MACHINE/archive" >>"$MACHINE/known" ;;
  *install*) for name; do
      case "$name" in -*|*=*|install) continue ;; esac
      grep -q -x -- "$name" "$MACHINE/known" || exit 100
      [ -e "$MACHINE/offline" ] && exit 100
      echo "$name" >>"$MACHINE/installed"
      case "$name" in *-venv) rm -f "$MACHINE/no-ensurepip" ;; esac
    done ;;
esac""",
    "sudo": """[ -e "$MACHINE/may-sudo" ] || exit 1; shift; echo "sudo $*" >>"$MACHINE/log"; exec "$@" """,
    "Xvfb": """echo $$ >"$MACHINE/display-process"; echo 41 >&3; exec 3>&-; exec sleep 60""",
}


@dataclass
class FakeMachine:
    """A folder with a project and its own PATH; `log` tells what apt, sudo, pip and pytest were asked to do."""

    folder: Path
    more_tools: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        for name in ("bin", "state", "home"):
            (self.folder / name).mkdir(parents=True)
        self.project = self.folder / "project"
        shutil.copytree(ROOT / "deploy", self.project / "deploy")
        shutil.copy(ROOT / "pyproject.toml", self.project)
        for tool in (*PLAIN_TOOLS, *self.more_tools):
            found = shutil.which(tool)
            assert found, f"this machine has no {tool}"
            (self.folder / "bin" / tool).symlink_to(found)
        for name, body in STAND_INS.items():
            self.put(name, f"#!/bin/sh\n{body}\n")
        self.put_python("python3", "3, 11")
        self.state("fellside").write_text(FELLSIDE)
        entries = [line.split()[1] for line in self.package_lines()]
        archive = [name.replace("3.X", "3.11") for entry in entries for name in entry.split("|")]
        for name, lines in {"archive": archive, "known": archive, "installed": archive, "log": []}.items():
            (self.folder / "state" / name).write_text("".join(f"{line}\n" for line in lines))
        for path in (self.folder, *self.folder.rglob("*")):
            if not path.is_symlink():
                path.chmod(0o777)

    def package_lines(self) -> list[str]:
        """The lines of deploy/packages that name a package."""
        lines = (ROOT / "deploy" / "packages").read_text().splitlines()
        return [line for line in lines if line and not line.startswith("#")]

    def put(self, name: str, script: str) -> None:
        """Put a program on the machine's PATH."""
        path = self.folder / "bin" / name
        path.write_text(script)
        path.chmod(0o755)

    def put_python(self, name: str, version: str) -> None:
        """Put an interpreter that takes itself for `version` on the PATH."""
        self.put(name, PYTHON.replace("REAL_PYTHON", REAL_PYTHON).replace("PYTHON_VERSION", version))

    def state(self, name: str) -> Path:
        """A file of the machine's state, such as `offline`."""
        return self.folder / "state" / name

    def log(self) -> list[str]:
        """What was asked of the machine since the last call."""
        lines = self.state("log").read_text().splitlines()
        self.state("log").write_text("")
        return lines

    def run(
        self, script: str, *words: str, plain_user: bool = False, terminal: bool = False, **environment: str
    ) -> subprocess.CompletedProcess[str]:
        """Run a script of `deploy/`, as a user without rights if wanted, with or without a terminal."""
        user = PLAIN_USER if plain_user and os.geteuid() == 0 else None
        with ExitStack() as opened:
            if terminal:
                own, theirs = pty.openpty()
                opened.callback(os.close, own)
                opened.callback(os.close, theirs)
            done = subprocess.run(
                [str(self.project / "deploy" / script), *words],
                check=False,
                user=user,
                group=user,
                extra_groups=None if user is None else [],
                cwd=self.folder,
                stdin=theirs if terminal else subprocess.DEVNULL,
                stdout=theirs if terminal else subprocess.PIPE,
                stderr=subprocess.PIPE,
                text=True,
                timeout=60,
                env={
                    "PATH": str(self.folder / "bin"),
                    "HOME": str(self.folder / "home"),
                    "TMPDIR": str(self.folder),
                    "MACHINE": str(self.folder / "state"),
                    **environment,
                },
            )
            if terminal:
                os.write(theirs, b"<end>")  # so that reading ends even where the script said nothing
                shown = b""
                while not shown.endswith(b"<end>"):
                    shown += os.read(own, 1000)
                done.stdout = shown.decode().removesuffix("<end>")
            return done
