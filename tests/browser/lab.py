"""The real JupyterLab of the README's command, on a scratch copy of the project with folders of its own.

Nothing of the person who runs the tests plays a part, and nothing is written back to the project.
"""

import os
import secrets
import shutil
import socket
import subprocess
import sys
import tempfile
import time
import urllib.request
from contextlib import suppress
from pathlib import Path

import nbformat
import pytest
from nbformat.sign import NotebookNotary

from house.sources import NOTEBOOKS, ROOT, project_files

WITH_PANELS = [path.stem for path in NOTEBOOKS if "statorbook.panels" in path.read_text(encoding="utf-8")]
# Every notebook, for tests that only look; in the quick run three of them stand for all.
_QUICK = ("00_start_here", "02_spin_and_log", "04_choose_a_grouping")
EVERY_PAGE = [
    name if name in _QUICK else pytest.param(name, marks=pytest.mark.slow) for name in (path.stem for path in NOTEBOOKS)
]
# What the latency of the panels is held against: the same slider, with nothing but a text to show.
TEXT_ONLY = "notebooks/text_only.ipynb"
_TEXT_ONLY_CODE = """import ipywidgets as W
speed = W.FloatSlider(value=50, min=0, max=100, step=1, description="Speed [rpm]")
words = W.HTML("50.0 rpm").add_class("statorbook-picture")
speed.observe(lambda change: setattr(words, "value", f"{speed.value:.1f} rpm"), "value")
W.VBox([speed, words])"""
_STARTS_WITHIN_S, _ENDS_WITHIN_S = 120, 20


def find_chromium():
    """Path of Debian's browser, or None where it is not installed."""
    return shutil.which("chromium") or shutil.which("chromium-browser")


class Lab:
    """A server on this machine's own address, to be used in `with`; `settings` are variables for its kernels.

    Attributes: `root` is the scratch copy, `data` its data folder, `url` and `token` lead to the server.
    """

    def __init__(self, settings=None):
        self._settings = dict(settings or {})

    def __enter__(self):
        self._folder = Path(tempfile.mkdtemp(prefix="statorbook-lab-"))
        self.root = self._folder / "workbook"
        self.data = self.root / "data"
        for name in project_files():
            target = self.root / name
            target.parent.mkdir(parents=True, exist_ok=True)
            shutil.copyfile(ROOT / name, target)
        page = nbformat.v4.new_notebook(cells=[nbformat.v4.new_code_cell(_TEXT_ONLY_CODE)])
        nbformat.write(page, self.root / TEXT_ONLY)
        self.token = secrets.token_hex(16)
        try:
            self._start()
        except BaseException:
            self.__exit__()
            raise
        return self

    def renew(self):
        """Lay the data out as shipped: the examples, no other job, none chosen."""
        shutil.rmtree(self.data)
        for name in (name for name in project_files() if name.startswith("data/")):
            target = self.root / name
            target.parent.mkdir(parents=True, exist_ok=True)
            shutil.copyfile(ROOT / name, target)

    def trust(self, notebook):
        """Sign a notebook as the server signs what somebody ran and saved here; untrusted, it would show no widget."""
        NotebookNotary(data_dir=str(self._folder / "jupyter")).sign(notebook)

    @property
    def server_pid(self):
        """Number of the server's process, whose children are the kernels."""
        return self._server.pid

    def said(self):
        """The end of what the server wrote."""
        return (self._folder / "server.log").read_text(encoding="utf-8", errors="replace")[-3000:]

    def _start(self):
        with socket.socket() as free:
            free.bind(("127.0.0.1", 0))
            port = free.getsockname()[1]
        self.url = f"http://127.0.0.1:{port}"
        options = [
            "--no-browser",
            "--ServerApp.ip=127.0.0.1",
            f"--ServerApp.port={port}",
            "--ServerApp.port_retries=0",
            "--ServerApp.allow_root=True",
            "--LabApp.expose_app_in_browser=True",
        ]
        with open(self._folder / "server.log", "wb") as log:
            self._server = subprocess.Popen(
                [sys.executable, "-m", "jupyterlab", *options],
                cwd=self.root,
                env=self._environment(),
                stdin=subprocess.DEVNULL,
                stdout=log,
                stderr=log,
            )
        end = time.monotonic() + _STARTS_WITHIN_S
        while not self._answers():
            if self._server.poll() is not None or time.monotonic() > end:
                raise RuntimeError(f"JupyterLab did not start:\n{self.said()}")
            time.sleep(0.1)

    def _environment(self):
        kept = {
            name: value
            for name, value in os.environ.items()
            if not name.startswith(("STATORBOOK_", "JUPYTER", "XDG_"))
            # As with a reader, what one kernel has compiled serves the next.
            and name not in ("MPLBACKEND", "PYTHONDONTWRITEBYTECODE")
        }
        own = {
            "JUPYTER_CONFIG_DIR": "config",
            "JUPYTER_DATA_DIR": "jupyter",
            "JUPYTER_RUNTIME_DIR": "runtime",
            "JUPYTERLAB_SETTINGS_DIR": "settings",
            "JUPYTERLAB_WORKSPACES_DIR": "workspaces",
            "HOME": "home",
            "IPYTHONDIR": "ipython",
        }
        # The token by the environment, so that no list of processes shows it; the library of the scratch copy.
        return (
            kept
            | {name: str(self._folder / place) for name, place in own.items()}
            | {"JUPYTER_TOKEN": self.token, "JUPYTER_PREFER_ENV_PATH": "1", "PYTHONPATH": str(self.root / "lib")}
            | self._settings
        )

    def _answers(self):
        with suppress(OSError):
            return urllib.request.urlopen(f"{self.url}/api/status?token={self.token}", timeout=2).status == 200

    def stop(self):
        """End the server, as somebody does who closes its window."""
        server = getattr(self, "_server", None)
        if server and server.poll() is None:
            server.terminate()  # it then ends its kernels itself
            try:
                server.wait(_ENDS_WITHIN_S)
            except subprocess.TimeoutExpired:
                server.kill()
                server.wait()

    def __exit__(self, *error):
        self.stop()
        shutil.rmtree(self._folder, ignore_errors=True)
