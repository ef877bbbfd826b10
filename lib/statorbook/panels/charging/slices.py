"""Work in slices, between which the page is heard."""

import asyncio
from threading import RLock

_PAUSE_S = 0.003  # a move goes through several turns of the loop until it is heard, none of which should wait


class Slices:
    """Goes through one generator at a time, step by step, inside a panel's guard; a new one drops the one before."""

    def __init__(self, guarded):
        self._guarded, self._steps = guarded, None
        # JupyterLab may hand the kernel a move on another thread than the one that works on.
        self.lock = RLock()

    @property
    def busy(self):
        """Whether something is still being worked out."""
        return self._steps is not None

    def begin(self, steps, *, needed=True):
        """Go through a generator; where no event loop runs at once, and not at all when it is not needed."""
        try:
            loop = asyncio.get_running_loop()
        except RuntimeError:
            for _ in steps if needed else ():
                pass
            return
        self._steps = steps
        self._go_on(loop, steps)

    def drop(self):
        """Leave what is not done yet."""
        self._steps = None

    def _go_on(self, loop, steps):
        loop.call_later(_PAUSE_S, self._guarded(lambda: self._step(loop, steps)))

    def _step(self, loop, steps):
        with self.lock:
            if self._steps is not steps:
                return
            self._steps = None  # so that a step that fails is the last
            for _ in steps:
                self._steps = steps
                self._go_on(loop, steps)
                return
