"""A step-down converter between rectifier and bank: what it takes, what it gives, and what destroys it."""

from dataclasses import dataclass, replace

from statorbook.errors import BadInput
from statorbook.quantities import require_number

_MOST_VOLTS, _MOST_AMPS, _MOST_WATTS = 2000, 10_000, 1_000_000


@dataclass(frozen=True, kw_only=True)
class Converter:
    """A step-down converter that seeks the volts of most power, between the rectifier and the bank.

    Parameters
    ----------
    low_volts : float
        Lowest input volts at which it seeks, DC [V].
    high_volts : float
        Highest input volts at which it seeks, DC; the same as the lowest where it holds its volts [V].
    survives_dc_volts : float
        Highest input volts that it stands at all, working or not, DC [V].
    most_input_amps : float or None
        Most DC amps that it takes in, None without a limit [A].
    most_output_amps : float or None
        Most DC amps that it gives, None without a limit [A].
    most_output_watts : float or None
        Most watts that it gives, None without a limit [W].
    efficiency : float
        Watts out over watts in, apart from what it needs for itself [-].
    idle_watts : float
        What it needs for itself at all hours, drawn from the bank when nothing comes in [W].

    Raises
    ------
    BadInput
        When a number is out of range, or the three volts do not rise.

    Notes
    -----
    Equation: watts into the bank = efficiency × input volts × input amps − idle watts.
    Valid: steady work, a stiff input; input volts above those of the bank, as it can only step down.
    Source: energy balance; the ideal step-down converter of any power-electronics text.
    """

    low_volts: float
    high_volts: float
    survives_dc_volts: float
    most_input_amps: float | None = None
    most_output_amps: float | None = None
    most_output_watts: float | None = None
    efficiency: float = 0.95
    idle_watts: float = 2.0

    def __post_init__(self):
        require_number(self.low_volts, "lowest input volts of the converter", "V", above=0, at_most=_MOST_VOLTS)
        require_number(self.high_volts, "highest input volts of the converter", "V", above=0, at_most=_MOST_VOLTS)
        survives = "input volts that the converter survives"
        require_number(self.survives_dc_volts, survives, "V", above=0, at_most=_MOST_VOLTS)
        if not self.low_volts <= self.high_volts <= self.survives_dc_volts:
            given = f"{self.low_volts:g}, {self.high_volts:g} and {self.survives_dc_volts:g} V were given"
            allowed = (
                "lowest and highest working volts and the volts that it survives, rising in this order, are allowed"
            )
            raise BadInput(given, allowed, "read the three on its label again", where="converter, input volts")
        for value, name, unit, most in (
            (self.most_input_amps, "most input amps of the converter", "A", _MOST_AMPS),
            (self.most_output_amps, "most output amps of the converter", "A", _MOST_AMPS),
            (self.most_output_watts, "most output watts of the converter", "W", _MOST_WATTS),
        ):
            if value is not None:
                require_number(value, name, unit, above=0, at_most=most)
        require_number(self.efficiency, "efficiency of the converter", "", above=0, at_most=1)
        require_number(self.idle_watts, "idle watts of the converter", "W", at_least=0, at_most=_MOST_WATTS)

    def held_at(self, dc_volts):
        """The same converter that holds its input at given volts and seeks no more.

        Parameters
        ----------
        dc_volts : float
            Input volts [V].

        Returns
        -------
        Converter
            With a window of these volts alone.
        """
        return replace(
            self, low_volts=dc_volts, high_volts=dc_volts, survives_dc_volts=max(dc_volts, self.survives_dc_volts)
        )
