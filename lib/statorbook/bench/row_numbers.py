"""One row of a bench log: cells in, numbers and warnings out, or one sentence why not."""

from math import hypot, pi, sqrt

from statorbook.bench.columns import ADDED_WORDS, HEADINGS, number_in
from statorbook.bench.evidence import (
    Evidence,
    above_band,
    alternating_volts,
    by_lamps,
    by_name_plate,
    direct_volts,
    require_meter_volts,
)
from statorbook.bench.meters import KINDS, READING_SHARE, Meters
from statorbook.bench.pole_count import disagreement
from statorbook.errors import BadInput
from statorbook.quantities import METER_DIODE_DROP_V, cell_text, typed_word

PLATE = ADDED_WORDS["speed_by"][1]
_LINES = {"AB": "AB", "BA": "AB", "BC": "BC", "CB": "BC", "CA": "CA", "AC": "CA"}
_TO_STAR_POINT = {"AN": "AN", "NA": "AN", "BN": "BN", "NB": "BN", "CN": "CN", "NC": "CN"}
_ALL_LEADS = {"ABC": "ABC"}
_WORDS = {
    "terminals": _LINES | _TO_STAR_POINT | _ALL_LEADS,
    "connection": {name: name for name in ("star", "delta")},
    "quantity": {name: name for name in ("AC line rms", "AC phase rms", "DC bridge, bare", "DC bridge, capacitor")},
    "meter": {name: name for name in KINDS},
    **{column: {word: word for word in words} for column, words in ADDED_WORDS.items()},
    "lead": {name: name for name in ("A", "B", "C")},
}
# Unit, lowest and highest number that a bench log can hold; beyond them it is a slip of the pen.
_LIMITS = {
    "speed_rpm": ("rpm", 1, 20_000),
    "electrical_hz": ("Hz", 0.05, 20_000),
    "volts": ("V", 0.001, 2_000),
    "amps": ("A", 0.001, 1_000),
    "ohms": ("Ω", 0.001, 10_000),
    "lead_zero_ohm": ("Ω", 0, 50),
    "copper_c": ("°C", -40, 150),
}
_MEAN_PER_LINE_RMS = 3.0 * sqrt(2.0) / pi


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


def connection_of(row, where):
    """Star or delta as typed in a row.

    Parameters
    ----------
    row : dict
        Raw cells.
    where : str
        Log and row, for the sentence.

    Returns
    -------
    str
        "star" or "delta".

    Raises
    ------
    BadInput
        When the cell is empty or holds another word.
    """
    return _word(row, "connection", where)


def spin_numbers(row, where, stator, meters=Meters()):
    """The numbers of one row of the spin log.

    Parameters
    ----------
    row : dict
        Raw cells.
    where : str
        Log and row, for the sentence.
    stator : Stator
        Slots and poles.
    meters : Meters
        What the row was read with.

    Returns
    -------
    tuple of dict and list
        Fields of a `SpinReading` by name, and warnings.

    Raises
    ------
    BadInput
        When a cell cannot be used.
    """
    speed, known = _spin_speed(row, where, stator)
    volts, quantity = _number(row, "volts", where), _word(row, "quantity", where)
    terminals = _terminals(row, where, quantity)
    if _said(row, "volts_by", where, "meter") == "lamps":
        known = known.and_(by_lamps(quantity, where))
    else:
        require_meter_volts(volts.value, speed.value, stator, meters.volts, f"{where}, {HEADINGS['volts']}")
        meter, hz = _kind(row, where, meters.volts), stator.electrical_hz(speed.value)
        by_meter = (
            direct_volts(volts.value, meters, where)
            if quantity.startswith("DC")
            else alternating_volts(quantity, hz, meter, meters, where)
        )
        known = known.and_(by_meter).by(meters.volts.digits_sigma(volts.step) / volts.value)
    known, emf = known.by(_half_step(speed)), star_emf_v_rms(volts.value, quantity)
    found = dict(
        speed_rpm=speed.value,
        terminals=terminals,
        star_emf_v_rms=emf,
        own_share=known.own_share,
        shared=known.shared,
        star_emf_sigma_v=emf * known.sigma_share,
    )
    return found, list(known.warnings)


def shorted_numbers(row, where, stator, meters=Meters()):
    """The numbers of one row of the shorted-lead log.

    Parameters
    ----------
    row : dict
        Raw cells.
    where : str
        Log and row, for the sentence.
    stator : Stator
        Slots and poles.
    meters : Meters
        What the row was read with.

    Returns
    -------
    tuple of dict and list
        Fields of a `ShortedReading` by name, and warnings.

    Raises
    ------
    BadInput
        When a cell cannot be used.
    """
    speed, warnings = speed_of(row, where, stator)
    amps, lead, meter = _number(row, "amps", where), _word(row, "lead", where), _kind(row, where, meters.amps)
    known = Evidence(own_share=READING_SHARE.value, shared={"class": meters.amps.class_share}, warnings=tuple(warnings))
    known = known.and_(above_band(stator.electrical_hz(speed.value), meter, meters.amps, where))
    known = known.by(meters.amps.digits_sigma(amps.step) / amps.value).by(_half_step(speed))
    return dict(
        speed_rpm=speed.value,
        lead=lead,
        line_amps_rms=amps.value,
        own_share=known.own_share,
        shared=known.shared,
        line_amps_sigma=amps.value * known.sigma_share,
    ), list(known.warnings)


