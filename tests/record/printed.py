"""What other programs see in a PDF: poppler's, where they are installed (https://poppler.freedesktop.org)."""

from __future__ import annotations

import re
import shutil
import subprocess

import pytest

needs_poppler = pytest.mark.skipif(shutil.which("pdftotext") is None, reason="poppler's pdftotext is not installed")


def poppler(command, data, *options):
    """Run one of poppler's programs on a document and return what it prints; a complaint of it fails."""
    done = subprocess.run(
        [command, *options, "-", *(["-"] if "text" in command else [])], input=data, capture_output=True, check=False
    )
    assert done.returncode == 0, done.stderr
    assert done.stderr == b""
    return done.stdout


def text_of(data):
    return poppler("pdftotext", data, "-layout").decode()


def pages_of(data):
    return int(re.search(rb"Pages: +(\d+)", poppler("pdfinfo", data))[1])


def words_in(text):
    return re.sub(r"\s+", " ", text)
