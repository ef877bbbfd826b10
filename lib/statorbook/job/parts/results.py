"""The parts of a job that are worked out: what one coil does, the grouping chosen, and how it will be wired."""

from typing import ClassVar, Literal

from statorbook.job.parts.base import DatedPart
from statorbook.job.parts.fields import labelled
from statorbook.quantities import Estimate
from statorbook.winding import CoilConstants, Grouping


class CoilPart(DatedPart):
    """What one coil does at 20 °C, each constant with its 95 % ± and where it came from."""

    part_title: ClassVar[str] = "coil constants"
    emf_v_per_rpm: float = labelled("EMF of one coil, rms", "V/rpm", "Rms volts of one coil for each rpm.", gt=0, le=10)
    emf_plus_minus_v_per_rpm: float = labelled("EMF ±, 95 %", "V/rpm", "Half-width of its 95 % band.", ge=0, le=10)
    emf_how: str = labelled("EMF from", "", "Where the EMF came from.", default="", max_length=300)
    emf_assumed: bool = labelled("EMF assumed", "", "True when nothing was measured.", default=False)
    ohm: float = labelled("Resistance of one coil", "Ω", "Ohms of one coil at {20 °C}.", gt=0, le=1000)
    ohm_plus_minus: float = labelled("Resistance ±, 95 %", "Ω", "Half-width of its 95 % band.", ge=0, le=1000)
    ohm_how: str = labelled("Resistance from", "", "Where the ohms came from.", default="", max_length=300)
    ohm_assumed: bool = labelled("Resistance assumed", "", "True when nothing was measured.", default=False)
    henry: float = labelled("Inductance of one coil", "H", "Synchronous inductance, mutual included.", ge=0, le=10)
    henry_plus_minus: float = labelled("Inductance ±, 95 %", "H", "Half-width of its 95 % band.", ge=0, le=10)
    henry_by_emf: float = labelled(
        "Inductance, moved by the EMF",
        "H",
        "How far it moves when the EMF is at its upper end.",
        default=0.0,
        ge=-10,
        le=10,
    )
    henry_by_ohm: float = labelled(
        "Inductance, moved by the resistance",
        "H",
        "How far it moves when the resistance is at its upper end.",
        default=0.0,
        ge=-10,
        le=10,
    )
    henry_how: str = labelled("Inductance from", "", "Where the inductance came from.", default="", max_length=300)
    henry_assumed: bool = labelled("Inductance assumed", "", "True when nothing was measured.", default=False)
    for_slots: int | None = labelled(
        "For slots", "count", "Slots that these were worked out for.", default=None, ge=3, le=144
    )
    for_poles: int | None = labelled(
        "For poles", "count", "Magnet poles that these were worked out for.", default=None, ge=2, le=144
    )
    for_parallel: int | None = labelled(
        "For parallel paths", "count", "Paths that these were worked out for.", default=None, ge=1, le=48
    )
    for_connection: str = labelled(
        "For connection", "", "Connection that these were worked out for.", default="", max_length=20
    )
    for_conductor: str = labelled(
        "For conductor", "", "Conductor that these were worked out for.", default="", max_length=20
    )
    for_magnet: str = labelled("For magnets", "", "Magnets that these were worked out for.", default="", max_length=20)

    @property
    def emf(self):
        """EMF of one coil, rms per rpm, as an `Estimate` [V/rpm]."""
        return Estimate(
            value=self.emf_v_per_rpm,
            plus_minus=self.emf_plus_minus_v_per_rpm,
            unit="V/rpm",
            how=self.emf_how,
            assumed=self.emf_assumed,
        )

    @property
    def resistance(self):
        """Ohms of one coil at 20 °C, as an `Estimate` [Ω]."""
        return Estimate(
            value=self.ohm, plus_minus=self.ohm_plus_minus, unit="Ω", how=self.ohm_how, assumed=self.ohm_assumed
        )

    @property
    def inductance(self):
        """Synchronous inductance of one coil, as an `Estimate` [H]."""
        moved = {"emf": self.henry_by_emf, "ohm": self.henry_by_ohm}
        return Estimate(
            value=self.henry,
            plus_minus=self.henry_plus_minus,
            unit="H",
            how=self.henry_how,
            assumed=self.henry_assumed,
            moved_by={name: by for name, by in moved.items() if by},
        )

    def to_coil(self, stator_part):
        """The coil's best values, for the physics.

        Parameters
        ----------
        stator_part : StatorPart
            Says what wire and magnets are made of.

        Returns
        -------
        CoilConstants
            One coil at 20 °C.
        """
        return CoilConstants(
            emf_v_per_rpm=self.emf_v_per_rpm,
            ohm=self.ohm,
            henry=self.henry,
            conductor=stator_part.conductor,
            magnet=stator_part.magnet,
        )

    def changes(self, stator_part):
        """What the stator facts said when these constants were worked out, and say now, where the two differ.

        Parameters
        ----------
        stator_part : StatorPart
            The stator facts as they stand.

        Returns
        -------
        tuple of str and str
            Then and now, in words; both empty when nothing changed, or when an older job kept no facts to compare.
        """
        now = facts_worked_out_for(stator_part)
        then = {name: getattr(self, name) for name in now}
        pairs = [(said(then), said(now)) for said in (_counts, _wiring, _metals)]
        changed = [pair for pair in pairs if all(pair) and pair[0] != pair[1]]
        return tuple(", ".join(pair[side] for pair in changed) for side in (0, 1))


