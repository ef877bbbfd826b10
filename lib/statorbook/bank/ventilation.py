"""Hydrogen of a lead-acid bank that charges, and the fresh air that it needs."""

from dataclasses import dataclass

# IEC 62485-2, EN 50272-2 (read as quoted): 24 times as much air as gas for 4 %, m³ of gas for each Ah, five times for
# safety. Printed rounded as 0.05; the product is kept, to the safe side.
_M3_PER_AH = 24.0 * 0.42e-3 * 5.0
# mA of gas for each Ah on float and at 2.40 V a cell; the same standard (read as quoted).
GAS_MA_PER_AH = {"flooded lead-acid": (5.0, 20.0), "AGM": (1.0, 8.0), "gel": (1.0, 8.0)}
_CM2_PER_M3_H = 28.0  # an opening for the air in and one for the air out, 0.1 m/s: the same standard (read as quoted)


@dataclass(frozen=True, kw_only=True)
class Ventilation:
    """Fresh air that the place of a lead-acid bank needs."""

    float_m3_h: float  # held at float volts
    boost_m3_h: float  # at its charging limit
    uncontrolled_m3_h: float  # when the charge control sticks and all amps go into gas

    @property
    def most_m3_h(self):
        """The most of the three, which the openings are made for [m³/h]."""
        return max(self.float_m3_h, self.boost_m3_h, self.uncontrolled_m3_h)

    @property
    def opening_cm2(self):
        """Of each of two openings, one low for the air in, one high for the air out [cm²]."""
        return _CM2_PER_M3_H * self.most_m3_h


def ventilation(bank, dc_amps):
    """Fresh air that a bank needs while it charges.

    Parameters
    ----------
    bank : Bank
        The bank.
    dc_amps : float
        The most amps that can flow into it [A].

    Returns
    -------
    Ventilation or None
        None for a bank that gives off no hydrogen at work.

    Notes
    -----
    Equation: Q = 0.0504 × n × I_gas × C / 1000, I_gas in mA/Ah; with the control stuck 0.0504 × n × amps.
    Valid: vented cells of less than 3 % antimony, sealed cells, up to 40 °C and 2.40 V a cell.
    Source: IEC 62485-2 (read as quoted on three pages).
    """
    gas = GAS_MA_PER_AH.get(bank.chemistry)
    if gas is None:
        return None
    held, boost = (_M3_PER_AH * bank.cells * amps * bank.capacity_ah / 1000.0 for amps in gas)
    return Ventilation(float_m3_h=held, boost_m3_h=boost, uncontrolled_m3_h=_M3_PER_AH * bank.cells * dc_amps)
