"""Every legal grouping of one stator, side by side, with a verdict in words; nothing is hidden."""

from dataclasses import dataclass, replace

import numpy as np

from statorbook.conductors import wire_area_mm2
from statorbook.errors import BadInput, require_count, require_number
from statorbook.grouping import Winding
from statorbook.hazards import Hazard, grade, open_circuit_volts
from statorbook.operating_point import OperatingPoint, operating_points, points_from
from statorbook.sweep import Conditions, cut_in_rpm
from statorbook.third_harmonic import circulating
from statorbook.verdict import choose, describe, fault_of


@dataclass(frozen=True, kw_only=True)
class Setting:
    """What the comparison is made for.

    Parameters
    ----------
    conditions : Conditions
        At work: warm winding and magnets, drag, rectifier, cable.
    cold_c : float
        Lowest temperature of the machine, for the worst-case volts [°C].
    wire_diameter_mm : float or None
        Bare diameter of the coil wire, None when not measured [mm].
    wires_in_hand : int
        Wires side by side in a coil [-].
    device_max_volts : float or None
        Highest DC input of the inverter or controller, None when not known [V].
    open_corner_v_per_rpm : float or None
        Volts across an open delta corner with one coil in series, rms, None when not measured [V/rpm].

    Raises
    ------
    BadInput
        When a number is out of range.
    """

    conditions: Conditions = Conditions()
    cold_c: float = 0.0
    wire_diameter_mm: float | None = None
    wires_in_hand: int = 1
    device_max_volts: float | None = None
    open_corner_v_per_rpm: float | None = None

    def __post_init__(self):
        require_number(self.cold_c, "coldest magnets", "°C", at_least=-60, at_most=100)
        require_count(self.wires_in_hand, "wires in hand", 1, 50, "count the strands at a coil's end again")
        if self.wire_diameter_mm is not None:
            require_number(self.wire_diameter_mm, "wire diameter", "mm", above=0, at_most=10)
        if self.device_max_volts is not None:
            require_number(self.device_max_volts, "DC limit of the device", "V", above=0)
        if self.open_corner_v_per_rpm is not None:
            require_number(self.open_corner_v_per_rpm, "open-corner volts of one coil", "V/rpm", at_least=0)


@dataclass(frozen=True, kw_only=True)
class Row:
    """One grouping in the comparison.

    Parameters
    ----------
    winding : Winding
        The stator with this grouping.
    cut_in_rpm : float
        Speed at which charging starts, bank half full [rpm].
    points : tuple of OperatingPoint
        Bank empty, half full and charging, machine warm.
    cold_point : OperatingPoint
        Bank half full, machine cold.
    coil_amps_rms : float
        Current in one coil, bank half full, rms; in a delta with the third harmonic, when measured [A].
    amps_per_mm2 : float
        The same over the wire's area; not a number when the wire was not measured [A/mm²].
    circulating_watts : float
        Most that a third harmonic can lose inside the delta at that speed; not a number when not measured [W].
    working : Hazard
        Open-circuit volts at the working speed, cold magnets.
    runaway : Hazard
        Open-circuit volts at the runaway speed, cold magnets.
    verdict : str
        "chosen", "workable" or "rejected".
    reason : str
        Why, in one sentence.
    """

    winding: Winding
    cut_in_rpm: float
    points: tuple
    cold_point: OperatingPoint
    coil_amps_rms: float
    amps_per_mm2: float
    circulating_watts: float
    working: Hazard
    runaway: Hazard
    verdict: str
    reason: str

    @property
    def grouping(self):
        """The grouping of this row, a `Grouping`."""
        return self.winding.grouping

    @property
    def point(self):
        """The middle point: bank half full, machine warm, an `OperatingPoint`."""
        return self.points[1]


@dataclass(frozen=True, kw_only=True)
class Comparison:
    """All rows, best first.

    Parameters
    ----------
    rows : tuple of Row
        Sorted by watts into the half-full bank.
    bank : Bank
        The bank that was asked for.
    drive : object
        The drive that was asked for.
    """

    rows: tuple
    bank: object
    drive: object

    @property
    def chosen(self):
        """The row recommended, or None when every grouping is rejected."""
        return next((row for row in self.rows if row.verdict == "chosen"), None)

    def find(self, grouping):
        """The row of a grouping.

        Parameters
        ----------
        grouping : Grouping
            The grouping wanted.

        Returns
        -------
        Row
            Its row.

        Raises
        ------
        BadInput
            When the stator has no such legal grouping.
        """
        for row in self.rows:
            if row.grouping == grouping:
                return row
        legal = "; ".join(row.grouping.label for row in self.rows)
        raise BadInput(f"{grouping.label} was given", f"legal here are {legal}", "choose one of them", where="grouping")

    @property
    def sentence(self):
        """The recommendation in one sentence, with the price in danger."""
        if self.chosen is None:
            best = self.rows[0]
            nearest = f"{best.grouping.label} comes nearest, but {best.reason}"
            return f"No grouping of this stator suits this bank and drive: {nearest}"
        return describe(self.chosen)


