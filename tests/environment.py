"""The throw-away surroundings in which tests and notebooks run, so that a reader's own files play no part."""

import os
import shutil
import tempfile
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
EXAMPLE_JOB = "spring_pipe"


class Surroundings:
    """A data folder in a temporary place, to which every process started from here on is pointed."""

    def __enter__(self):
        self._kept = dict(os.environ)
        self._folder = Path(tempfile.mkdtemp(prefix="statorbook-"))
        self.data = self._folder / "data"
        shutil.copytree(ROOT / "data" / EXAMPLE_JOB, self.data / EXAMPLE_JOB)
        os.environ["STATORBOOK_DATA"] = str(self.data)
        os.environ["STATORBOOK_JOB"] = EXAMPLE_JOB
        # No start-up files of the person's own IPython, and the kernel of this very environment.
        os.environ["IPYTHONDIR"] = str(self._folder / "ipython")
        os.environ["JUPYTER_PREFER_ENV_PATH"] = "1"
        os.environ.pop("MPLBACKEND", None)
        return self

    def renew(self):
        """Write the example anew, as shipped, whatever a reader or the notebook before has made of it."""
        from statorbook.examples import jobs as example

        shutil.rmtree(self.data)
        self.data.mkdir()
        example.write(self.data)

    def __exit__(self, *error):
        os.environ.clear()
        os.environ.update(self._kept)
        shutil.rmtree(self._folder, ignore_errors=True)
