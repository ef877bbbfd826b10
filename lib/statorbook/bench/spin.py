"""The spin log: volts at a known speed, nothing connected, by a meter or by lamps, behind a bridge or not."""

from dataclasses import dataclass, replace
from math import nan, pi, sqrt

from statorbook.bench.columns import BETWEEN_LEADS, DAY, HZ, LEADS, METER, NOTE, SPEED, VOLTS, WIRING
from statorbook.bench.evidence import Evidence, above_band, half_step, require_meter_volts
from statorbook.bench.log import Column, Log, spelt
from statorbook.bench.meters import LAMP_SHARE, NAME_PLATE_SHARE, READING_SHARE, WAVE_SHARE, Meters
from statorbook.bench.rows import Reading, read_rows
from statorbook.bench.speed import speed_of
from statorbook.errors import BadInput
from statorbook.quantities import METER_DIODE_DROP_V, NORMAL_95, cell_text

NAME_PLATE = "name plate"
_TO_STAR_POINT = {"AN": "AN", "NA": "AN", "BN": "BN", "NB": "BN", "CN": "CN", "NC": "CN"}
_ALL_LEADS = {"ABC": "ABC"}
SPIN_LOG = Log(
    name="spin",
    needed=True,
    by_session=True,
    columns=(
        SPEED,
        HZ,
        replace(VOLTS, limits=(0.001, 2_000)),
        replace(LEADS, words=BETWEEN_LEADS | _TO_STAR_POINT | _ALL_LEADS, at_first="AB"),
        WIRING,
        Column(
            name="quantity",
            label="What was read",
            unit="kind",
            words=spelt("AC line rms", "AC phase rms", "DC bridge, bare", "DC bridge, capacitor"),
            usual=("kind", "what was read", "kind of reading"),
            once=True,
            at_first="AC line rms",
        ),
        METER,
        Column(
            name="speed_by",
            label="Speed known by",
            unit="word",
            words=spelt("measured", NAME_PLATE),
            may_be_missing=True,
            added_later=True,
            once=True,
            at_first="measured",
        ),
        Column(
            name="volts_by",
            label="Volts known by",
            unit="word",
            words=spelt("meter", "lamps"),
            may_be_missing=True,
            added_later=True,
            once=True,
            at_first="meter",
        ),
        DAY,
        NOTE,
    ),
)
_MEAN_PER_LINE_RMS = 3.0 * sqrt(2.0) / pi
# One sigma of two diode drops anywhere within their plausible range.
_TWO_DROPS_SIGMA_V = 2.0 * (METER_DIODE_DROP_V.high - METER_DIODE_DROP_V.low) / sqrt(12.0)


@dataclass(frozen=True, kw_only=True)
class SpinReading(Reading):
    """Volts at a known speed, nothing connected."""

    speed_rpm: float = nan
    terminals: str = ""  # where the meter was: AB, BC, CA, AN, BN, CN, or ABC after the bridge
    star_emf_v_rms: float = nan  # of one phase of the equivalent star
    star_emf_sigma_v: float = nan  # its own and what rows of its evidence share, meter's class left out [V]


def read_spin(rows, stator, *, found_connection=None, meters=Meters()):
    """Every row that holds anything as a `SpinReading`; the wiring is what most rows say when it is None."""

    def numbers_of(row, where):
        return _numbers(row, where, stator, meters)

    return read_rows(SPIN_LOG, SpinReading, rows, numbers_of, found_connection)


def star_emf_v_rms(volts, quantity):
    """Phase EMF of the equivalent star from what the meter showed.

    Parameters
    ----------
    volts : float or ndarray
        Meter reading; rms for the AC kinds, mean or peak for the DC kinds [V].
    quantity : str
        "AC line rms", "AC phase rms", "DC bridge, bare" or "DC bridge, capacitor".

    Returns
    -------
    float or ndarray
        Phase EMF, rms, same shape [V].

    Notes
    -----
    Equation: line rms / √3; after the bridge the line rms is (V + 2 Vd) / (3√2/π) when bare and (V + 2 Vd) / √2 with a
        capacitor.
    Valid: sinusoidal EMF, no load but the meter; Vd assumed at meter current.
    Source: Mohan, Undeland, Robbins, Power Electronics, ch. 5 (from memory).
    """
    if quantity == "AC phase rms":
        return volts
    if quantity == "DC bridge, bare":
        volts = (volts + 2.0 * METER_DIODE_DROP_V.value) / _MEAN_PER_LINE_RMS
    if quantity == "DC bridge, capacitor":
        volts = (volts + 2.0 * METER_DIODE_DROP_V.value) / sqrt(2.0)
    return volts / sqrt(3.0)


