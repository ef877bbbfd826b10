"""The linter and the formatter, as `.ruff.toml` sets them up, have nothing to say."""

import subprocess
import sys

from house.sources import ROOT


def ruff(*arguments, text=None):
    """What the tool complains of, a line each."""
    command = [sys.executable, "-m", "ruff", *arguments]
    run = subprocess.run(command, cwd=ROOT, input=text, capture_output=True, text=True)
    assert run.returncode in (0, 1), run.stderr
    return run.stdout.splitlines()


def lint(*paths, text=None):
    """What the linter complains of."""
    return ruff("check", "--no-cache", "--quiet", "--output-format", "concise", *paths, text=text)


def test_the_linter_is_silent():
    assert lint(".") == []


def test_the_linter_is_not_deaf():
    assert any("F401" in line for line in lint("--stdin-filename", "tests/sample.py", "-", text="import os\n"))


def test_one_layout_everywhere():
    assert ruff("format", "--no-cache", "--quiet", "--diff", ".") == []


def test_another_layout_is_seen():
    assert ruff("format", "--no-cache", "--diff", "--stdin-filename", "tests/sample.py", "-", text="a = [ 1 ]\n") != []
