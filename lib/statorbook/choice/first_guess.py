"""A first answer from a few numbers, with an honest band, before anything is measured well."""

from dataclasses import dataclass

from statorbook.choice.comparison import Comparison, Setting, compare, watts_band
from statorbook.choice.machine import corners
from statorbook.choice.verdict import gone_words
from statorbook.drives import KnownSpeed
from statorbook.fits import assumed_inductance
from statorbook.operation import Conditions
from statorbook.quantities import Estimate, require_number
from statorbook.winding import Grouping, StarEquivalent, coil_from_star

# One reading each with a cheap meter and an unsteady hand; common practice, no source.
_EMF_SHARE = 0.05
_OHM_SHARE = 0.10
_SHOWN = 3


@dataclass(frozen=True, kw_only=True)
class QuickLook:
    """What a few numbers allow to say."""

    comparison: Comparison  # at the middle of the assumed band
    watts: dict  # grouping to (least, most) watts into the half-full bank [W]
    found_volts_rms: float  # AC, line, of the wiring as found, at the working speed
    conditions: Conditions  # temperatures, drag and diode drop that were assumed

    @property
    def best(self):
        """The few most promising rows, the recommended one first."""
        first = self.comparison.recommended
        return sorted(self.comparison.sound, key=lambda row: (row is not first, -row.point.bank_watts))[:_SHOWN]

    @property
    def sentence(self):
        """The first answer in words, with its band and what was assumed."""
        found = f"As found, the leads make {self.found_volts_rms:.0f} V AC line rms at the working speed."
        if not self.best:
            way_out = "a faster drive or a lower bank would"
            return f"{found} No grouping of this stator charges this bank at that speed; {way_out}."
        row = self.best[0]
        least, most = self.watts[row.grouping]
        return (
            f"{found} A first guess: {row.grouping.label}; {gone_words(row)}; {least:.0f} to {most:.0f} W into the "
            f"half-full bank, parts sized for {row.most.dc_amps:.0f} A at most; "
            "inductance, drag and temperatures are assumed, "
            "and the source is taken to hold the speed whatever it costs, "
            "so measure before you cut."
        )


def quick_look(
    stator,
    bank,
    *,
    line_volts_rms,
    reading_rpm,
    line_ohm,
    working_rpm,
    connection="star",
    parallel=1,
    runaway_ratio=1.8,
):
    """Guess the best few groupings from one reading of volts and one of ohms.

    Parameters
    ----------
    stator : Stator
        Slots and poles.
    bank : Bank
        The bank.
    line_volts_rms : float
        AC between two leads of the wiring as found, nothing connected, rms [V].
    reading_rpm : float
        Speed of that reading [rpm].
    line_ohm : float
        Ohms between two leads [Ω].
    working_rpm : float
        Speed under load that is hoped for [rpm].
    connection : str
        "star" or "delta" as found.
    parallel : int
        Parallel paths as found [-].
    runaway_ratio : float
        Speed without load over working speed [-].

    Returns
    -------
    QuickLook
        The best few groupings, with a band.

    Raises
    ------
    BadInput
        When a number is not above 0 or the wiring as found is not legal.

    Notes
    -----
    Equation: star-equivalent E = V / (√3 n), R = line ohms / 2, L = τ R with an assumed τ.
    Valid: as a first guess only; ±5 % on volts and ±10 % on ohms are assumed.
    Source: regrouping algebra; the shares are common practice, no source.
    """
    for value, name, unit in (
        (line_volts_rms, "volts between two leads", "V AC rms"),
        (reading_rpm, "speed of the reading", "rpm"),
        (line_ohm, "ohms between two leads", "Ω"),
        (working_rpm, "working speed", "rpm"),
    ):
        require_number(value, name, unit, above=0)
    found = Grouping(series=max(1, stator.coils_per_phase // parallel), parallel=parallel, connection=connection)
    emf, ohm = line_volts_rms / 3.0**0.5 / reading_rpm, line_ohm / 2.0
    henry = assumed_inductance(Estimate(value=ohm, plus_minus=0.0, unit="Ω", how="one reading"))
    coil = coil_from_star(stator, found, StarEquivalent(emf_v_per_rpm=emf, ohm=ohm, henry=henry.value))
    bands = (
        _share(coil.emf_v_per_rpm, _EMF_SHARE),
        _share(coil.ohm, _OHM_SHARE),
        _share(coil.henry, henry.plus_minus / henry.value),
    )
    drive, setting = KnownSpeed(working_rpm=working_rpm, runaway_ratio=runaway_ratio), Setting()
    return QuickLook(
        comparison=compare(stator, coil, drive, bank, setting),
        watts=watts_band(stator, corners(*bands), drive, bank, setting),
        found_volts_rms=line_volts_rms / reading_rpm * working_rpm,
        conditions=setting.conditions,
    )


def _share(value, share):
    return Estimate(value=value, plus_minus=share * value, unit="", how="assumed share", assumed=True)
