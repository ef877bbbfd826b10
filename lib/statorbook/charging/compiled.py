"""A compiled function that several kernels do not compile at the same time."""

from getpass import getuser
from pathlib import Path
from tempfile import gettempdir

from filelock import FileLock

_MOST_WAIT_S = 120.0


def compiled_in_turn(function, mark):
    """The function; while it is compiled in one process, another one waits and then takes what was kept."""
    ready = []

    def call(*given):
        if ready:
            return function(*given)
        lock = FileLock(Path(gettempdir()) / f"statorbook-{getuser()}-{mark:08x}.lock", timeout=_MOST_WAIT_S)
        try:
            with lock:
                done = function(*given)
        except OSError:  # the other one hangs, or nothing can be written: better compiled twice than never
            done = function(*given)
        ready.append(True)
        return done

    # What numba made, and the function as it is written.
    call.compiled, call.py_func = function, function.py_func
    return call
