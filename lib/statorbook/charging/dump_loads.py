"""Dump loads on the bank: what they have to be, whether they are it, and the volts relay that guards them."""

from dataclasses import dataclass

from statorbook.charging.control import OUTPUTS
from statorbook.charging.heater_elements import AIR, HOT_OVER_COLD, preferred_ohm
from statorbook.charging.plan import DumpElement, VoltsRelay
from statorbook.charging.set_points import REFERENCE_C, volts_at
from statorbook.protection import WATTS_SPARE, dump_watts, stops_by_itself
from statorbook.quantities import Fact, rounded_down, rounded_up, say

OHMS_OFF = Fact(
    value=1.1,
    unit="amps asked of one element over the most of the source",
    source="ohms of heating elements are up to a tenth off, common practice, no source",
    low=1.05,
    high=1.2,
)
GUARD_SPARE_K = 10.0  # how much warmer than typed the cells may get, common practice, no source


@dataclass(frozen=True, kw_only=True)
class DumpNeeds:
    """What the dump loads of a plant have to be."""

    source_amps: float  # the most that the source can drive into the bank
    held_volts: float  # at which they have to take them
    top_volts: float  # the highest that the bank may ever show
    watts: float  # that they have to stand together for hours, half as much again as the source gives
    amps: float  # that they have to take together at `held_volts`, likewise

    @property
    def ohm(self):
        """The most that all together may have, hot [Ω]."""
        return self.held_volts / self.amps

    @property
    def alone_ohm(self):
        """The most with which one by itself takes all that the source gives, a tenth to spare [Ω]."""
        return self.held_volts / (OHMS_OFF.value * self.source_amps)


@dataclass(frozen=True, kw_only=True)
class JudgedDumps:
    """Dump loads against what is needed."""

    needs: DumpNeeds
    dumps: tuple[DumpElement, ...]
    faults: tuple[str, ...]  # each a clause that says what does not do
    amps: float  # of all at the volts to hold
    left_amps: float  # the same with the strongest one dead

    @property
    def share(self):
        """Amps of all over the most of the source [-]."""
        return self.amps / self.needs.source_amps

    @property
    def wire_amps(self):
        """What wires and fuse of each have to carry, half as much again as it takes at the highest volts [A]."""
        return tuple(WATTS_SPARE.value * self.needs.top_volts / dump.ohm for dump in self.dumps)

    @property
    def one_may_die(self):
        """Whether the others still take all that the source gives when the strongest is dead."""
        return self.left_amps >= self.needs.source_amps


def dump_needs(plant, points):
    """What they have to be, by 1.5 times the most amps of the source: NEC 690.72(B), for wind 694.75 (from memory)."""
    # The source at its strongest, its own guard failed, magnets cold; heaters behind the inverter are not counted.
    watts = dump_watts(plant)
    return DumpNeeds(
        source_amps=plant.most.dc_amps,
        held_volts=points.absorption_volts,
        top_volts=max(points.most_volts, plant.bank.highest_volts),
        watts=watts,
        amps=watts / plant.bank.highest_volts,
    )


def usual_dumps(plant, points):
    """Dump loads that fit a plant.

    Parameters
    ----------
    plant : Plant
        The plant.
    points : SetPoints
        Set-points of its bank.

    Returns
    -------
    tuple of DumpElement
        Two, each of which takes all that the source gives, so that one may be dead; a single one where the source
        stops by itself, as a rider does.

    Notes
    -----
    Equation: as `dump_needs`; each a tenth stronger than the source, since ohms are up to a tenth off; rounded down to
        IEC 60063, E24.
    Valid: as `dump_needs`.
    Source: as `dump_needs`; the tenth is common practice, no source.
    Derivation: `charging.dump_ohms`.
    """
    needs = dump_needs(plant, points)
    alone = stops_by_itself(plant.drive)
    ohm = preferred_ohm(needs.ohm if alone else needs.alone_ohm)
    names = [output.name for output in OUTPUTS.values() if output.kind == "dump"][: 1 if alone else 2]
    watts = rounded_up(needs.top_volts**2 / ohm)
    cold_ohm = ohm / HOT_OVER_COLD[AIR].value
    return tuple(DumpElement(output=name, ohm=ohm, cold_ohm=cold_ohm, standing_watts=watts) for name in names)


def judged_dumps(plant, points, dumps):
    """Hold dump loads against what their plant needs.

    Parameters
    ----------
    plant : Plant
        The plant.
    points : SetPoints
        Set-points of its bank.
    dumps : tuple of DumpElement
        The loads.

    Returns
    -------
    JudgedDumps
        With every fault in words.

    Notes
    -----
    Equation: amps = V Σ 1/R at the absorption volts; each takes V² / R at the highest volts.
    Valid: as `dump_needs`; ohms hot.
    Source: Ohm's law; as `dump_needs`.
    Derivation: `charging.dump_ohms`.
    """
    needs = dump_needs(plant, points)
    each = [needs.held_volts / dump.ohm for dump in dumps]
    amps = sum(each)
    faults = []
    if amps < needs.amps:
        faults.append(
            f"together they take {say(rounded_down(amps), 'A')} at {say(needs.held_volts, 'V', form='.1f')}, and "
            f"{say(rounded_up(needs.amps), 'A')} are asked for"
        )
    faults += [
        f"the {OUTPUTS[dump.output].words} takes {say(rounded_up(needs.top_volts**2 / dump.ohm), 'W')} at "
        f"{say(needs.top_volts, 'V', form='.1f')} and stands {say(dump.standing_watts, 'W')}"
        for dump in dumps
        if needs.top_volts**2 / dump.ohm > dump.standing_watts * (1.0 + 1e-9)
    ]
    left = amps - max(each, default=0.0)
    return JudgedDumps(needs=needs, dumps=tuple(dumps), faults=tuple(faults), amps=amps, left_amps=left)


def usual_guard(points, *, cell_c=None):
    """A volts relay of its own that acts between what the controller does and what the bank stands.

    Parameters
    ----------
    points : SetPoints
        Set-points of the bank.
    cell_c : float or None
        Temperature of its cells; the warmest at which it is charged when None [°C].

    Returns
    -------
    VoltsRelay
        Its four volts. It knows no temperature, so that it is set for cells of that one and up to `GUARD_SPARE_K` more.

    Notes
    -----
    Equation: half-way between the high alarm and the most volts of the warmer bank; half-way between cut-off and the
        least volts.
    Valid: set-points that do not cross.
    Source: common practice, no source.
    """
    warmest_c = points.most_charging_c if cell_c is None else min(cell_c + GUARD_SPARE_K, points.most_charging_c)
    coolest_c = REFERENCE_C if cell_c is None else cell_c
    warmest = volts_at(points.most_volts, points, max(warmest_c, coolest_c))
    alarm, charged = (volts_at(v, points, coolest_c) for v in (points.alarm_high_volts, points.absorption_volts))
    # A band so narrow that heat closes it: below the most volts goes before above the alarm.
    above = alarm if alarm < warmest else charged
    return VoltsRelay(
        high_on_volts=round(min(0.5 * (above + warmest), warmest), 2),
        high_off_volts=round(volts_at(points.float_volts, points, coolest_c), 2),
        low_off_volts=round(0.5 * (points.cut_off_volts + points.least_volts), 2),
        low_on_volts=round(points.return_volts, 2),
    )
