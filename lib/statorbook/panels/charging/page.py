"""What the panels of chapter 07 share: the job that they show, its charging plan, and word of all that one saves."""

from functools import lru_cache

from statorbook.assembly import charging_from
from statorbook.panels.protection import ProtectionPage, ProtectionPanel
from statorbook.quantities import reader_units


class ChargingPage(ProtectionPage):
    """One job's charging plan for all panels of the page; else as the page before.

    Parameters
    ----------
    job : Job
        The reader's job; the example is shown while its machine is not filled in.
    """

    def __init__(self, job):
        super().__init__(job)
        self._plans = lru_cache(maxsize=8)(self._planned)

    def plan(self, **typed):
        """The charging plan of the job as it was read last.

        Parameters
        ----------
        **typed : dict
            Parts that a form holds and that may not be saved, by name, as `assembly.charging_from` takes them.

        Returns
        -------
        ChargingPlan
            Worked out once for the same parts.
        """
        return self._plans(self._changes, *typed.items())

    def _planned(self, change, *typed):
        with reader_units(self.system):
            return charging_from(self.now, self.plant(), **dict(typed))


class ChargingPanel(ProtectionPanel):
    """A panel of the page; one with a form names the part that its form fills in, `part_name`."""
