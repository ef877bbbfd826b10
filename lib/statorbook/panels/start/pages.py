"""What the side bar of JupyterLab tells: every page with its name and its state in the open job.

The server answers it from the disk whenever it is asked, so that it needs no kernel and nothing kept twice.
"""

import json
from functools import lru_cache
from pathlib import Path

from statorbook.errors import BadInput
from statorbook.job import open_current
from statorbook.job.parts import units_of
from statorbook.panels.start.compile_ahead import AFTER_S, start

ADDRESS = "statorbook/pages"


def pages_now(root):
    """The open job, its units, what is wrong with it, and all pages with state and reason; the server shows `root`."""
    job, trouble, states = None, "", {}
    try:
        job = open_current().read()
        trouble, states = job.notice, job.states()
    except BadInput as complaint:
        trouble = str(complaint)
    pages = [_page(path, root, states.get(path.stem, "")) for path in _pages_in(root)]
    return {
        "job": job.name if job else "",
        "units": units_of(job) if job else "",
        "trouble": trouble,
        "pages": [page for page in pages if page["title"]],
    }


def _pages_in(root):
    folder = root / "notebooks"
    return sorted((folder if folder.is_dir() else root).glob("[0-9][0-9]*_*.ipynb"))


def _page(path, root, state):
    word, _, why = state.partition(": ")
    return {
        "path": path.relative_to(root).as_posix(),
        "number": path.stem.partition("_")[0],
        "title": _title(path, path.stat().st_mtime_ns),
        "state": word,
        "why": why,
    }


@lru_cache(maxsize=100)
def _title(path, changed_ns):
    """The page's first heading, read again only once the file has changed; empty for what is no page."""
    try:
        first = json.loads(path.read_text(encoding="utf-8"))["cells"][0]["source"]
        line = "".join(first).splitlines()[0]
    except (OSError, ValueError, LookupError, TypeError):
        return ""
    return line[2:].strip() if line.startswith("# ") else ""


def _jupyter_server_extension_points():
    return [{"module": __name__}]


def _load_jupyter_server_extension(server):
    """Let the server answer at `ADDRESS`, to those who may read its files, and compile ahead once it is up."""
    # JupyterLab brings both; the library itself does without.
    from jupyter_server.auth import authorized
    from jupyter_server.base.handlers import APIHandler
    from jupyter_server.utils import url_path_join
    from tornado.ioloop import IOLoop
    from tornado.web import authenticated

    class Pages(APIHandler):
        auth_resource = "contents"

        @authenticated
        @authorized
        def get(self):
            self.finish(pages_now(Path(server.root_dir)))

    address = url_path_join(server.web_app.settings["base_url"], ADDRESS)
    server.web_app.add_handlers(".*$", [(address, Pages)])
    IOLoop.current().call_later(AFTER_S, start)
