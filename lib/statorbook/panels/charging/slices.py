"""Work in slices, between which the page is heard."""

import asyncio
from threading import RLock

_PAUSE_S = 0.003  # a move goes through several turns of the loop until it is heard, none of which should wait
_SENT_S = 0.03  # until an answer has left for the page: that is done on other threads


class Slices:
    """Goes through one generator at a time, step by step, inside a panel's guard; a new one drops the one before."""

    # A step may yield the seconds to wait after it.
    def __init__(self, guarded):
        self._guarded, self._steps = guarded, None
        # JupyterLab may hand the kernel a move on another thread than the one that works on.
        self.lock = RLock()

    @property
    def busy(self):
        """Whether something is still being worked out."""
        return self._steps is not None

    def begin(self, steps):
        """Go through a generator; at once where no event loop runs."""
        if not self._begun(steps, _PAUSE_S):
            for _ in steps:
                pass

    def begin_ahead(self, steps):
        """The same for what nobody waits for: once the page has what it asked for, and only where a loop runs."""
        self._begun(steps, _SENT_S)

    def _begun(self, steps, pause_s):
        try:
            loop = asyncio.get_running_loop()
        except RuntimeError:
            return False
        self._steps = steps
        self._go_on(loop, steps, pause_s)
        return True

    def drop(self):
        """Leave what is not done yet."""
        self._steps = None

    def _go_on(self, loop, steps, pause_s):
        loop.call_later(pause_s, self._guarded(lambda: self._step(loop, steps)))

    def _step(self, loop, steps):
        with self.lock:
            if self._steps is not steps:
                return
            self._steps = None  # so that a step that fails is the last
            for pause_s in steps:
                self._steps = steps
                self._go_on(loop, steps, pause_s or _PAUSE_S)
                return