def ohms_numbers(row, where, meters=Meters()):
    """The numbers of one row of the ohms log.

    Parameters
    ----------
    row : dict
        Raw cells.
    where : str
        Log and row, for the sentence.
    meters : Meters
        What the row was read with.

    Returns
    -------
    tuple of dict and list
        Fields of an `OhmsReading` by name, and warnings.

    Raises
    ------
    BadInput
        When a cell cannot be used or the probes alone read as much as the winding.

    Notes
    -----
    Equation: star-equivalent phase ohms = (reading between two leads − reading with probes touching) / 2.
    Valid: star and delta alike, since two phases of the equivalent star lie between any two leads.
    Source: delta to star, Bird, Electrical Circuit Theory and Technology (from memory).
    """
    reading = _number(row, "ohms", where)
    zero = _number(row, "lead_zero_ohm", where, "touch the probes together, read that, and ")
    terminals = _word(row, "terminals", where, _LINES)
    if reading.value <= zero.value:
        raise BadInput(
            f"{reading.value:g} Ω is not more than the {zero.value:g} Ω of the probes alone",
            "the winding must show more than the probes",
            "read both again on the meter's lowest ohm range",
            where=f"{where}, {HEADINGS['ohms']}",
        )
    logged = {"copper_c": _number(row, "copper_c", where).value} if cell_text(row.get("copper_c")) else {}
    warnings = [] if logged else [f"{where}: no winding temperature logged, 20 °C assumed."]
    star_ohm = (reading.value - zero.value) / 2.0
    rounding = hypot(*(meters.ohms.digits_sigma(each.step) for each in (reading, zero))) / 2.0
    sigma = hypot(READING_SHARE.value * star_ohm, rounding)
    found = dict(
        terminals=terminals,
        star_ohm=star_ohm,
        star_ohm_sigma=sigma,
        rounding_ohm=rounding,
        own_share=sigma / star_ohm,
        shared={"class": meters.ohms.class_share},
    )
    return found | logged, warnings


def _spin_speed(row, where, stator):
    """The speed of a spin row and how well it is known; a name plate gives way to a meter's Hz."""
    plate = _said(row, "speed_by", where, "measured") == PLATE
    if plate and cell_text(row.get("electrical_hz")):
        row, plate = row | {"speed_rpm": ""}, False
    speed, warnings = speed_of(row, where, stator)
    if not plate:
        return speed, Evidence(own_share=READING_SHARE.value, warnings=tuple(warnings))
    return speed, by_name_plate(where).by(READING_SHARE.value)


def _terminals(row, where, quantity):
    if quantity.startswith("DC"):
        if cell_text(row.get("terminals")):
            _word(row, "terminals", where, _LINES | _ALL_LEADS)
        return "ABC"  # the bridge takes all three leads, whatever pair was typed
    if quantity == "AC line rms":
        return _word(row, "terminals", where, _LINES, f"{quantity} is read between two leads; ")
    if connection_of(row, where) == "delta":
        raise BadInput(
            "AC phase rms in a delta was given",
            "a delta has no star point, so only AC line rms is allowed",
            "read between two leads",
            where=f"{where}, {HEADINGS['quantity']}",
        )
    return _word(row, "terminals", where, _TO_STAR_POINT, f"{quantity} is read from a lead to the star point N; ")


def speed_of(row, where, stator):
    """The speed of one row, from its rpm or else from its Hz.

    Parameters
    ----------
    row : dict
        Raw cells.
    where : str
        Log and row, for the sentence.
    stator : Stator
        Slots and poles.

    Returns
    -------
    tuple of TypedNumber and list
        Speed in rpm with its last digit, and warnings.

    Raises
    ------
    BadInput
        When both cells are empty or one cannot be used.
    """
    has_rpm, has_hz = (bool(cell_text(row.get(name))) for name in ("speed_rpm", "electrical_hz"))
    if not has_rpm and not has_hz:
        raise BadInput(
            "both speed cells are empty",
            "rpm or electrical Hz is allowed, or both",
            "type the speed this reading was taken at",
            where=f"{where}, {HEADINGS['speed_rpm']} {HEADINGS['electrical_hz']}",
        )
    rpm = _number(row, "speed_rpm", where) if has_rpm else None
    hz = _number(row, "electrical_hz", where) if has_hz else None
    if rpm is None:
        # Scaling value and last digit alike keeps the share of the last digit.
        return type(hz)(value=stator.speed_rpm(hz.value), step=stator.speed_rpm(hz.step)), []
    return rpm, disagreement(rpm.value, hz.value, where, stator) if has_hz else []


def _kind(row, where, meter):
    """What the row says, else what the reader said of that meter; one that nobody named counts as averaging."""
    return meter.kind_in(_said(row, "meter", where, "unknown"))


def _said(row, field, where, otherwise):
    """A word that a row may leave out; an empty cell means the other one."""
    return _word(row, field, where) if cell_text(row.get(field)) else otherwise


def _number(row, field, where, hint=""):
    return number_in(row, field, _LIMITS, where, hint or _exchanged(row, field))


def _word(row, field, where, words=None, hint=""):
    return typed_word(
        row.get(field), words or _WORDS[field], where=f"{where}, {HEADINGS[field]}", hint=hint or _exchanged(row, field)
    )


def _exchanged(row, field):
    """Guess which two cells changed places, from a word that belongs to another column of the row."""
    for other, words in _WORDS.items():
        if other == field or other not in row:
            continue
        try:
            typed_word(row.get(field), words, where="")
        except BadInput:
            continue
        return f"it is a word for {HEADINGS[other]}, so see whether the cells were swapped, then "
    return ""


def _half_step(number):
    return 0.5 * number.step / number.value
