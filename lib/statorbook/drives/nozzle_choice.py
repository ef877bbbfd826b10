"""Which nozzle for a drop and a pipe: all of them at once, the best, and the one for a wished power."""

from dataclasses import dataclass, replace
from math import floor

import numpy as np

from statorbook.drives.piped_jet import nozzle_flow_l_s, open_flow_l_s
from statorbook.drives.water_jet import LEAST_DIAMETER_RATIO, MOST_DIAMETER_RATIO, water_watts
from statorbook.errors import BadInput
from statorbook.quantities import require_number, say

_WIDEST_MM = 500.0  # what a `WaterJet` takes
_INSIDE = 1e-6  # the ends are kept clear of the last digit, so that a drive can be built there


@dataclass(frozen=True, kw_only=True)
class NozzleSweep:
    """What a row of nozzles would do on one pipe and runner."""

    nozzle_mm: np.ndarray  # bore of one nozzle
    flow_l_s: np.ndarray  # of all nozzles together
    net_head_m: np.ndarray  # left at the nozzle
    pipe_share: np.ndarray  # head that the pipe takes, over the whole drop [-]
    shaft_watts: np.ndarray  # at the best speed


def nozzle_sweep(drive, nozzle_mm):
    """Flow, head and power of a piped jet with other nozzles.

    Parameters
    ----------
    drive : PipedJet
        Drop, pipe and runner.
    nozzle_mm : array_like
        Bores of one nozzle, above 0 [mm].

    Returns
    -------
    NozzleSweep
        One row of numbers each.

    Notes
    -----
    Equation: as `PipedJet`.
    Valid: as `PipedJet`; whether the runner suits the jet is not asked.
    Source: see `PipedJet`.
    Derivation: `drives.piped_flow`.
    """
    bores, drop = np.asarray(nozzle_mm, dtype=float), drive.gross_head_m
    # The same jets under the whole drop: the flow goes as the bore squared and as the root of the head.
    free = drive.total_flow_l_s * (bores / drive.jet_mm) ** 2 * (drop / drive.net_head_m) ** 0.5
    flow = nozzle_flow_l_s(drive.pipe, drop, free)
    # As in `PipedJet`: from the jet, since the pipe's loss jumps where its flow turns turbulent.
    head = drop * (flow / free) ** 2
    return NozzleSweep(
        nozzle_mm=bores,
        flow_l_s=flow,
        net_head_m=head,
        pipe_share=1.0 - head / drop,
        shaft_watts=drive.efficiency * water_watts(flow, head),
    )


def usable_nozzles_mm(drive):
    """Narrowest and widest nozzle that runner and pipe of a drive can use.

    Parameters
    ----------
    drive : PipedJet
        Drop, pipe and runner.

    Returns
    -------
    tuple of float
        Bores [mm].

    Notes
    -----
    Equation: pitch diameter / 60 to pitch diameter / 5, no wider than the pipe.
    Valid: bucket runners.
    Source: the limits of `WaterJet`.
    """
    pipe_mm = getattr(drive.pipe, "bore_mm", _WIDEST_MM)
    widest = min(drive.pitch_diameter_mm / LEAST_DIAMETER_RATIO, pipe_mm, _WIDEST_MM)
    return drive.pitch_diameter_mm / MOST_DIAMETER_RATIO * (1.0 + _INSIDE), widest * (1.0 - _INSIDE)


def best_nozzle_mm(drive):
    """The nozzle of most shaft power among those that runner and pipe can use.

    Parameters
    ----------
    drive : PipedJet
        Drop, pipe and runner.

    Returns
    -------
    float
        Bore of one nozzle [mm].

    Notes
    -----
    Equation: greatest Q (H − h(Q)); a third of the drop is lost where h grows as Q².
    Valid: a runner whose efficiency does not change with the jet.
    Source: any fluid mechanics text, power of a nozzle at the end of a pipe.
    Derivation: `drives.third_of_the_head`.
    """
    return _at_flow(drive, _best_flow_l_s(drive)).jet_mm


def nozzle_for_power_mm(drive, shaft_watts):
    """The smaller of the two nozzles that give a wished shaft power, for it uses less water.

    Parameters
    ----------
    drive : PipedJet
        Drop, pipe and runner.
    shaft_watts : float
        Shaft power wished for, at the best speed [W].

    Returns
    -------
    float
        Bore of one nozzle [mm].

    Raises
    ------
    BadInput
        When no nozzle that the runner can use gives so much, or all give more.

    Notes
    -----
    Equation: η ρ g Q (H − h(Q)) = P, the root below the flow of most power.
    Valid: as `PipedJet`.
    Source: see `PipedJet`.
    """
    from scipy.optimize import brentq

    wish = require_number(shaft_watts, "wished shaft power", "W", above=0)
    best, least = _best_flow_l_s(drive), _end_flows_l_s(drive)[0]
    most_watts, least_watts = _shaft_watts(drive, best), _shaft_watts(drive, least)
    if not least_watts <= wish <= most_watts:
        bore, watts, word = (
            (_at_flow(drive, best).jet_mm, floor(10.0 * most_watts) / 10.0, "at most")
            if wish > most_watts
            else (usable_nozzles_mm(drive)[0], least_watts, "at least")
        )
        raise BadInput(
            f"{wish:.4g} W was given",
            f"drop, pipe and runner give {word} {watts:.1f} W, with a nozzle of {say(bore, 'mm', form='.1f')}",
            "wish for less, or lay a wider pipe" if wish > most_watts else "wish for more, or use a smaller runner",
            where="wished shaft power",
        )
    flow = brentq(lambda trial: _shaft_watts(drive, trial) - wish, least, best, xtol=1e-12 * best)
    return _at_flow(drive, flow).jet_mm


def _shaft_watts(drive, flow_l_s):
    return drive.efficiency * water_watts(flow_l_s, drive.gross_head_m - drive.pipe.loss_m(flow_l_s))


def _end_flows_l_s(drive):
    return nozzle_sweep(drive, usable_nozzles_mm(drive)).flow_l_s


def _best_flow_l_s(drive):
    from scipy.optimize import minimize_scalar

    least, most = _end_flows_l_s(drive)
    precise = {"xatol": 1e-9 * min(most, open_flow_l_s(drive.pipe, drive.gross_head_m))}
    found = minimize_scalar(lambda flow: -_shaft_watts(drive, flow), bounds=(least, most), options=precise).x
    # The search never reaches its ends, where a short pipe has its best.
    return float(max((least, found, most), key=lambda flow: _shaft_watts(drive, flow)))


def _at_flow(drive, flow_l_s):
    return replace(drive, nozzle_mm=None, flow_l_s=flow_l_s)