def compare(stator, coil, drive, bank, setting=Setting()):
    """Compare every legal grouping, star and delta.

    Parameters
    ----------
    stator : Stator
        Slots and poles.
    coil : CoilConstants
        What one coil does.
    drive : object
        A drive, see `drives`.
    bank : Bank
        The bank.
    setting : Setting
        Temperatures, drag, rectifier, cable, wire, device limit, open delta corner.

    Returns
    -------
    Comparison
        One row per legal grouping, none left out.

    Notes
    -----
    Equation: see `operating_points`, `hazards.grade`.
    Valid: as the bridge model; a third harmonic inside a delta heats its coils but is not in the amps into the bank.
    Source: energy balance; IEC 60364-4-41 for the hazard.
    """
    windings = [Winding(stator=stator, coil=coil, grouping=g) for g in stator.groupings()]
    cold = replace(setting.conditions, copper_c=setting.cold_c, magnet_c=setting.cold_c)
    cases = [*((state, setting.conditions) for state in bank.states), (bank.states[1], cold)]
    # All groupings in all cases at once: one search of 4 g rows takes little longer than one of g.
    every = [(winding, *case) for winding in windings for case in cases]
    found = iter(points_from(drive, operating_points(drive, *zip(*every, strict=True))))
    rows = []
    for winding in windings:
        *points, at_cold = (next(found) for _ in cases)
        rows.append(_row(winding, drive, bank, setting, points, at_cold))
    rows.sort(key=lambda row: -row.point.bank_watts)
    return Comparison(rows=tuple(choose(rows)), bank=bank, drive=drive)


def _row(winding, drive, bank, setting, points, cold_point):
    delta = winding.grouping.connection == "delta"
    around = _around_delta(winding, setting, points[1].speed_rpm)
    # Coil amps: the lead current flows in one star phase, or shared by two delta phases as 1/√3. The third harmonic has
    # another frequency, so its heat adds.
    coil_amps = points[1].phase_amps_rms / (3.0**0.5 if delta else 1.0) / winding.grouping.parallel
    coil_amps = float(np.hypot(coil_amps, around.coil_amps_rms))
    area = wire_area_mm2(setting.wire_diameter_mm, setting.wires_in_hand) if setting.wire_diameter_mm else float("nan")
    working, runaway = (
        grade(open_circuit_volts(winding, speed, setting.cold_c)[0], device_max_volts=setting.device_max_volts)
        for speed in (points[1].speed_rpm, drive.runaway_speed_rpm)
    )
    row = Row(
        winding=winding,
        cut_in_rpm=cut_in_rpm(winding, bank.states[1], setting.conditions),
        points=tuple(points),
        cold_point=cold_point,
        coil_amps_rms=coil_amps,
        amps_per_mm2=coil_amps / area,
        circulating_watts=float("nan") if delta and setting.open_corner_v_per_rpm is None else float(around.watts),
        working=working,
        runaway=runaway,
        verdict="workable",
        reason="",
    )
    fault = fault_of(row)
    return replace(row, verdict="rejected", reason=fault) if fault else row


def _around_delta(winding, setting, speed_rpm):
    """The third-harmonic current at most, machine warm; none where it was not measured."""
    volts, at_work = setting.open_corner_v_per_rpm or 0.0, setting.conditions
    return circulating(winding, volts, speed_rpm, copper_c=at_work.copper_c, magnet_c=at_work.magnet_c)


def watts_band(stator, coils, drive, bank, setting=Setting()):
    """Least and most watts of every grouping over several sets of coil constants.

    Parameters
    ----------
    stator : Stator
        Slots and poles.
    coils : sequence of CoilConstants
        The corners of what the coils may be.
    drive : object
        A drive.
    bank : Bank
        The bank.
    setting : Setting
        As in `compare`.

    Returns
    -------
    dict
        Grouping to (least, most) watts into the half-full bank [W].

    Notes
    -----
    Equation: extremes over the corners.
    Valid: the watts are monotone enough between the corners for a band.
    Source: interval estimate.
    """
    watts = np.hstack(
        [
            operating_points(
                drive,
                [Winding(stator=stator, coil=coil, grouping=g) for g in stator.groupings()],
                bank.states[1],
                setting.conditions,
            ).bank_watts
            for coil in coils
        ]
    )
    return dict(zip(stator.groupings(), zip(watts.min(axis=1).tolist(), watts.max(axis=1).tolist()), strict=True))
