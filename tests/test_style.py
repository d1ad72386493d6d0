"""The linter, the formatter and the type checker are tests too."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[1]


@pytest.mark.parametrize(
    "tool",
    [("ruff", "check", "."), ("ruff", "format", "--check", "."), ("mypy",)],
    ids=["lint", "format", "types"],
)
def test_the_sources_are_clean(tool):
    done = subprocess.run(
        [sys.executable, "-m", *tool], check=False, cwd=ROOT, capture_output=True, text=True, timeout=240
    )
    assert done.returncode == 0, done.stdout + done.stderr
