"""Reads numpydoc docstrings and says where they part from the code."""

import ast
import re

SECTIONS = ("Parameters", "Returns", "Yields", "Raises", "See Also", "Notes", "References", "Examples")
# The unit at the end of a name, and how the docstring writes it.
UNIT_OF_ENDING = {
    "v_per_rpm": "V/rpm",
    "a_per_mm2": "A/mm²",
    "amps_per_mm2": "A/mm²",
    "ohm_mm2_per_m": "Ω·mm²/m",
    "kg_per_m3": "kg/m³",
    "m_per_s2": "m/s²",
    "m_per_s": "m/s",
    "m3_per_s": "m³/s",
    "l_per_s": "L/s",
    "rad_per_s": "rad/s",
    "ohm_ah": "Ω·Ah",
    "amp_hours": "Ah",
    "megohm": "MΩ",
    "l_s": "L/s",
    "m_s": "m/s",
    "rad_s": "rad/s",
    "rpm": "rpm",
    "volts": "V",
    "v": "V",
    "ohm": "Ω",
    "ohms": "Ω",
    "amps": "A",
    "hz": "Hz",
    "watts": "W",
    "nm": "N·m",
    "henry": "H",
    "mm2": "mm²",
    "mm": "mm",
    "ah": "Ah",
    "wh": "Wh",
    "deg": "°",
    "rad": "rad",
    "c": "°C",
    "k": "K",
    "px": "px",
    "in": "in",
    "kg": "kg",
    "seconds": "s",
    "s": "s",
    "hours": "h",
    "m": "m",
    "ratio": "-",
    "factor": "-",
    "share": "-",
    "percent": "%",
    "psi": "psi",
    "bar": "bar",
    "gpm": "gpm",
}
# Units that a name must not leave to the docstring alone.
SPOKEN = set(UNIT_OF_ENDING.values()) - {"-", "rad", "°"}
# Quantities divided by the machine's own EMF and impedance.
PER_UNIT = ("E", "E/|Z|")
# Words that may follow the unit in a name, as in `line_volts_rms`.
QUALIFIERS = {"rms", "peak", "mean", "low", "high", "least", "most", "hot", "cold", "min", "max", "at", "off", "sigma"}
KINDS_OF_VOLTS = re.compile(r"\b(rms|peak|mean|DC|bank|diode|cell|drop|meter|battery)\b", re.IGNORECASE)
LINE_OR_PHASE_OR_DC = re.compile(r"\b(line|phase|coil|leads?|star|winding|terminals?|DC)\b", re.IGNORECASE)
_NUMBER_TYPE = re.compile(r"(float|int|ndarray|complex|number)\b")
_UNIT = re.compile(r"\[([^\[\]]+)\]\.?$")
# "In the unit named": the unit is given beside the number, by a parameter or a column.
_UNIT_ELSEWHERE = re.compile(r"\bunit\b")


def split(text):
    """Split a docstring into its summary and its sections, each a list of (name, type, description) or of lines."""
    lines = (text or "").splitlines()
    heads = [
        i
        for i in range(len(lines) - 1)
        if lines[i].strip() in SECTIONS and re.fullmatch(r"-{3,}", lines[i + 1].strip())
    ]
    sections = {}
    for head, following in zip(heads, [*heads, len(lines)][1:], strict=True):
        sections[lines[head].strip()] = [line for line in lines[head + 2 : following] if line.strip()]
    return (lines[0].strip() if lines else ""), sections


def entries(lines):
    """The entries of a section: (name, type, description); a section is indented by what its first line is."""
    indent = len(lines[0]) - len(lines[0].lstrip()) if lines else 0
    found = []
    for line in lines:
        if len(line) - len(line.lstrip()) == indent:
            name, _, kind = line.strip().partition(" : ")
            found.append([name, kind.strip(), []])
        elif found:
            found[-1][2].append(line.strip())
    return [(name, kind, " ".join(words)) for name, kind, words in found]


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


def complaints_about_entries(section, expected):
    """Compare a Parameters section with the names it has to have, in order, and check every number's unit."""
    found = []
    names = [name for name, _, _ in section]
    if names != expected:
        found.append(f"Parameters are {', '.join(names) or 'missing'}; the code has {', '.join(expected) or 'none'}")
    for name, kind, words in section:
        if not kind or not words:
            found.append(f"{name}: needs a type and a description")
        elif _NUMBER_TYPE.match(kind):
            found.extend(complaints_about_number(name, words))
    return found


def complaints_about_returns(function, sections):
    """Compare the Returns section with what the body returns."""
    own = list(_own_nodes(function))
    gives = any(isinstance(n, ast.Return) and n.value is not None and not _is_none(n.value) for n in own)
    yields = [n for n in own if isinstance(n, (ast.Yield, ast.YieldFrom))]
    wanted = "Yields" if any(n.value is not None for n in yields) else "Returns" if gives else None
    found = [f"needs a {wanted} section"] if wanted and wanted not in sections else []
    left_to_others = any(isinstance(n, ast.Raise) and "NotImplementedError" in ast.unparse(n) for n in own)
    if not wanted and not yields and not left_to_others and ("Returns" in sections or "Yields" in sections):
        found.append("returns nothing, yet says so in Returns")
    units_given = "unit" in [each.arg for each in (*function.args.args, *function.args.kwonlyargs)]
    for kind, _, words in entries(sections.get("Returns", [])):
        if _NUMBER_TYPE.match(kind) and "bool" not in kind and not units_given:
            found.extend(complaints_about_number("Returns", words, named_for=function.name))
        elif not words:
            found.append("Returns: needs a type and a description")
    return found


def complaints_about_raises(function, sections):
    """Every exception raised by name in the body stands under Raises."""
    raised = set()
    for node in _own_nodes(function):
        if isinstance(node, ast.Raise) and node.exc is not None:
            thrown = node.exc.func if isinstance(node.exc, ast.Call) else node.exc
            raised.add(thrown.attr if isinstance(thrown, ast.Attribute) else getattr(thrown, "id", ""))
    listed = {name for name, _, _ in entries(sections.get("Raises", []))}
    if "BadInput" in listed:  # its kinds are read as itself
        listed |= {name for name in raised if name.startswith("Bad")}
    return [
        f"raises {name}, not under Raises"
        for name in sorted(raised - listed - {"NotImplementedError"})
        if name[:1].isupper()
    ]


def complaints_about_order(sections):
    """Sections stand in numpydoc's order."""
    places = [SECTIONS.index(name) for name in sections]
    return [] if places == sorted(places) else [f"sections stand as {', '.join(sections)}"]


def _own_nodes(function):
    """All nodes of a function's body but those of functions and classes inside it."""
    queue = list(function.body)
    while queue:
        node = queue.pop()
        yield node
        if not isinstance(node, (ast.FunctionDef, ast.AsyncFunctionDef, ast.Lambda, ast.ClassDef)):
            queue.extend(ast.iter_child_nodes(node))


def _is_none(node):
    return isinstance(node, ast.Constant) and node.value is None
