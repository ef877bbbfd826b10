"""What the contacts of a change-over break, close on, carry and hold off, and what follows when they stick."""

from dataclasses import dataclass
from math import isfinite, nan

import numpy as np

from statorbook.operation import Hazard, MostAmps, cut_in_rpm, grade, most_amps, open_circuit_volts, sweep
from statorbook.quantities import RAD_S_PER_RPM, Fact
from statorbook.year.switching import Switching

RATING_MARGIN = Fact(
    value=1.25,
    unit="times the amps",
    source="NEC 210.20(A), continuous load, read in a quotation; taken here for contacts",
    low=1.25,
    high=1.25,
)
DEAD_TIME_S = Fact(value=0.1, unit="s", source="between two contactors, common practice, no source", low=0.02, high=0.5)
CATALOGUE_HZ = Fact(
    value=60.0, unit="Hz", source="contactors are rated at 50 or 60 Hz, IEC 60947-4-1 (from memory)", low=50, high=60
)
_STILL_RPM = 1e-3  # stands for no speed at all, where a rotor that never turns is looked at


@dataclass(frozen=True, kw_only=True)
class Contacts:
    """One change-over at its contacts, on the AC side of the rectifier."""

    up_breaks_amps_rms: float  # broken by each contact that opens at the change up, rms
    up_makes_amps_rms: float  # on which each other contact then closes, rms
    down_breaks_amps_rms: float  # broken by each contact that opens at the change back, rms
    down_makes_amps_rms: float  # on which each other contact then closes, rms
    low_carries_amps_rms: float  # the most that a contact closed at low speed can ever carry, rms
    high_carries_amps_rms: float  # the same closed at high speed, rms
    open_line_volts_rms: float  # across open contacts at the faster of the two set speeds, magnets cold
    electrical_hz: float  # at that speed
    gains_rpm_per_s: float  # by the rotor while no contact is closed; not a number when its inertia is not known
    low_most: MostAmps  # with the low-speed grouping stuck, the source at its strongest, the bank empty and on
    high_cut_in_rpm: float  # from where the high-speed grouping stuck would charge
    runaway: Hazard  # bank gone or stuck between: of the low-speed grouping, the drive's guard acting
    unguarded: Hazard  # the same when that guard fails or there is none
    guard_words: str  # the drive's guard as a noun phrase; empty without
    fixed_runaway_dc_volts_peak: float  # of the best grouping without a switch, the guard acting
    accepted_dc_volts: float  # that the reader accepts with the bank gone, peak
    shorted_coil_amps_rms: float  # in one coil with both sets of contacts closed, at the faster set speed, rms

    @property
    def is_accepted(self):
        """True when the volts with the bank gone stay within what the reader accepts."""
        return self.runaway.dc_volts_peak <= self.accepted_dc_volts

    @property
    def thermal_amps_rms(self):
        """Rated operational current to ask for in category AC-1, rms [A]."""
        return RATING_MARGIN.value * max(self.low_carries_amps_rms, self.high_carries_amps_rms)

    @property
    def switched_amps_rms(self):
        """Rated operational current to ask for in category AC-3, rms [A]."""
        moved = (self.up_breaks_amps_rms, self.up_makes_amps_rms, self.down_breaks_amps_rms, self.down_makes_amps_rms)
        return RATING_MARGIN.value * max(moved)

    @property
    def rated_volts_rms(self):
        """Rated operational voltage to ask for: what the contacts hold off when the guard fails, line rms [V]."""
        return max(self.unguarded.line_volts_rms, self.runaway.line_volts_rms)


