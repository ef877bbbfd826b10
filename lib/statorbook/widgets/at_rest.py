"""What waits until the hand rests, and the mark by which the page knows that it is still to come."""

import asyncio
from functools import partial

_REST_S = 0.3  # nobody who is still moving a slider pauses longer
_AWAITING = "statorbook-awaiting"


def when_at_rest(call):
    """Call something once the page's controls rest for a moment; at once where no event loop runs."""
    try:
        asyncio.get_running_loop().call_later(_REST_S, call)
    except RuntimeError:
        call()


class OnceAtRest:
    """Calls something once the hand rests, once for all that asked meanwhile; panels are marked until it is done.

    Parameters
    ----------
    call : callable
        Called without arguments.
    panels : callable
        Gives the panels that carry the mark.
    """

    def __init__(self, call, panels):
        self._call, self._panels, self._asked, self._done = call, panels, 0, 0

    def ask(self):
        """Call it once the hand rests."""
        self._asked += 1
        for panel in self._panels():
            panel.widget.add_class(_AWAITING)
        when_at_rest(partial(self._answer, self._asked))

    def now(self):
        """Call it now, if it was asked for."""
        self._answer(self._asked)

    def _answer(self, asked):
        if not asked == self._asked != self._done:
            return
        self._done = asked
        try:
            self._call()
        finally:
            self._unmark()

    def _unmark(self):
        if self._done == self._asked:  # what was called may have asked again
            for panel in self._panels():
                panel.widget.remove_class(_AWAITING)