def _numbers(row, where, stator, meters):
    speed, known = _speed(row, where, stator)
    volts, quantity = SPIN_LOG.number(row, "volts", where), SPIN_LOG.word(row, "quantity", where)
    terminals = _terminals(row, where, quantity)
    if SPIN_LOG.word(row, "volts_by", where, otherwise="meter") == "lamps":
        known = known.and_(_by_lamps(quantity, where))
    else:
        require_meter_volts(volts.value, speed.value, stator, meters.volts, SPIN_LOG.cell(where, "volts"))
        kind = meters.volts.kind_in(SPIN_LOG.word(row, "meter", where, otherwise="unknown"))
        if quantity.startswith("DC"):
            known = known.and_(_direct(volts.value, meters, where))
        else:
            known = known.and_(_alternating(quantity, stator.electrical_hz(speed.value), kind, meters, where))
        known = known.by(meters.volts.digits_sigma(volts.step) / volts.value)
    known, emf = known.by(half_step(speed)), star_emf_v_rms(volts.value, quantity)
    return dict(
        speed_rpm=speed.value,
        terminals=terminals,
        star_emf_v_rms=emf,
        own_share=known.own_share,
        shared=known.shared,
        star_emf_sigma_v=emf * known.sigma_share,
    ), known.warnings


def _speed(row, where, stator):
    """The speed of a row and how well it is known; a name plate gives way to a meter's Hz."""
    plate = SPIN_LOG.word(row, "speed_by", where, otherwise="measured") == NAME_PLATE
    if plate and cell_text(row.get("electrical_hz")):
        row, plate = row | {"speed_rpm": ""}, False
    speed, warnings = speed_of(SPIN_LOG, row, where, stator)
    if not plate:
        return speed, Evidence(own_share=READING_SHARE.value, warnings=tuple(warnings))
    said = (
        f"{where}: speed from a drill's name plate, so ± {100 * NAME_PLATE_SHARE.value:.2g} % is assumed (common "
        "practice, no source); the meter's Hz on the same leads would count far more."
    )
    shared = {"plate": NAME_PLATE_SHARE.value}
    return speed, Evidence(own_share=READING_SHARE.value, shared=shared, warnings=(said,))


def _terminals(row, where, quantity):
    if quantity.startswith("DC"):
        if cell_text(row.get("terminals")):
            SPIN_LOG.word(row, "terminals", where, words=BETWEEN_LEADS | _ALL_LEADS)
        return "ABC"  # the bridge takes all three leads, whatever pair was typed
    if quantity == "AC line rms":
        hint = f"{quantity} is read between two leads; "
        return SPIN_LOG.word(row, "terminals", where, words=BETWEEN_LEADS, hint=hint)
    if SPIN_LOG.word(row, "connection", where) == "delta":
        raise BadInput(
            "AC phase rms in a delta was given",
            "a delta has no star point, so only AC line rms is allowed",
            "read between two leads",
            where=SPIN_LOG.cell(where, "quantity"),
        )
    hint = f"{quantity} is read from a lead to the star point N; "
    return SPIN_LOG.word(row, "terminals", where, words=_TO_STAR_POINT, hint=hint)


def _alternating(quantity, hz, kind, meters, where):
    """How well alternating volts are known from the meter's class, its band and its kind."""
    shared = {"class": meters.volts.class_share}
    if kind != "true rms":
        shared["wave"] = WAVE_SHARE[quantity].value
    said = ()
    if quantity == "AC phase rms" and meters.star_point == "not reachable":
        said = (
            f"{SPIN_LOG.cell(where, 'quantity')}: the star point was said to be out of reach, so was this not read "
            "between two leads? Correct the row, or what is said of the star point.",
        )
    return Evidence(shared=shared, warnings=said).and_(above_band(hz, kind, meters.volts, where))


def _direct(volts, meters, where):
    """How well DC volts behind a bridge are known: the drop of two diodes is assumed, the same in all such rows."""
    drop = METER_DIODE_DROP_V
    said = (
        f"{where}: DC turned into AC rms with an assumed {drop.value:g} V per diode "
        f"at meter current ({drop.low:g} to {drop.high:g} V is usual)."
    )
    share = NORMAL_95 * _TWO_DROPS_SIGMA_V / (volts + 2.0 * drop.value)
    return Evidence(shared={"class": meters.volts.class_share, "diodes": share}, warnings=(said,))


def _by_lamps(quantity, where):
    """How well volts are known from the glow of lamps."""
    if quantity.startswith("DC"):
        raise BadInput(
            "volts judged by lamps behind a bridge were given",
            "lamps across two leads, or from a lead to the star point, are allowed",
            "choose AC line rms or AC phase rms",
            where=SPIN_LOG.cell(where, "volts_by"),
        )
    said = (
        f"{where}: volts judged by the glow of lamps, so ± {100 * LAMP_SHARE.value:.2g} % is assumed (common "
        "practice, no source); a meter would count far more."
    )
    return Evidence(shared={"lamps": LAMP_SHARE.value}, warnings=(said,))