def switch_contacts(machine, source, found: Switching, *, inertia_kgm2=None):
    """What one change-over asks of its contacts, and what becomes of the machine when they stick.

    Parameters
    ----------
    machine : Machine
        As given to `switchings`.
    source : SourceYear
        The same year.
    found : Switching
        One of those pairs; one without stable speeds is looked at where the low-speed grouping is fastest.
    inertia_kgm2 : float or None
        Moment of inertia of all that turns, None when not known [kg·m²].

    Returns
    -------
    Contacts
        Amps, volts and what follows.

    Notes
    -----
    Equation: amps of the bridge at the set speed with the grouping that opens and the one that closes, shared by the
        contacts as `Pair` says; shorted coil I = E / |R + jX|; speed gained T / J.
    Valid: steady currents, the first swing can be twice as high; sinusoidal EMF.
    Source: that of `bridge.bridge`; utilization categories of IEC 60947-4-1 (from memory).
    """
    pair, setting = found.pair, machine.setting
    low, high = found.low.winding, found.high.winding
    up, down = _looked_at_rpm(found)
    fastest = max(up, down)
    amps = sweep([low, high], np.array([up, down]), machine.bank.states[1], setting.conditions).phase_amps_rms
    drive = max((machine.drive, *source.drives), key=lambda each: each.unguarded_runaway_speed_rpm)
    most = most_amps([(drive, winding, machine.bank, setting.cold) for winding in (low, high)])
    runaway, unguarded = (
        grade(open_circuit_volts(low, speed, setting.cold_c)[0], **setting.exposed)
        for speed in (drive.runaway_speed_rpm, drive.unguarded_runaway_speed_rpm)
    )
    return Contacts(
        up_breaks_amps_rms=float(pair.low_contact_amps(amps[0, 0])),
        up_makes_amps_rms=float(pair.high_contact_amps(amps[1, 0])),
        down_breaks_amps_rms=float(pair.high_contact_amps(amps[1, 1])),
        down_makes_amps_rms=float(pair.low_contact_amps(amps[0, 1])),
        low_carries_amps_rms=float(pair.low_contact_amps(most[0].lead_amps_rms)),
        high_carries_amps_rms=float(pair.high_contact_amps(most[1].lead_amps_rms)),
        open_line_volts_rms=float(open_circuit_volts(low, fastest, setting.cold_c)[0]),
        electrical_hz=float(machine.stator.electrical_hz(fastest)),
        gains_rpm_per_s=_gains_rpm_per_s(source, found, inertia_kgm2),
        low_most=most[0],
        high_cut_in_rpm=cut_in_rpm(high, machine.bank.states[1], setting.conditions),
        runaway=runaway,
        unguarded=unguarded,
        guard_words=drive.guard_words,
        fixed_runaway_dc_volts_peak=_gone_dc_volts(found.best_fixed.winding, drive, setting.cold_c),
        accepted_dc_volts=setting.limit_dc_volts,
        shorted_coil_amps_rms=_shorted_coil_amps(low, fastest, setting.cold),
    )


def _looked_at_rpm(found):
    """The two set speeds; where there are none the fastest that the low-speed grouping settles at."""
    speeds = (found.up_rpm, found.down_rpm) if found.is_stable else (float(found.low.speed_rpm.max()),) * 2
    return tuple(max(speed, _STILL_RPM) for speed in speeds)


def _gone_dc_volts(winding, drive, cold_c):
    return float(open_circuit_volts(winding, drive.runaway_speed_rpm, cold_c)[1])


def _gains_rpm_per_s(source, found, inertia_kgm2):
    """Of the two changes the faster gain: the torque of the source there, and nothing to hold it."""
    if inertia_kgm2 is None or not found.is_stable:
        return nan
    changes = ((found.low, found.up_rpm), (found.high, found.down_rpm))
    drives = [source.drives[int(np.argmax(year.speed_rpm >= speed))] for year, speed in changes]
    torque = max(float(drive.torque_nm(speed)) for drive, (_, speed) in zip(drives, changes, strict=True))
    return torque / inertia_kgm2 / RAD_S_PER_RPM if isfinite(torque) else nan  # a drive that holds its speed gains none


def _shorted_coil_amps(winding, speed_rpm, cold):
    """One phase of the winding on itself, shared by its paths."""
    star = winding.star_equivalent(cold.copper_c, cold.magnet_c)
    reactance = 2.0 * np.pi * winding.stator.electrical_hz(speed_rpm) * star.henry
    return float(winding.coil_amps(star.emf_v_per_rpm * speed_rpm / np.hypot(star.ohm, reactance)))
