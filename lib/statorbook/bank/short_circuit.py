"""What a bank drives through a spanner: its short-circuit amps, with how far they may be off."""

from dataclasses import dataclass
from math import inf


@dataclass(frozen=True, kw_only=True)
class ShortCircuit:
    """Amps of a bank whose poles are joined.

    Parameters
    ----------
    least_amps : float
        Empty, with the most resistance that its kind has [A].
    likely_amps : float
        Half full, with the usual resistance [A].
    most_amps : float
        At its charging limit, with the least resistance; what a fuse has to break [A].
    """

    least_amps: float
    likely_amps: float
    most_amps: float


def short_circuit(bank, *, outside_ohm=0.0):
    """Short-circuit amps of a bank.

    Parameters
    ----------
    bank : Bank
        The bank.
    outside_ohm : float
        Resistance of the loop outside the bank, such as that of a cable [Ω].

    Returns
    -------
    ShortCircuit
        Likely, and the least and most that they may be; infinite where nothing resists.

    Notes
    -----
    Equation: volts over the resistance inside and outside; strings side by side add up through the amp-hours.
    Valid: the first moment; links between the cells are not counted, nor electronics in the bank that switches it off.
    Source: Ohm's law; resistance and its ends in tables/bank_chemistry.csv, common practice, no source.
    """
    low_ohm, high_ohm = bank.internal_ohm_ends
    cases = (bank.empty_volts, high_ohm), (bank.half_volts, bank.internal_ohm), (bank.charging_volts, low_ohm)
    least, likely, most = (volts / ohm if (ohm := inner + outside_ohm) else inf for volts, inner in cases)
    return ShortCircuit(least_amps=least, likely_amps=likely, most_amps=most)
