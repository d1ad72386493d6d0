from __future__ import annotations

import sys
import threading

import pytest

if sys.platform == "win32":
    collect_ignore_glob = ["test_serial_link.py", "test_pedal.py", "test_firmware.py"]


@pytest.fixture(autouse=True)
def _no_thread_is_left_behind():
    before = set(threading.enumerate())
    yield
    left = [thread.name for thread in set(threading.enumerate()) - before if thread.name.startswith("pedal")]
    assert not left
