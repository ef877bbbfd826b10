"""A panel that is made anew when what stands above it on the page was saved: no second run of the page is needed."""

from statorbook.widgets.controls import stacked


class MadeAnew:
    """What a cell shows in place of a panel that another one of its page brings up to date.

    Parameters
    ----------
    make : callable
        Makes the panel for the job as it is on the disk.
    above : panel with `follow`
        After each change that it saved the panel is made anew.
    """

    def __init__(self, make, above):
        self._make, self.widget = make, stacked([])
        self.renew()
        above.follow(above.guarded(self.renew))

    def renew(self):
        """Show the panel for the job as it is on the disk now."""
        self.panel = self._make()
        self.widget.children = (self.panel.widget,)

    @property
    def sentence(self):
        """What the panel says now."""
        return self.panel.sentence

    def _repr_mimebundle_(self, include=None, exclude=None):
        bundle = self.widget._repr_mimebundle_(include=include, exclude=exclude)
        return {**bundle, "text/plain": self.sentence}