class ChoicePart(DatedPart):
    """The grouping chosen and what it was promised to do."""

    part_title: ClassVar[str] = "chosen grouping"
    series: int = labelled("Coils in series", "count", "In each path.", ge=1, le=48, next_step="choose from the list")
    parallel: int = labelled("Parallel paths", "count", "In each phase.", ge=1, le=48, next_step="choose from the list")
    connection: Literal["star", "delta"] = labelled("Connection", "", "How the three phases are joined.")
    speed_rpm: float = labelled("Speed found", "rpm", "Where drive and generator agree.", ge=0, le=20_000)
    dc_amps: float = labelled("Current into the bank, DC", "A", "Mean DC amps at that speed.", ge=0, le=10_000)
    dc_watts: float = labelled("Power into the bank, DC", "W", "Mean DC watts at that speed.", ge=0, le=1_000_000)
    bank_volts: float = labelled("Bank volts, DC", "V", "For which this was worked out.", gt=0, le=1000)
    runaway_line_volts_rms: float = labelled(
        "Runaway line volts, AC rms", "V", "Open leads, runaway speed, cold magnets.", ge=0, le=20_000
    )
    runaway_dc_volts_peak: float = labelled(
        "Runaway volts after the bridge, DC peak", "V", "With the bank gone.", ge=0, le=30_000
    )
    unguarded_dc_volts_peak: float | None = labelled(
        "The same when the drive's guard fails, DC peak",
        "V",
        "Empty in jobs from before this was worked out.",
        default=None,
        ge=0,
        le=30_000,
    )
    year_kwh: float | None = labelled(
        "Energy into the bank over the year",
        "kWh",
        "Empty when it was chosen at one setting of the source.",
        default=None,
        ge=0,
        le=10_000_000,
    )
    year_plus_minus_kwh: float | None = labelled(
        "Energy ±", "kWh", "Constants and what is assumed; empty without a year.", default=None, ge=0, le=10_000_000
    )
    accepted_dc_volts: float | None = labelled(
        "Highest volts accepted with the bank gone, DC peak",
        "V",
        "For which this grouping was chosen.",
        default=None,
        gt=0,
        le=2000,
    )
    guard: str = labelled(
        "Guard needed", "", "What must stand between those volts and device and hand.", default="", max_length=300
    )
    most_dc_amps: float | None = labelled(
        "Most amps into the bank, DC",
        "A",
        "What bridge, cable and fuse are sized by: empty bank, cold machine, run away.",
        default=None,
        ge=0,
        le=10_000,
    )
    hazard: str = labelled("Hazard", "", "Grade, and the limit that set it.", max_length=300)
    verdict: str = labelled("Verdict", "", "Why this grouping was chosen.", max_length=1000)
    worked_out_for: str = labelled(
        "Worked out for", "", "Marks of the parts that it was worked out for.", default="", max_length=200
    )

    @property
    def size_words(self):
        """What parts are sized by, as words after a comma; empty in older jobs."""
        return "" if self.most_dc_amps is None else f", parts sized for {self.most_dc_amps:.1f} A DC at most"

    def to_grouping(self):
        """The grouping chosen, for the physics; not yet checked against a stator."""
        return Grouping(series=self.series, parallel=self.parallel, connection=self.connection)


class PlanPart(DatedPart):
    """How the coils will be rewired, and what the meter checks of that work are worked out for."""

    part_title: ClassVar[str] = "plan of cuts and joins"
    layout: Literal["neighbours", "spread"] = labelled(
        "Layout of the paths", "", "neighbours: fewest cuts; spread: each path round the whole ring."
    )
    copper_c: float = labelled(
        "Winding temperature at the bench",
        "°C",
        "Of the copper, when the ohms are read.",
        ge=-20,
        le=60,
        next_step="read a thermometer that lay beside the stator",
    )
    hand_rpm: float = labelled(
        "Hand-turned speed",
        "rpm",
        "Steady speed at which volts are read.",
        ge=5,
        le=600,
        next_step="count turns against a watch",
    )
    planned_for: str = labelled(
        "Planned for", "", "Marks of the winding as found and the grouping wanted.", default="", max_length=200
    )


def facts_worked_out_for(stator_part):
    """The stator facts that coil constants hang on, under the names that a `CoilPart` keeps them by.

    Parameters
    ----------
    stator_part : StatorPart
        The stator facts.

    Returns
    -------
    dict of str to object
        Counts, wiring as found, conductor and magnets.
    """
    return {
        "for_slots": stator_part.slots,
        "for_poles": stator_part.poles,
        "for_parallel": stator_part.found_parallel,
        "for_connection": stator_part.found_connection,
        "for_conductor": stator_part.conductor,
        "for_magnet": stator_part.magnet,
    }


def _counts(facts):
    slots, poles = facts["for_slots"], facts["for_poles"]
    return f"{slots} slots with {poles} poles" if slots and poles else ""


def _wiring(facts):
    slots, parallel, connection = (facts[f"for_{name}"] for name in ("slots", "parallel", "connection"))
    if not (slots and parallel and connection):
        return ""
    series = max(1, slots // 3 // parallel)
    return Grouping(series=series, parallel=parallel, connection=connection).label


def _metals(facts):
    conductor, magnet = facts["for_conductor"], facts["for_magnet"]
    return f"{conductor} and {magnet}" if conductor and magnet else ""
