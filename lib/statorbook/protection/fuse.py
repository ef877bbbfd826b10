"""The fuse in the bank's lead, and the switch beside it: what they have to be, and whether one at hand is it."""

from dataclasses import dataclass, replace
from math import inf

from statorbook.bank import ShortCircuit, short_circuit
from statorbook.cable import CONTINUOUS, SHORT_CIRCUIT_C, adiabatic_constant, cable_ohm, short_circuit_area_mm2
from statorbook.protection.cable_run import AT_MACHINE
from statorbook.protection.fuse_curve import five_second_amps, fuse_sizes, let_through_a2s, opens_within_s
from statorbook.quantities import Fact, require_number

RATED_UP_TO_C = 40.0  # air round a fuse up to which its label holds: IEC 60269-1 (from memory)
LESS_PER_K = Fact(
    value=0.005,
    unit="of a fuse's amps for each K above that",
    source="common practice, no source",
    low=0.003,
    high=0.01,
)
MOST_BROKEN_AMPS = Fact(
    value=100e3,
    unit="A DC",
    source="blade fuses of IEC 60269-2, from memory; most fuses break less",
    low=25e3,
    high=120e3,
)
_LEADS_M = 1.0  # between rectifier and bank where both stand together; only their ohms hang on it
OPENS_SHORT_WITHIN_S = 5.0  # the most for which a wire keeps all heat: IEC 60364-4-43, 434.5.2 (from memory)


@dataclass(frozen=True, kw_only=True)
class Fuse:
    """The fuse in the bank's lead, as its label says.

    Parameters
    ----------
    amps : float
        Rated amps [A].
    dc_volts : float or None
        Rated DC volts; None where the label gives none [V].
    breaking_amps : float or None
        Breaking capacity, DC; None where it is not known [A].
    let_through_a2s : float or None
        I²t of the whole break, of its sheet; the most that gG fuses of its size let through when None [A²s].

    Raises
    ------
    BadInput
        When a number is out of range.
    """

    amps: float
    dc_volts: float | None = None
    breaking_amps: float | None = None
    let_through_a2s: float | None = None

    def __post_init__(self):
        require_number(self.amps, "rated amps of the fuse", "A", above=0, at_most=10_000)
        for value, name, unit in (
            (self.dc_volts, "rated DC volts of the fuse", "V"),
            (self.breaking_amps, "breaking capacity of the fuse", "A"),
            (self.let_through_a2s, "let-through of the fuse", "A²s"),
        ):
            if value is not None:
                require_number(value, name, unit, above=0)


@dataclass(frozen=True, kw_only=True)
class Switch:
    """The switch beside the fuse, as its label says: it takes the bank off while the machine stands.

    Parameters
    ----------
    amps : float
        Rated amps [A].
    dc_volts : float or None
        Rated DC volts; None where the label gives none [V].

    Raises
    ------
    BadInput
        When a number is out of range.
    """

    amps: float
    dc_volts: float | None = None

    def __post_init__(self):
        require_number(self.amps, "rated amps of the switch", "A", above=0, at_most=10_000)
        if self.dc_volts is not None:
            require_number(self.dc_volts, "rated DC volts of the switch", "V", above=0)


@dataclass(frozen=True, kw_only=True)
class ShortCircuits:
    """What short circuits at either end of the cable do until the fuse opens."""

    far_amps: float  # the least that one at the far end drives through it
    opens_far_within_s: float  # how long those flow at the longest
    near_area_mm2: float  # thinnest wire that stands what is let through at one beside the fuse
    far_area_mm2: float  # the same at the far end, or at the slowest that opens it within 5 s where that takes longer

    @property
    def area_mm2(self):
        """Thinnest wire that stands both [mm²]."""
        return max(self.near_area_mm2, self.far_area_mm2)


@dataclass(frozen=True, kw_only=True)
class FuseNeeds:
    """What fuse, switch and the cable behind them have to be."""

    continuous_amps: float  # the most that can flow for hours
    least_amps: float  # rated amps that it needs at least
    cable_amps: (
        float  # what the cable carries, which it must not be above; infinite where short leads only lie behind it
    )
    amps: float | None  # the smallest size sold between the two; None when there is none
    next_amps: float | None  # the smallest size sold whatever the cable; None when none is made that large
    cable_mm2: float  # what must at least lie behind that size; infinite beyond the cables that are sold
    bank_amps: ShortCircuit  # what the bank drives through a spanner
    dc_volts: float  # the most that stands across it once it is open; the switch needs them too
    breaking_amps: float  # what it has to break
    short: ShortCircuits  # with that size

    @property
    def size_amps(self):
        """The size to buy, with the cable that it asks for; None when none is made [A]."""
        return self.amps or self.next_amps

    @property
    def switch_amps(self):
        """Rated amps of the switch: those of the fuse, so that the fuse opens first [A]."""
        return self.size_amps or self.least_amps


