"""What is slow to compile, compiled by a child of the server before the reader comes to the page that needs it."""

import os
import sys
from functools import cache
from getpass import getuser
from pathlib import Path
from subprocess import DEVNULL, PIPE, Popen
from tempfile import gettempdir
from threading import Thread

AFTER_S = 5.0  # the browser and the first page come before
_NICER = 10
_LIBRARY = Path(__file__).parents[2]


# Modules for which numba keeps something beside the source, by package.
KEEPS = {"charging": ("day_kernel", "rest_kernel")}


def compile_all():
    """Compile all that stands in `KEEPS`, or take it from where numba kept it."""
    from statorbook.charging import compile_kernels  # the server itself has no need of it

    compile_kernels()


def is_kept(library=_LIBRARY):
    """Whether numba has kept everything since a file beside it was last changed."""
    for package, modules in KEEPS.items():
        folder = library / package
        changed = max(source.stat().st_mtime for source in folder.glob("*.py"))
        for module in modules:
            kept = (found.stat().st_mtime for found in folder.glob(f"__pycache__/{module}.*.nbi"))
            if max(kept, default=0.0) < changed:
                return False
    return True


@cache
def start():
    """Start the child, once in this process and only when something is not kept; it ends when this process does."""
    if is_kept():
        return None
    try:
        child = Popen([sys.executable, "-m", __name__], stdin=PIPE, stdout=DEVNULL, stderr=DEVNULL)
    except OSError:  # then it is compiled where it is needed
        return None
    Thread(target=child.wait, daemon=True).start()
    return child


def _end_with_the_server():
    """The server's end of the pipe closes however the server ends."""
    os.read(sys.stdin.fileno(), 1)  # not through a buffer, whose lock would be held at the end
    os._exit(0)


def lock_name():
    """Of the file that a child holds while it compiles."""
    return f"statorbook-{getuser()}-compile-ahead.lock"


def main():
    """Compile everything, unless another child is at it."""
    from filelock import FileLock

    Thread(target=_end_with_the_server, daemon=True).start()
    if hasattr(os, "nice"):
        os.nice(_NICER)
    try:
        with FileLock(Path(gettempdir()) / lock_name(), blocking=False):
            compile_all()
    except OSError:  # another child holds it, or nothing can be written
        pass


if __name__ == "__main__":
    main()
