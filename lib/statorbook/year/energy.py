"""Kilowatt-hours of every grouping over a year, and the hours in which it charges, waits or is driven too hard."""

from dataclasses import dataclass

import numpy as np

from statorbook.choice import MOST_AMPS_PER_MM2, around_delta
from statorbook.operation import open_circuit_volts, settled_at
from statorbook.winding import Winding, wire_area_mm2
from statorbook.year.source import MONTH_HOURS

_STILL = 1e-6  # rpm that no rotor turns at


@dataclass(frozen=True, kw_only=True)
class GroupingYear:
    """One winding over a year, in the settings of a `SourceYear`."""

    winding: Winding
    hours: np.ndarray  # of the source, shape (12, k)
    speed_rpm: np.ndarray  # where it settles, shape (k,); 0 where the drive cannot turn it
    dc_amps: np.ndarray  # into the bank, shape (k,)
    bank_watts: np.ndarray  # into the bank, shape (k,)
    phase_amps_rms: np.ndarray  # in one lead, shape (k,)
    open_dc_volts_peak: np.ndarray  # at that speed with the bank gone, magnets cold, shape (k,)
    amps_per_mm2: np.ndarray  # in the coil's wire, shape (k,); not a number when the wire was not measured
    circulating_watts: np.ndarray  # at most, by a third harmonic in the delta, shape (k,); 0 when not measured
    full_dc_amps: np.ndarray  # into the bank at its charging limit, shape (k,)
    idle_watts: float = 0.0  # what a converter draws from the bank in the hours without the source
    held_dc_volts: np.ndarray | None = None  # what a converter holds at its input, shape (k,); None without one

    @property
    def grouping(self):
        """How its coils are joined, a `Grouping`."""
        return self.winding.grouping

    @property
    def kwh_by_month(self):
        """Into the bank, shape (12,) [kWh]."""
        return (self.hours @ self.bank_watts - self._rest_wh) / 1000.0

    @property
    def _rest_wh(self):
        """Drawn by a converter in the hours of each month without the source, shape (12,) [Wh]."""
        return self.idle_watts * np.maximum(MONTH_HOURS - self.hours.sum(axis=1), 0.0)

    @property
    def kwh(self):
        """Into the bank over the whole year [kWh]."""
        return float(self.kwh_by_month.sum())

    @property
    def net_kwh(self):
        """Into the bank less what may circulate in the delta in the same hours [kWh]."""
        net = np.maximum(self.bank_watts - self.circulating_watts, np.minimum(self.bank_watts, 0.0))
        return float((self.hours @ net - self._rest_wh).sum() / 1000.0)

    @property
    def wire_known(self):
        """Whether the coil's wire was measured, so that hours of too much current can be told."""
        return not np.isnan(self.amps_per_mm2).any()

    @property
    def fills(self):
        """Whether it charges the bank up to its charging limit in any hour of the year."""
        return self.hours_where(self.full_dc_amps > 0.0) > 0.0

    def hours_where(self, holds):
        """Hours of the year in those settings that a mask of shape (k,) names [h]."""
        return float(self.hours.sum(axis=0)[holds].sum())

    @property
    def charging_h(self):
        """Hours in which current flows into the bank [h]."""
        return self.hours_where(self.dc_amps > 0.0)

    @property
    def idle_h(self):
        """Hours in which it turns without charging, for want of volts [h]."""
        return self.hours_where((self.dc_amps <= 0.0) & (self.speed_rpm > _STILL))

    @property
    def still_h(self):
        """Hours in which the source is there but cannot turn it against its drag [h]."""
        return self.hours_where(self.speed_rpm <= _STILL)

    @property
    def hot_h(self):
        """Hours in which its coils carry more than copper stands for hours; 0 when the wire was not measured [h]."""
        return self.hours_where(self.amps_per_mm2 > MOST_AMPS_PER_MM2)

    def gone_h(self, limit_dc_volts):
        """Hours in which losing the bank puts more than these volts, DC peak, on the leads before it speeds up [h]."""
        return self.hours_where(self.open_dc_volts_peak > limit_dc_volts)


def grouping_years(machine, source, windings=None):
    """What windings make of a year.

    Parameters
    ----------
    machine : Machine
        Stator, coil, bank and setting; its drive is not used, those of the year are.
    source : SourceYear
        The year.
    windings : sequence of Winding or None
        Windings of the machine's stator; all its legal groupings when None.

    Returns
    -------
    list of GroupingYear
        One for each winding.

    Notes
    -----
    Equation: kWh = Σ hours × watts into the half-full bank, each setting where drive and generator agree.
    Valid: the rotor follows its source; a bank that takes all that comes; a gust shorter than the readings' mean is
        not in it.
    Source: definition; see `operation.settled_at`.
    """
    if windings is None:
        windings = [Winding(stator=machine.stator, coil=machine.coil, grouping=g) for g in machine.stator.groupings()]
    setting = machine.setting
    # The bank half full and at its charging limit, in one sweep.
    states = [state for state in machine.bank.states[1:] for _ in windings]
    found = settled_at(source.drives, [*windings, *windings], states, setting.conditions)
    area = wire_area_mm2(setting.wire_diameter_mm, setting.wires_in_hand) if setting.wire_diameter_mm else np.nan
    years = []
    for number, winding in enumerate(windings):
        at = {name: column[:, number] for name, column in found.items()}
        around = around_delta(winding, setting, at["speed_rpm"])
        # The third harmonic has another frequency, so its heat adds.
        coil_amps = np.hypot(winding.coil_amps(at["phase_amps_rms"]), around.coil_amps_rms)
        years.append(
            GroupingYear(
                winding=winding,
                hours=source.hours,
                open_dc_volts_peak=open_circuit_volts(winding, at["speed_rpm"], setting.cold_c)[1],
                amps_per_mm2=coil_amps / area,
                circulating_watts=around.watts,
                full_dc_amps=found["dc_amps"][:, len(windings) + number],
                idle_watts=setting.conditions.converter.idle_watts if setting.conditions.converter else 0.0,
                **at,
            )
        )
    return years
