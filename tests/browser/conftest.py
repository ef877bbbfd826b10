"""One JupyterLab and one browser for all tests of this folder, and each notebook opened once for all of its tests."""

import os
from pathlib import Path

import pytest

from browser.lab import Lab, find_chromium
from browser.page import browser_page
from browser.times import PICTURES_TO
from house.sources import NOTEBOOKS

_MISSING = "these tests drive the browser chromium, which is not here"


@pytest.fixture(scope="package")
def lab():
    """The server."""
    if not find_chromium():
        # On the CI everything has to run; at home a browser of another kind may be all there is.
        (pytest.fail if os.environ.get("CI") else pytest.skip)(_MISSING)
    with Lab() as running:
        yield running


@pytest.fixture(scope="package")
def browser(lab):
    """The browser, where the README's command leads."""
    with browser_page(lab) as page:
        yield page


@pytest.fixture(scope="package")
def opened(browser, request):
    """A notebook, opened; closed, with its kernel, when its tests are done."""
    browser.open(request.param)
    browser.touched = True
    yield browser
    browser.close()


@pytest.fixture
def untouched(opened):
    """A notebook as it is after “Run the page” on the data as shipped; for tests that only look."""
    opened.page.evaluate("() => { watch.scroller().scrollTop = 0; }")  # where a page opens
    if opened.touched:
        opened.lab.renew()
        opened.run()
        opened.fold_headings()
        opened.touched = False
    return opened


@pytest.fixture
def seldom_touched(untouched):
    """The same for tests that find something to touch on a few pages: there they set `touched` themselves."""
    return untouched


@pytest.fixture
def notebook(untouched):
    """The same for tests that touch something."""
    untouched.touched = True
    return untouched


@pytest.fixture(scope="session")
def kept_in(tmp_path_factory):
    """Folder for pictures and tables: outside the project unless somebody asks otherwise."""
    named = os.environ.get(PICTURES_TO)
    folder = Path(named) if named else tmp_path_factory.mktemp("browser")
    folder.mkdir(parents=True, exist_ok=True)
    return folder


@pytest.hookimpl(tryfirst=True)
def pytest_collection_modifyitems(items):
    """Let the tests that only look at a page come first, so that it runs once for all of them."""
    places = [place for place, item in enumerate(items) if item.path.parent == Path(__file__).parent]
    for place, item in zip(places, sorted((items[place] for place in places), key=_touches), strict=True):
        items[place] = item


def _touches(item):
    names = item.fixturenames
    return "untouched" not in names or "notebook" in names, "seldom_touched" in names


def pytest_generate_tests(metafunc):
    """A test that asks for a notebook gets every one in turn, unless it names its own."""
    named = any(mark.args[0] == "opened" for mark in metafunc.definition.iter_markers("parametrize"))
    if "opened" in metafunc.fixturenames and not named:
        metafunc.parametrize("opened", [path.stem for path in NOTEBOOKS], indirect=True)
