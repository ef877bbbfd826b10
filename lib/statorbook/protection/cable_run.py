"""The cable between machine and bank: what it carries, what is lost in it, and the smallest size that will do."""

from dataclasses import dataclass, replace
from math import isinf

import numpy as np

from statorbook.cable import (
    CONTINUOUS,
    FINE,
    IN_CONDUIT,
    INSULATIONS,
    PVC,
    STRANDS,
    WARM_C,
    WAYS_LAID,
    cable_ohm,
    carried_amps,
    size_name,
    sold_mm2,
)
from statorbook.errors import BadInput
from statorbook.operation import operating_points, points_from, settled, sweep
from statorbook.quantities import Fact, require_number, say

AT_MACHINE, AT_BANK = "at the machine", "at the bank"
ENDS = (AT_MACHINE, AT_BANK)
MOST_OHM = 10.0  # of a run: beyond it no charging is left
WISHED_DROP = Fact(
    value=3.0, unit="% of the volts that arrive", source="common practice, no source", low=1.0, high=10.0
)
_FIGURES = 3  # of the ohms: more are never worth it
_FLOWS = ("cable_watts", "bank_watts", "dc_amps")
_EACH_WAY = np.linspace(-1.0, 1.0, 36)
_ROUND = 1.0 + 0.5 * _EACH_WAY * np.abs(_EACH_WAY)  # times a speed, closer together near it


@dataclass(frozen=True, kw_only=True)
class CableRun:
    """The cable between machine and bank.

    Parameters
    ----------
    length_m : float
        One way [m].
    area_mm2 : float
        Cross-section of each wire [mm²].
    rectifier_at : str
        "at the machine", so that the run is DC, or "at the bank", so that it is three wires of AC.
    laid : str
        "in conduit or trunking", "clipped to a wall, in free air" or "in a duct in the ground".
    insulation : str
        "PVC" or "XLPE".
    strands : str
        "fine, bends easily" or "coarse or solid".
    most_drop_percent : float
        Wished: no more than so much of the volts that arrive may be lost in it [%].

    Raises
    ------
    BadInput
        When a number is out of range, a word is unknown, or the run has more than 10 Ω.
    """

    length_m: float = 10.0
    area_mm2: float = 16.0
    rectifier_at: str = AT_MACHINE
    laid: str = IN_CONDUIT
    insulation: str = PVC
    strands: str = FINE
    most_drop_percent: float = WISHED_DROP.value

    def __post_init__(self):
        for value, name, unit, most in (
            (self.length_m, "length of the cable, one way", "m", 5000),
            (self.area_mm2, "cross-section of each wire", "mm²", 1000),
            (self.most_drop_percent, "wished drop", "%", 50),
        ):
            require_number(value, name, unit, above=0, at_most=most, next_step=f"type the {name} again")
        for name, allowed in (
            ("rectifier_at", ENDS),
            ("laid", WAYS_LAID),
            ("insulation", INSULATIONS),
            ("strands", STRANDS),
        ):
            if getattr(self, name) not in allowed:
                given = f"{getattr(self, name)!r} was given"
                raise BadInput(given, f"allowed are {', '.join(allowed)}", "choose one of them", where="cable run")
        self._require_few_ohms()

    def _require_few_ohms(self):
        if self.run_ohm > MOST_OHM:
            length, size = say(self.length_m, "m", form=".4g"), size_name(self.area_mm2)
            raise BadInput(
                f"{length} of {size} has {self.run_ohm:.0f} Ω",
                f"a run of up to {MOST_OHM:g} Ω is allowed",
                "type a thicker wire, or check the length",
                where="cable run",
            )

    @property
    def is_dc(self):
        """True when the rectifier stands at the machine, so that the run carries DC."""
        return self.rectifier_at == AT_MACHINE

    @property
    def wires(self):
        """How many wires it has [-]."""
        return 2 if self.is_dc else 3

    @property
    def run_ohm(self):
        """Of the whole loop of a DC run, or of one wire of an AC run, copper at 70 °C, three figures [Ω]."""
        return self.ohm_of(self.area_mm2)

    def ohm_of(self, area_mm2):
        """The same with another size.

        Parameters
        ----------
        area_mm2 : float
            Cross-section of each wire [mm²].

        Returns
        -------
        float
            Ohms of the loop, or of one wire of an AC run [Ω].

        Notes
        -----
        Equation: as `cable.cable_ohm`, three figures.
        Valid: copper at 70 °C.
        Source: as `cable.cable_ohm`.
        """
        in_series = 2 if self.is_dc else 1
        ohm = cable_ohm(self.length_m, area_mm2, wires=in_series, copper_c=WARM_C, strands=self.strands)
        return float(f"{ohm:.{_FIGURES}g}")

    @property
    def ohms(self):
        """The two fields of `Conditions` that it makes, by name, a dict of str to float [Ω]."""
        dc, ac = (self.run_ohm, 0.0) if self.is_dc else (0.0, self.run_ohm)
        return {"cable_ohm": dc, "ac_cable_ohm": ac}

    def in_sizes_sold(self):
        """The same run in each size that the reader can buy, rising, but for those too thin for its length."""
        return tuple(replace(self, area_mm2=area) for area in sold_mm2() if self.ohm_of(area) <= MOST_OHM)

    def carries_amps(self, around_c):
        """What each of its wires carries for hours.

        Parameters
        ----------
        around_c : float
            Hottest air, or ground, round it [°C].

        Returns
        -------
        float
            DC amps, or rms amps of an AC run [A].

        Notes
        -----
        Equation: as `cable.carried_amps`.
        Valid: one cable by itself.
        Source: as `cable.carried_amps`.
        """
        return carried_amps(
            self.area_mm2, laid=self.laid, insulation=self.insulation, wires=self.wires, around_c=around_c
        )


@dataclass(frozen=True, kw_only=True)
class CableSize:
    """A run with one size of cable, at the working point of the half-full bank."""

    run: CableRun
    carries_amps: float  # each wire, for hours
    carries: bool  # all that can flow, with a quarter on top
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

    amps: float  # the most that each wire can have to carry: DC, or rms of an AC run
    asked_amps: float  # the same with a quarter on top
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
    Equation: carries 1.25 × the most amps, bank empty, machine cold and run away, cable short; drop = watts lost
        in the cable over the watts that come out of it, each size at the speed where it settles; ohms at 70 °C.
    Valid: half-full bank, the one setting of the drive; no lugs and joints; an AC run without its inductance, which is
        small beside that of the machine.
    Source: NEC 210.20(A) (read); Kirchhoff's laws.
    """
    runs = (plant.run, *plant.run.in_sizes_sold())
    amps = plant.most.dc_amps if plant.run.is_dc else plant.most.lead_amps_rms
    around_c = plant.site.hottest_c
    found = settled_behind(plant, runs)
    own, *sold = (_size(run, CONTINUOUS * amps, around_c, *flows) for run, flows in zip(runs, found, strict=True))
    return CableNeeds(amps=amps, asked_amps=CONTINUOUS * amps, around_c=around_c, own=own, sold=tuple(sold))


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
    if first.speed_rpm > 0.0 and not isinf(drive.torque_nm(0.0)):
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