def fuse_needs(plant):
    """What the fuse in the bank's lead has to be, with the switch and the cable behind it.

    Parameters
    ----------
    plant : Plant
        The plant.

    Returns
    -------
    FuseNeeds
        Sizes in the row that the reader can buy: IEC, or NEC for US units.

    Notes
    -----
    Equation: 1.25 × the most amps, over what the hottest air leaves of the label, ≤ rated amps ≤ what the cable
        carries; volts across the open fuse are the bank's, or those of the machine run away, cold and without its
        guard, less an empty bank's; breaking capacity at least the bank's most short-circuit amps; S = √(I² t) / k.
    Valid: one fuse at the bank; the rectifier between fuse and machine, so that the bank cannot drive the AC run.
    Source: NEC 210.20(A) (read), IEC 60364-4-43, 433.1 (from memory), IEC 60364-5-54 (read in a reproduction).
    """
    continuous, run = plant.most.dc_amps, plant.run
    least = CONTINUOUS * continuous / label_share(plant.site.hottest_c)
    carries = run.carries_amps(plant.site.hottest_c) if run.is_dc else inf
    next_amps = next((size for size in fuse_sizes() if size >= least), None)
    amps = next_amps if next_amps and next_amps <= carries else None
    shorted = short_circuit(plant.bank)
    return FuseNeeds(
        continuous_amps=continuous,
        least_amps=least,
        cable_amps=carries,
        amps=amps,
        next_amps=next_amps,
        cable_mm2=_cable_for_mm2(plant, next_amps),
        bank_amps=shorted,
        dc_volts=open_fuse_volts(plant),
        breaking_amps=shorted.most_amps,
        short=short_circuits(plant, Fuse(amps=next_amps or least)),
    )


def label_share(air_c):
    """What hot air leaves of the amps on a fuse's label [-]."""
    return 1.0 - LESS_PER_K.value * max(0.0, air_c - RATED_UP_TO_C)


def open_fuse_volts(plant):
    """The most DC volts that can stand across the open fuse or switch: the bank's, or the running machine's [V]."""
    runaway = plant.open_volts(plant.runaway_rpm)[1]
    return max(plant.bank.highest_volts, runaway - plant.bank.lowest_volts)


def short_circuits(plant, fuse):
    """What short circuits at either end of the plant's cable do until a fuse opens, a `ShortCircuits`."""
    run, (start_c, end_c) = plant.run, SHORT_CIRCUIT_C[plant.run.insulation]
    constant, outside_ohm = adiabatic_constant(start_c, end_c), 0.0
    if run.is_dc:
        # The wire heats up while it flows, so its ohms are those half-way.
        outside_ohm = cable_ohm(run.length_m, run.area_mm2, copper_c=0.5 * (start_c + end_c), strands=run.strands)
    far = short_circuit(plant.bank, outside_ohm=outside_ohm).least_amps
    # Beyond 5 s heat leaves the wire; there it has to stand the slowest current for which it keeps all of it.
    fast = max(far, five_second_amps(fuse.amps))
    fast_s = opens_within_s(fuse.amps, fast)
    return ShortCircuits(
        far_amps=far,
        opens_far_within_s=opens_within_s(fuse.amps, far),
        near_area_mm2=short_circuit_area_mm2(lets_through_a2s(fuse) ** 0.5, 1.0, constant),
        far_area_mm2=short_circuit_area_mm2(fast, fast_s, constant),
    )


def lets_through_a2s(fuse):
    """I²t of a fuse's break: of its sheet, else the most of gG fuses of its size [A²s]."""
    return fuse.let_through_a2s or let_through_a2s(fuse.amps)


def _cable_for_mm2(plant, amps):
    """The thinnest cable sold that carries a fuse's amps, laid as the run is; infinite beyond them."""
    run = plant.run if plant.run.is_dc else replace(plant.run, rectifier_at=AT_MACHINE, length_m=_LEADS_M)
    sold, around_c = run.in_sizes_sold(), plant.site.hottest_c
    return next((run.area_mm2 for run in sold if amps and run.carries_amps(around_c) >= amps), inf)
