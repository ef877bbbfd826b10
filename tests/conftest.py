"""Runs every test, and the kernel of every notebook, on a throw-away data folder."""

import asyncio
import gc
import os
import sys
from pathlib import Path
from threading import current_thread

import pytest
from comm import create_comm
from hypothesis import settings
from ipywidgets import Widget

from environment import Surroundings

_FIRST_BROWSER = ("test_access", "test_order", "test_pages")
# What takes longest starts first, so that no worker is left alone with it at the end.
_FIRST = (
    "tests/browser/",
    "tests/house/test_mutants.py",
    "tests/house/test_coverage.py",
    "tests/panels/start/test_compile_ahead.py",
    "tests/first_run/test_first_run.py",
    "tests/rewiring/faults/test_finder.py",
    "tests/house/test_mutation.py",
)
SANITISE = Path(__file__).with_name("nbval_sanitise.cfg")

# A slow machine is no failure; the same examples on every run, so that a red test is red for everyone. (Hypothesis also
# tries constants of the modules that are loaded, so a file alone may miss what a whole run finds.)
settings.register_profile("statorbook", deadline=None, derandomize=True, database=None)
settings.load_profile("statorbook")

# Thirteen thousand tests are much to look through for garbage; as often as usual it took a quarter of their time.
_LOOK_FOR_GARBAGE_AFTER = (20_000, 10, 50)
# nbval's import of jsonschema makes 38 grammars of web addresses: a second in every worker, and nothing asks for them.
sys.modules.setdefault("rfc3987_syntax", None)
pytest_plugins = ("nbval.plugin",)


class Notebooks:
    """What nbval needs; a plug-in of its own because hooks in this file do not reach the folder notebooks/."""

    def __init__(self, surroundings):
        self._surroundings = surroundings
        self._running = None

    def pytest_collectstart(self, collector):
        """Pictures are tested in the library; a stored page shows a still picture where a panel lives."""
        if hasattr(collector, "skip_compare"):
            collector.skip_compare += ("image/svg+xml",)

    @pytest.hookimpl(tryfirst=True)
    def pytest_runtest_setup(self, item):
        """Lay the data out anew before a notebook's kernel starts."""
        if hasattr(item.parent, "skip_compare") and item.parent is not self._running:
            self._surroundings.renew()
            self._running = item.parent


_SURROUNDINGS = Surroundings()
_WAIT_FOR_DISK = os.fsync


def pytest_configure(config):
    """Lay out the data, then let nbval collect notebooks: never the other way round."""
    config.pluginmanager.register(Notebooks(_SURROUNDINGS.__enter__()), "statorbook-notebooks")
    os.fsync = lambda handle: None  # the power stays on, so that no test need wait for the disk
    gc.set_threshold(*_LOOK_FOR_GARBAGE_AFTER)
    config.option.nbval = True
    config.option.nbval_current_env = True
    config.option.nbval_cell_timeout = 120
    config.option.nbval_sanitize_with = str(SANITISE)


@pytest.hookimpl(optionalhook=True)
def pytest_xdist_make_scheduler(config, log):
    """A file's tests stay together, for its fixtures and its notebook's kernel; so do those of a browser.

    There are two browsers with about as much to do for each, so that on two cores neither waits for the other. The
    quick run has too little for two.
    """
    from xdist.scheduler import LoadScopeScheduling

    class WholeFiles(LoadScopeScheduling):
        def _split_scope(self, nodeid):
            file = nodeid.split("::")[0]
            if not file.startswith("tests/browser/"):
                return file
            if config.option.markexpr == "not slow":
                return "browser"
            return "first browser" if Path(file).stem in _FIRST_BROWSER else "second browser"

    return WholeFiles(config, log)


@pytest.hookimpl(trylast=True)
def pytest_collection_modifyitems(items):
    """Let the longest start first."""
    items.sort(
        key=lambda item: next((n for n, start in enumerate(_FIRST) if item.nodeid.startswith(start)), len(_FIRST))
    )


@pytest.fixture(autouse=True)
def no_page(request, monkeypatch):
    """Let no test but those of the browser meet a page.

    An open browser leaves its event loop in its worker's thread. And a new widget gathers all that a page has to know
    of it: where there is no page, that is a sixth of the time of a panel.
    """
    found, thread = asyncio.get_running_loop, current_thread()

    def without_telling(widget):
        if widget.comm is None:
            widget.comm = create_comm(target_name="jupyter.widget")

    def of_another_thread():
        if current_thread() is thread:
            raise RuntimeError("no running event loop")
        return found()

    if request.path.parent.name != "browser":
        monkeypatch.setattr(asyncio, "get_running_loop", of_another_thread)
        monkeypatch.setattr(Widget, "open", without_telling)


def pytest_terminal_summary(terminalreporter):
    """Tell the times that were measured in the browser, on whichever core."""
    from browser.times import tell

    tell(terminalreporter)


def pytest_unconfigure(config):
    """Put the environment back and remove the copy."""
    _SURROUNDINGS.__exit__()
    os.fsync = _WAIT_FOR_DISK
