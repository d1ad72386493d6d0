"""A search in a real terminal that is stopped by Ctrl-C as soon as something is known."""

from __future__ import annotations

import os
import pty
import signal
import subprocess


def stopped_once_known(words):
    """Run these words, press Ctrl-C at the first answer; return the exit status, the output, and what stderr showed."""
    ours, theirs = pty.openpty()
    with subprocess.Popen(words, stdout=subprocess.PIPE, stderr=theirs) as search:
        os.close(theirs)
        shown = b""
        while b"Going on; Ctrl-C shows it." not in shown:
            shown += os.read(ours, 4096)
        search.send_signal(signal.SIGINT)
        out, _ = search.communicate(timeout=60)
    os.close(ours)
    return search.returncode, out, shown
