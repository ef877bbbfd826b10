"""The linter, as `.ruff.toml` sets it up, has nothing to say."""

import subprocess
import sys

from house.sources import ROOT


def lint(*paths, text=None):
    """What the linter complains of, a line each."""
    command = [sys.executable, "-m", "ruff", "check", "--no-cache", "--quiet", "--output-format", "concise", *paths]
    run = subprocess.run(command, cwd=ROOT, input=text, capture_output=True, text=True)
    assert run.returncode in (0, 1), run.stderr
    return run.stdout.splitlines()


def test_the_linter_is_silent():
    assert lint(".") == []


def test_the_linter_is_not_deaf():
    assert any("F401" in line for line in lint("--stdin-filename", "tests/sample.py", "-", text="import os\n"))
