"""Units in names and in the descriptions of numbers: whether the two agree, and whether volts say which they are."""

import re

# The unit at the end of a name, and how the docstring writes it.
UNIT_OF_ENDING = {
    "wh_per_k": "Wh/K", "w_per_k": "W/K", "mv_per_k": "mV/K", "v_per_k": "V/K",
    "v_per_rpm": "V/rpm", "a_per_mm2": "A/mm²", "amps_per_mm2": "A/mm²", "ohm_mm2_per_m": "Ω·mm²/m",
    "kg_per_m3": "kg/m³", "m_per_s2": "m/s²", "m_per_s": "m/s", "m3_per_s": "m³/s", "l_per_s": "L/s",
    "rad_per_s": "rad/s", "ohm_ah": "Ω·Ah", "amp_hours": "Ah", "megohm": "MΩ", "l_s": "L/s", "m_s": "m/s",
    "rad_s": "rad/s", "rpm": "rpm", "volts": "V", "v": "V", "ohm": "Ω", "ohms": "Ω", "amps": "A", "hz": "Hz",
    "watts": "W", "nm": "N·m", "henry": "H", "mm2": "mm²", "mm": "mm", "ah": "Ah", "wh": "Wh", "deg": "°",
    "rad": "rad", "c": "°C", "k": "K", "px": "px", "in": "in", "kg": "kg", "seconds": "s", "s": "s", "hours": "h",
    "m": "m", "ratio": "-", "factor": "-", "share": "-", "percent": "%", "psi": "psi", "bar": "bar", "gpm": "gpm",
}  # fmt: skip
# Units that a name must not leave to the docstring alone.
SPOKEN = set(UNIT_OF_ENDING.values()) - {"-", "rad", "°"}
# Quantities divided by the machine's own EMF and impedance.
PER_UNIT = ("E", "E/|Z|")
# Words that may follow the unit in a name, as in `line_volts_rms`.
QUALIFIERS = {"rms", "peak", "mean", "low", "high", "least", "most", "hot", "cold", "min", "max", "at", "off", "sigma"}
KINDS_OF_VOLTS = re.compile(r"\b(rms|peak|mean|DC|bank|diode|cell|drop|meter|battery)\b", re.IGNORECASE)
LINE_OR_PHASE_OR_DC = re.compile(r"\b(line|phase|coil|leads?|star|winding|terminals?|DC)\b", re.IGNORECASE)
NUMBER_TYPE = re.compile(r"(float|int|ndarray|complex|number)\b")
_UNIT = re.compile(r"\[([^\[\]]+)\]\.?$")
# "In the unit named": the unit is given beside the number, by a parameter or a column.
_UNIT_ELSEWHERE = re.compile(r"\bunit\b")


def unit_ending(name):
    """The unit that a name ends in, as its docstring must write it, or nothing."""
    parts = name.lower().split("_")
    while len(parts) > 1 and parts[-1] in QUALIFIERS:
        parts.pop()
    for length in (4, 3, 2, 1):
        ending = "_".join(parts[-length:])
        if len(parts) >= length and ending in UNIT_OF_ENDING and not (length == len(parts) and len(ending) < 2):
            return UNIT_OF_ENDING[ending]
    return ""


def complaints_about_number(name, words, *, named_for=None):
    """What is wrong with the unit of one number.

    `named_for` is the name that has to carry the unit when it is not the entry's own, as for what a function returns.
    """
    unit = _UNIT.search(words)
    if not unit:
        return [] if _UNIT_ELSEWHERE.search(words) else [f"{name}: its description does not end with [unit]"]
    unit, ending = unit[1], unit_ending(named_for or name)
    plain = unit.split(" ")[0].split("/cell")[0]
    found = []
    if ending and not {unit, plain} & {ending, *PER_UNIT} and not _UNIT_ELSEWHERE.search(words):
        found.append(f"{name}: the name says {ending}, the description [{unit}]")
    if not ending and unit in SPOKEN and named_for is None:
        found.append(f"{name}: a number in [{unit}] needs its unit in its name")
    if plain in ("V", "V/rpm"):
        said = f"{(named_for or name).replace('_', ' ')} {words}"
        if not KINDS_OF_VOLTS.search(said):
            found.append(f"{name}: say rms, peak or DC")
        elif re.search(r"\b(rms|peak)\b", said) and not LINE_OR_PHASE_OR_DC.search(said):
            found.append(f"{name}: say line or phase")
    return found
