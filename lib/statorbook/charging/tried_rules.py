"""Rules tried by hand: readings that last for a while, and what is on then."""

from statorbook.charging.control import MEASURED
from statorbook.charging.scan import Controller

_MOST_SCANS = 60  # in one go, so that a move is answered at once; a long while is worked through in longer scans


class TriedRules:
    """A controller that is handed readings, each lot for a while; it remembers, as the real one does.

    Parameters
    ----------
    rules : RuleSet
        What it does.
    """

    def __init__(self, rules):
        self.rules, self._controller = rules, Controller(rules)

    def take(self, readings, lasting_s):
        """Let readings last.

        Parameters
        ----------
        readings : dict of str to float or bool
            By name of `INPUT_NAMES`, in the reader's units; the volts as at 25 °C are worked out.
        lasting_s : float
            How long [s].

        Returns
        -------
        dict of str to bool
            What is on then, by name of `OUTPUTS`.
        """
        codes = {name: MEASURED[name].code(value) if name in MEASURED else value for name, value in readings.items()}
        scan_ms = max(self.rules.scan_ms, round(1000.0 * lasting_s / _MOST_SCANS))
        for _ in range(max(1, round(1000.0 * lasting_s / scan_ms))):
            self._controller.scan(codes, scan_ms)
        return self._controller.outputs

    @property
    def held(self):
        """Which rules hold, by name."""
        return self._controller.held

    @property
    def compensated_volts(self):
        """Bank volts as at 25 °C in the last scan [V]."""
        volts = MEASURED["bank_volts_25"]
        return self._controller.signals[volts.name] / volts.per_unit
