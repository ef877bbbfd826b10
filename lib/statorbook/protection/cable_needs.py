"""What the cable between machine and bank has to be: amps, the loss in each size, and the smallest that will do."""

from dataclasses import dataclass, replace

import numpy as np

from statorbook.cable import CONTINUOUS, size_name
from statorbook.operation import operating_points, points_from, settled, sweep
from statorbook.protection.cable_run import CableRun
from statorbook.protection.fuse import fuse_needs

_FLOWS = ("cable_watts", "bank_watts", "dc_amps")
_EACH_WAY = np.linspace(-1.0, 1.0, 36)
_ROUND = 1.0 + 0.5 * _EACH_WAY * np.abs(_EACH_WAY)  # times a speed, closer together near it


@dataclass(frozen=True, kw_only=True)
class CableSize:
    """A run with one size of cable, at the working point of the half-full bank."""

    run: CableRun
    carries_amps: float  # each wire, for hours
    carries: bool  # what is asked
    drop_percent: float  # of the volts that arrive; 0 while nothing flows
    lost_watts: float  # in all its wires
    bank_watts: float  # what arrives in the bank

    @property
    def keeps_drop(self):
        """True when no more is lost than was wished."""
        return self.drop_percent <= self.run.most_drop_percent

    @property
    def will_do(self):
        """True when it carries what can flow, and keeps the drop."""
        return self.carries and self.keeps_drop

    @property
    def name(self):
        """Its size, as the trade names it."""
        return size_name(self.run.area_mm2)


@dataclass(frozen=True, kw_only=True)
class CableNeeds:
    """What the cable of a plant has to be."""

    amps: float  # the most that can flow in each wire: DC, or rms of an AC run
    asked_amps: float  # what each must carry: the fuse that those ask for; of an AC run a quarter on top
    around_c: float  # hottest air round it
    own: CableSize  # the cable as it is
    sold: tuple  # of CableSize, the sizes that the reader can buy, rising

    @property
    def least_that_carries(self):
        """The smallest size sold that carries what can flow, a `CableSize`; None when none does."""
        return next((size for size in self.sold if size.carries), None)

    @property
    def least_that_will_do(self):
        """The smallest size sold that keeps the drop as well, a `CableSize`; None when none does."""
        return next((size for size in self.sold if size.will_do), None)


def cable_needs(plant):
    """What the cable of a plant has to be: the smallest size that carries, and that keeps the wished drop.

    Parameters
    ----------
    plant : Plant
        The plant; the ohms are those of its run, not those of its conditions.

    Returns
    -------
    CableNeeds
        The cable as it is, and the sizes that the reader can buy, by gauge for US units.

    Notes
    -----
    Equation: carries the fuse for the most amps, or behind the machine, where no fuse helps, 1.25 times them; bank
        empty, machine cold and run away, cable short; drop = watts lost
        in the cable over the watts that come out of it, each size at the speed where it settles; ohms at 70 °C.
    Valid: half-full bank, the one setting of the drive; no lugs and joints; an AC run without its inductance, which is
        small beside that of the machine.
    Source: IEC 60364-4-43, 433.1 (from memory), NEC 210.20(A) (read); Kirchhoff's laws.
    """
    runs, around_c = (plant.run, *plant.run.in_sizes_sold()), plant.site.hottest_c
    amps, asked_amps = plant.most.lead_amps_rms, CONTINUOUS * plant.most.lead_amps_rms
    if plant.run.is_dc:
        fuse = fuse_needs(plant)
        amps, asked_amps = fuse.continuous_amps, fuse.switch_amps
    found = settled_behind(plant, runs)
    own, *sold = (_size(run, asked_amps, around_c, *flows) for run, flows in zip(runs, found, strict=True))
    return CableNeeds(amps=amps, asked_amps=asked_amps, around_c=around_c, own=own, sold=tuple(sold))


def settled_behind(plant, runs):
    """Drop in percent, watts lost and watts into the bank behind each run, where the drive settles on it."""
    found = _flows_behind(plant, [replace(plant.conditions, **run.ohms) for run in runs])
    lost, watts, amps = (found[name] for name in _FLOWS)
    arriving = watts + found.get("converter_watts", 0.0)
    drop = 100.0 * np.divide(lost, arriving, out=np.zeros_like(lost), where=(amps > 0.0) & (arriving > 0.0))
    return list(zip(drop.tolist(), lost.tolist(), watts.tolist(), strict=True))


def _flows_behind(plant, around):
    """The flows behind each cable by name, straight between speeds round the one with the thickest."""
    # One sweep of few speeds: behind many ohms each point is solved exactly, which takes a thousand times as long.
    drive, windings, state = plant.drive, [plant.winding] * len(around), plant.bank.states[1]
    thickest = min(around, key=lambda each: each.cable_ohm + each.ac_cable_ohm)
    first = points_from(drive, operating_points(drive, windings[:1], state, thickest))[0]
    held, names = first.held_dc_volts, _FLOWS
    if held is not None:
        around, names = [each.held_at(held) for each in around], (*_FLOWS, "converter_watts")
    if first.speed_rpm > 0.0:
        speeds = np.unique(np.minimum(first.speed_rpm * _ROUND, drive.free_speed_rpm))
        swept = sweep(windings, speeds, state, around)
        surplus = drive.torque_nm(speeds) - swept.torque_nm
        if (surplus[:, 0] > 0.0).all() and (surplus[:, -1] <= 0.0).all():
            return settled(drive, swept, names=names)
    found = operating_points(drive, windings, state, around)
    return {name: getattr(found, name)[:, 0] for name in names}


def _size(run, asked_amps, around_c, drop_percent, lost_watts, bank_watts):
    carries_amps = run.carries_amps(around_c)
    return CableSize(
        run=run,
        carries_amps=carries_amps,
        carries=carries_amps >= asked_amps,
        drop_percent=drop_percent,
        lost_watts=lost_watts,
        bank_watts=bank_watts,
    )
