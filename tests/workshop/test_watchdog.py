"""Signs of life, received on a real datagram socket as a service manager would (sd_notify(3))."""

from __future__ import annotations

import os
import queue
import socket
import threading

import pytest

from companion.workshop.watchdog import SignsOfLife, notify, seconds_between_signs


@pytest.fixture
def manager(tmp_path):
    with socket.socket(socket.AF_UNIX, socket.SOCK_DGRAM) as line:
        line.bind(str(tmp_path / "notify"))
        line.settimeout(60)
        yield line


def environment(manager: socket.socket, **more: str) -> dict[str, str]:
    return {"NOTIFY_SOCKET": manager.getsockname(), **more}


def test_a_state_reaches_the_manager(manager):
    assert notify("READY=1", environment(manager))
    assert manager.recv(100) == b"READY=1"


def test_a_manager_with_an_abstract_name_is_reached():
    with socket.socket(socket.AF_UNIX, socket.SOCK_DGRAM) as line:
        line.bind(f"\0fellside-test-{os.getpid()}")
        line.settimeout(60)
        assert notify("WATCHDOG=1", {"NOTIFY_SOCKET": f"@fellside-test-{os.getpid()}"})
        assert line.recv(100) == b"WATCHDOG=1"


@pytest.mark.parametrize("names", [{}, {"NOTIFY_SOCKET": ""}, {"NOTIFY_SOCKET": "/no/such/socket"}])
def test_without_a_manager_nothing_happens(names):
    assert not notify("READY=1", names)


@pytest.mark.parametrize(
    ("names", "seconds"),
    [
        ({}, None),
        ({"WATCHDOG_USEC": "30000000"}, 15.0),
        ({"WATCHDOG_USEC": "30000000", "WATCHDOG_PID": str(os.getpid())}, 15.0),
        ({"WATCHDOG_USEC": "30000000", "WATCHDOG_PID": "1"}, None),
        ({"WATCHDOG_USEC": "0"}, None),
        ({"WATCHDOG_USEC": "soon"}, None),
    ],
)
def test_life_is_shown_twice_in_the_time_the_manager_allows(names, seconds):
    assert seconds_between_signs(names) == seconds


def test_a_window_that_works_through_its_posts_shows_life_until_it_ends(manager):
    posts: queue.SimpleQueue = queue.SimpleQueue()

    def window() -> None:
        while (post := posts.get()) is not None:
            post()

    thread = threading.Thread(target=window)
    thread.start()
    with SignsOfLife(posts.put, environment(manager, WATCHDOG_USEC="20000")):
        assert [manager.recv(100) for _ in range(4)] == [b"READY=1"] + 3 * [b"WATCHDOG=1"]
    posts.put(None)
    thread.join()
    rest = []
    while not rest or rest[-1] != b"STOPPING=1":
        rest.append(manager.recv(100))
    assert "signs of life" not in {thread.name for thread in threading.enumerate()}


def test_a_window_that_hangs_shows_no_life(manager):
    posts: queue.SimpleQueue = queue.SimpleQueue()  # nobody takes from it
    with SignsOfLife(posts.put, environment(manager, WATCHDOG_USEC="20000")):
        for _ in range(4):
            posts.get(timeout=60)  # the signs are asked for, and never sent
        manager.setblocking(False)
        with pytest.raises(BlockingIOError):
            manager.recv(100)


def test_a_manager_that_does_not_watch_is_told_only_start_and_end(manager):
    posted = []
    with SignsOfLife(posted.append, environment(manager)):
        assert "signs of life" not in {thread.name for thread in threading.enumerate()}
    assert len(posted) == 1
    posted[0]()
    assert sorted([manager.recv(100), manager.recv(100)]) == [b"READY=1", b"STOPPING=1"]
