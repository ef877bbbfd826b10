"""What was promised at each row of the run, with its ±, beside what was read."""

from dataclasses import dataclass

import numpy as np

from statorbook.bank import BankState
from statorbook.choice import half_width, windings_at_ends
from statorbook.first_run.case import RunCase
from statorbook.first_run.flows import Deviation, amps_table
from statorbook.first_run.misfit import amps_sigma
from statorbook.operation import sweep
from statorbook.quantities import NORMAL_95

_POINTS = 120
_BELOW, _ABOVE = 0.85, 1.06  # of the slowest and of the fastest row, so that the rows do not stand at the edge


@dataclass(frozen=True, kw_only=True)
class Promise:
    """The promise against speed and at each row, and how far the rows are off it."""

    case: RunCase  # the rows drawn, odd ones too
    speed_rpm: np.ndarray  # over which the promise is drawn
    low_amps: np.ndarray  # edges of the promise there, at the mean bank volts of the rows
    high_amps: np.ndarray
    amps: np.ndarray  # promised at each row's own speed, bank volts and winding temperature, as the next two
    promised_half_width_amps: np.ndarray  # its ± from the coil constants, 95 %
    read_half_width_amps: np.ndarray  # ± of what was read, from ammeter and speed, 95 %
    off_share: float  # median of read over promised less one, of the rows that belong; nan without one
    odd_rows: tuple = ()


def promise_of(case, every, odd=()):
    """The promise for a run log.

    Parameters
    ----------
    case : RunCase
        The rows that belong.
    every : RunCase
        All rows, odd ones too.
    odd : sequence of OddRow
        Those that do not belong.

    Returns
    -------
    Promise or None
        None when no row has current into the bank.

    Notes
    -----
    Equation: ± as `choice.half_width` from the ± of the coil constants, at each row as for the band.
    Valid: as `amps_at`; the ± of drag, head and temperatures is not in it.
    Source: as `choice.half_width`.
    """
    if not every.charging:
        return None
    machine, rpm, volts = every.machine, every.readings_of("speed_rpm"), every.readings_of("dc_volts")
    speeds = np.linspace(max(1.0, _BELOW * rpm.min()), _ABOVE * rpm.max(), _POINTS)
    bank = BankState(name="as read", volts=float(np.mean(volts)), ohm=0.0)
    band = sweep(windings_at_ends(machine, every.grouping), speeds, bank, machine.setting.conditions).dc_amps
    width, table = half_width(band), amps_table(every, _deviations_to_ends(machine))
    belongs = np.isin([row.row for row in every.charging], [row.row for row in case.charging])
    share = every.readings_of("dc_amps") / np.maximum(table[0], 1e-9) - 1.0
    return Promise(
        case=every,
        speed_rpm=speeds,
        low_amps=np.maximum(band[0] - width, 0.0),
        high_amps=band[0] + width,
        amps=table[0],
        promised_half_width_amps=half_width(table),
        read_half_width_amps=NORMAL_95 * every.kept("sigma", amps_sigma),
        off_share=float(np.median(share[belongs])) if belongs.any() else float("nan"),
        odd_rows=tuple(odd),
    )


def _deviations_to_ends(machine):
    """The coil's constants at the ends of their bands, as differences from the best ones."""
    best = machine.coil
    return [
        Deviation(
            emf_share=coil.emf_v_per_rpm / best.emf_v_per_rpm,
            ohm_share=coil.ohm / best.ohm,
            henry_share=coil.henry / best.henry if best.henry else 1.0,
        )
        for coil in (best, *machine.ends)
    ]
