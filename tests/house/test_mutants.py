"""Forty small changes of the library, drawn anew for every state of it: most must turn a test red."""

import subprocess
import sys
import zlib

import pytest

from house.sources import LIBRARY, ROOT

# Only the packages' own tests are run; with those of the importers more is noticed, but it takes long. Nor are all of
# the packages' run where those that name the drawn modules notice enough. A draw from four modules spreads by some 8 %
# about the whole library's nine tenths, so that this limit tells a module without tests.
WANTED_PERCENT = 70
DRAW = ("--drawn", "4", "--most", "10", "--own", "--near-first", "--budget", "10", "--at-least", str(WANTED_PERCENT))


def library_number():
    """Another number for another library."""
    return zlib.crc32(b"".join(path.read_bytes() for path in sorted(LIBRARY.rglob("*.py"))))


@pytest.mark.slow
def test_most_of_forty_small_changes_are_noticed():
    command = [sys.executable, "-m", "judges.mutation", *DRAW, "--seed", str(library_number())]
    done = subprocess.run(command, cwd=ROOT / "tests", capture_output=True, text=True, timeout=1200)
    assert done.returncode == 0, done.stdout + done.stderr
