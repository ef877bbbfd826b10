"""What the rectifier of a plant has to carry, stand and get rid of."""

from dataclasses import dataclass
from functools import lru_cache
from math import pi

from statorbook.bridge import DiodeAmps, diode_amps
from statorbook.operation import winding_waveforms
from statorbook.protection.rectifier_heat import heat_way
from statorbook.protection.rectifier_label import SINGLE, Rectifier
from statorbook.quantities import DIODE_DROP_V, Fact, rounded_up

AMPS_SPARE = Fact(
    value=1.5,
    unit="amps on the label over the most amps",
    source="a label holds for a cooler base than a hot day leaves, common practice, no source",
    low=1.25,
    high=2.0,
)
REVERSE_SPARE = Fact(
    value=1.5,
    unit="reverse volts on the label over the runaway's peak",
    source="the winding kicks when a current is broken, common practice, no source",
    low=1.25,
    high=2.5,
)
# What labels say; common practice, no source.
USUAL_REVERSE_VOLTS = (50, 100, 200, 400, 600, 800, 1000, 1200, 1400, 1600, 1800, 2000)
_POINTS = 721
_LEAST_RPM = 1e-9  # stands for no speed at all


@dataclass(frozen=True, kw_only=True)
class RectifierNeeds:
    """What a rectifier has to carry, stand and get rid of."""

    most: DiodeAmps  # one diode at the most amps of the plant
    working: DiodeAmps  # one diode where the plant settles on the half-full bank
    blocked_volts_peak: float  # line peak of the runaway with cold magnets, bank gone; the bank's volts if more
    watts: float  # loss of all diodes at the most amps
    working_watts: float
    # At most, under a new rectifier, most amps, hottest air; 0 or below when none is enough, infinite when nothing is
    # lost. For one with a label `rectifier_fit` says it.
    heat_sink_k_per_w: float
    drop_v: float  # of one diode
    drop_assumed: bool  # that is the highest usual one, as it was neither typed nor measured

    @property
    def block_amps(self):
        """Least DC amps on the label of a three-phase block [A]."""
        # A label holds for 120° of smooth current, rms √3 times the average; shorter pulses count by their rms.
        return AMPS_SPARE.value * max(self.most.dc_amps, 3.0**0.5 * self.most.amps_rms)

    @property
    def diode_amps(self):
        """Least average amps on the label of a single diode [A]."""
        # There the label holds for half a sinusoid, rms π/2 times the average.
        return AMPS_SPARE.value * max(self.most.mean_amps, 2.0 / pi * self.most.amps_rms)

    def whole_amps(self, kind):
        """Least DC amps of a whole bridge of that kind by its label, as `Rectifier.whole_amps` counts them [A]."""
        return 3.0 * self.diode_amps if kind == SINGLE else self.block_amps

    @property
    def reverse_volts(self):
        """Least repetitive peak reverse volts on the label, against the line peak [V]."""
        return REVERSE_SPARE.value * self.blocked_volts_peak

    @property
    def usual_reverse_volts(self):
        """The next reverse volts that labels usually say, line peak; rounded up to two figures beyond them [V]."""
        beyond = rounded_up(self.reverse_volts)
        return next((usual for usual in USUAL_REVERSE_VOLTS if usual >= self.reverse_volts), beyond)


def rectifier_needs(plant):
    """What the rectifier of a plant must be.

    Parameters
    ----------
    plant : Plant
        The plant; drop, kind and enclosure of its rectifier count where they are known.

    Returns
    -------
    RectifierNeeds
        Sized by the most amps and volts, not by the present setting.

    Notes
    -----
    Equation: amps from the exact waveform; P = 2 V I + 6 r I_rms²; heat sink as `rectifier_heat.HeatWay`.
    Valid: all diodes healthy; heat of other things in the box left out.
    Source: `bridge.bridge_waveforms`; the spares are common practice, no source.
    Derivation: `protection.diode_heat`, `protection.heat_in_a_row`.
    """
    rectifier = plant.rectifier or Rectifier()
    drop, assumed = _drop_of(plant, rectifier)
    at_most, at_work = map(diode_amps, diode_waves(plant))
    watts = at_most.bridge_watts(drop, rectifier.slope_ohm)
    return RectifierNeeds(
        most=at_most,
        working=at_work,
        blocked_volts_peak=max(plant.open_volts(plant.runaway_rpm)[1], plant.bank.charging_volts),
        watts=watts,
        working_watts=at_work.bridge_watts(drop, rectifier.slope_ohm),
        heat_sink_k_per_w=heat_way(rectifier.bare, drop).heat_sink_k_per_w(watts, plant.site.hottest_c),
        drop_v=drop,
        drop_assumed=assumed,
    )


def _drop_of(plant, rectifier):
    """Drop of one diode, and whether it is the highest usual one because nobody typed or measured it."""
    if rectifier.drop_v is not None:
        return rectifier.drop_v, False
    assumed = "diode_drop_v" in plant.machine.assumed_fields
    known = plant.conditions.diode_drop_v
    return (max(known, DIODE_DROP_V.high), True) if assumed else (known, False)


def diode_waves(plant):
    """Waveforms at the leads of a plant's rectifier.

    Parameters
    ----------
    plant : Plant
        The plant.

    Returns
    -------
    tuple of Waveforms
        At the most amps, and at work on the half-full bank.
    """
    worst = (plant.most.speed_rpm, plant.bank.states[0], plant.worst)
    return tuple(_waveforms(plant.winding, *at) for at in (worst, _at_work(plant)))


def _at_work(plant):
    """Speed, state of the bank and conditions where the plant settles, as `winding_waveforms` takes them."""
    at, conditions = plant.working, plant.conditions
    if not at.charges:
        return _LEAST_RPM, plant.bank.states[1], plant.worst  # a converter that holds no volts lets nothing through
    if conditions.converter is not None:
        conditions = conditions.held_at(at.held_dc_volts)
    return at.speed_rpm, plant.bank.states[1], conditions


@lru_cache(maxsize=16)  # a label that is typed changes nothing of them
def _waveforms(winding, speed_rpm, bank_state, conditions):
    return winding_waveforms(winding, speed_rpm, bank_state, conditions, points=_POINTS)
