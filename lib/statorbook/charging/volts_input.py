"""The controller's input for the bank's volts: its divider, and how many millivolts a count stands for."""

from dataclasses import dataclass
from math import floor, log10

from statorbook.charging.heater_elements import E24
from statorbook.errors import BadInput

COUNTS, MILLIVOLTS = "counts", "millivolts"
_LOWER_OHM = 2200.0  # a few milliamps through the divider, so that the input's own ohms matter little
_ROOM = 1.2  # over the highest volts that it must read; no source
_MOST_DINT = 2**31 - 1
_CHECKED_SHARE = 0.005  # of a plain multimeter on DC volts; common practice, no source


@dataclass(frozen=True, kw_only=True)
class VoltsInput:
    """An analogue input behind a divider of two resistors, and what it gives.

    Parameters
    ----------
    upper_ohm : float
        From the bank's plus to the input [Ω].
    lower_ohm : float
        From the input to the bank's minus [Ω].
    input_ohm : float
        The input's own, side by side with the lower one [Ω].
    input_volts : float
        At which the input shows `full_counts`, DC [V].
    full_counts : int
        Greatest number that it shows [-].
    tolerance_share : float
        Of each resistor [-].
    gives : str
        "counts", or "millivolts" where the controller itself scales.
    checked : tuple of float or None
        Bank volts by a multimeter, and what the input showed at that moment, in counts or millivolts; None while it was
        not checked.
    """

    upper_ohm: float
    lower_ohm: float
    input_ohm: float
    input_volts: float
    full_counts: int
    tolerance_share: float = 0.01
    gives: str = COUNTS
    checked: tuple | None = None

    @property
    def gives_counts(self):
        """Whether the program has to make millivolts of counts."""
        return self.gives == COUNTS

    @property
    def divided_volts(self):
        """Bank volts at which the input is at its greatest, by the resistors alone [V]."""
        lower = self.lower_ohm * self.input_ohm / (self.lower_ohm + self.input_ohm)
        return self.input_volts * (self.upper_ohm + lower) / lower

    @property
    def full_volts(self):
        """Bank volts at its greatest number, by the multimeter where it was checked [V]."""
        if self.checked is None or not self.gives_counts:
            return self.divided_volts
        volts, shown = self.checked
        return volts * self.full_counts / shown

    @property
    def scale(self):
        """Two whole numbers, top and bottom: millivolts = counts × top / bottom, no product over 32 bits."""
        full_mv = 1000.0 * self.full_volts
        bottom = min(self.full_counts, floor((_MOST_DINT - self.full_counts) / full_mv))
        return round(full_mv * bottom / self.full_counts), bottom

    def millivolts(self, counts):
        """What the program makes of a number that the input shows.

        Parameters
        ----------
        counts : int
            Shown by the input, not below 0 [-].

        Returns
        -------
        int
            Millivolts of the bank, cut as whole numbers are [mV].
        """
        top, bottom = self.scale
        return counts * top // bottom

    def counts_at(self, volts):
        """What the input shows.

        Parameters
        ----------
        volts : float
            Of the bank [V].

        Returns
        -------
        int
            Between 0 and its greatest number [-].
        """
        return max(0, min(self.full_counts, floor(volts / self.full_volts * self.full_counts)))

    @property
    def step_volts(self):
        """By how much the bank's volts move for one count [V]."""
        return self.full_volts / self.full_counts

    @property
    def error_share(self):
        """How far off it may be: both resistors at the wrong ends of their tolerance, or the meter [-]."""
        if self.checked is not None:
            return _CHECKED_SHARE
        return 2.0 * self.tolerance_share * self.upper_ohm / (self.upper_ohm + self.lower_ohm)

    @property
    def divider_words(self):
        """Upper over lower resistor, such as "7.5 kΩ over 2.2 kΩ"."""
        return f"{self.upper_ohm / 1000.0:.4g} kΩ over {self.lower_ohm / 1000.0:.4g} kΩ"

    @property
    def watts(self):
        """In the two resistors together with the bank at `full_volts` [W]."""
        return self.full_volts**2 / (self.upper_ohm + self.lower_ohm)

    def require_room(self, most_volts):
        """Refuse an input that ends below the highest volts that the rules must see.

        Parameters
        ----------
        most_volts : float
            The highest volts, DC [V].

        Raises
        ------
        BadInput
            When the divider is too small for them.
        """
        if self.full_volts <= most_volts:
            raise BadInput(
                f"the volts input ends at {self.full_volts:.3g} V of the bank",
                f"more than {most_volts:.3g} V is needed, which a rule waits for",
                "take a larger upper resistor, or leave both resistors empty",
                where="controller, volts input",
            )


def usual_divider(most_volts, input_volts, input_ohm):
    """Two resistors for a bank and an input.

    Parameters
    ----------
    most_volts : float
        The highest volts that must be read, DC [V].
    input_volts : float
        The greatest volts of the input, DC [V].
    input_ohm : float
        The input's own ohms [Ω].

    Returns
    -------
    tuple of float
        Upper and lower ohms, the upper of IEC 60063, E24, so that a fifth more than the highest volts can be read.
    """
    lower = _LOWER_OHM * input_ohm / (_LOWER_OHM + input_ohm)
    least = max(10.0, lower * (_ROOM * most_volts / input_volts - 1.0))
    decade = 10.0 ** (floor(log10(least)) - 1)
    values = [step * decade for step in (*E24, 100)]
    return next(value for value in values if value >= least * (1.0 - 1e-9)), _LOWER_OHM
