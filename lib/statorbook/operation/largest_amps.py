"""The most amps that a winding can ever drive into a bank: what bridge, cable, fuse and wire are sized by."""

from dataclasses import dataclass, replace

import numpy as np

from statorbook.operation.loads import loads


@dataclass(frozen=True, kw_only=True)
class MostAmps:
    """The most that can flow with the bank on.

    Parameters
    ----------
    dc_amps : float
        Mean current into the bank [A].
    lead_amps_rms : float
        Current in one lead, rms [A].
    coil_amps_rms : float
        Current in one coil, rms [A].
    speed_rpm : float
        Speed at which it flows [rpm].
    """

    dc_amps: float
    lead_amps_rms: float
    coil_amps_rms: float
    speed_rpm: float


def most_amps(cases):
    """The most amps of windings, whatever their source does.

    Parameters
    ----------
    cases : sequence of tuple
        (drive, winding, bank, conditions) each, windings of one stator, conditions those of the coldest machine.

    Returns
    -------
    list of MostAmps
        One for each case.

    Notes
    -----
    Equation: amps of the bridge at the runaway speed of the strongest source, the drive's guard acting, bank empty;
        with a converter still the bank straight on the bridge, as a switch in it that fails shut leaves it, and what
        the converter gives where that is more.
    Valid: amps rise with speed and with the EMF over the bank's volts, so no setting of the source gives more; a source
        too weak to hold that speed gives it for moments only, when the bank comes back while the rotor runs away.
    Source: that of `bridge.bridge`.
    """
    drives, windings, banks, conditions = zip(*cases, strict=True)
    tops = {id(drive): _fastest_rpm(drive) for drive in drives}
    top = np.array([[tops[id(drive)]] for drive in drives])
    states, straight = [bank.states[0] for bank in banks], [replace(around, converter=None) for around in conditions]
    found = loads(windings, states, straight).at(top)
    dc_amps = found.dc_amps
    if any(around.converter for around in conditions):
        dc_amps = np.maximum(dc_amps, loads(windings, states, conditions).at(top).dc_amps)
    columns = (column[:, 0].tolist() for column in (dc_amps, found.phase_amps_rms, top))
    return [
        MostAmps(dc_amps=dc, lead_amps_rms=lead, coil_amps_rms=winding.coil_amps(lead), speed_rpm=speed)
        for winding, dc, lead, speed in zip(windings, *columns, strict=True)
    ]


def _fastest_rpm(drive):
    return max(drive.runaway_speed_rpm, drive.strongest().runaway_speed_rpm)
