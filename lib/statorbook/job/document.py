"""The text of job.json: read with its damage named by line, written in one readable form, strange keys kept."""

import json
import re
from dataclasses import dataclass
from functools import lru_cache
from math import isinf

from statorbook.errors import BadInput
from statorbook.job.parts.base import part_from_fields
from statorbook.job.parts.fields import BadField, shown
from statorbook.job.parts.registry import PARTS

SCHEMA_VERSION = 1
_MOVED = {("prices", "cable_length_m"): ("cable", "length_m")}  # part and field, then and now
_REPAIR = "correct that line in a text editor, or put job.previous.json in its place"
_HALF_LETTER = r"\\u[dD][89a-fA-F]"
_ALLOWED = "job.json is allowed as the workbook writes it"


class _Unusable(ValueError):
    """Something that JSON allows and a job does not; holds the words and the text to look for."""


@dataclass(frozen=True, kw_only=True)
class Document:
    """The whole of job.json."""

    keys: dict  # everything in the file, keys of other programs included
    parts: dict  # by name: those that are filled in, checked


def _by_name(name, words):
    """A property that reads one part by its name."""
    return property(lambda self: self.parts.get(name), doc=words)


class PartsByName:
    """What has `parts` by name has each of them as a property too; None when that part is not filled in."""

    stator = _by_name("stator", "What the stator is, as a `StatorPart`.")
    coil = _by_name("coil", "What one coil does, as a `CoilPart`.")
    drive = _by_name("drive", "What turns the machine, as a `DrivePart`.")
    bank = _by_name("bank", "The battery bank, as a `BankPart`.")
    choice = _by_name("choice", "The grouping chosen, as a `ChoicePart`.")
    plan = _by_name("plan", "How the coils will be rewired, as a `PlanPart`.")
    service = _by_name("service", "How the machine is borne and looked after, as a `ServicePart`.")
    refined = _by_name("refined", "The constants as refined by a run, as a `RefinedPart`.")
    henries = _by_name("henries", "Readings of the inductance that no log holds, as a `HenriesPart`.")
    sessions = _by_name("sessions", "Which sessions of readings go into the fits, as a `SessionsPart`.")
    meters = _by_name("meters", "What the bench logs were read with, as a `MetersPart`.")
    converter = _by_name("converter", "What stands between rectifier and bank, as a `ConverterPart`.")
    year = _by_name("year", "The source over a year and the need, as a `YearPart`.")
    need = _by_name("need", "What the house needs, as a `NeedPart`.")
    site = _by_name("site", "Where its plant stands, as a `SitePart`.")
    cable = _by_name("cable", "The cable between machine and bank, as a `CablePart`.")
    rectifier = _by_name("rectifier", "The rectifier that the reader has, as a `RectifierPart`.")
    fuse = _by_name("fuse", "The fuse that the reader has, as a `FusePart`.")
    rotor = _by_name("rotor", "What turns, and how heavy it is, as a `RotorPart`.")
    guard = _by_name("guard", "The over-voltage load that the reader has, as a `GuardPart`.")
    heat = _by_name("heat", "How the winding gets rid of its heat, as a `HeatPart`.")
    protection = _by_name("protection", "The list of what protects the plant, as a `ProtectionPart`.")
    set_points = _by_name("set_points", "Volts between which the bank is held, as a `SetPointsPart`.")
    dump = _by_name("dump", "The dump loads that the reader has, as a `DumpPart`.")
    water = _by_name("water", "The cylinder and the room, as a `WaterPart`.")
    inverter = _by_name("inverter", "The inverter that the reader has, as an `InverterPart`.")
    control = _by_name("control", "The controller that the reader has, as a `ControlPart`.")
    program = _by_name("program", "The controller's program as it was saved, as a `ProgramPart`.")
    prices = _by_name("prices", "What cable, pipe and energy cost, as a `PricesPart`.")
    reader = _by_name("reader", "What the reader chose for reading, as a `ReaderPart`.")


@lru_cache(maxsize=16)  # a page reads its job many times between two changes
def parse_document(data, where):
    """The bytes of job.json as a checked `Document`; damage and a newer schema are refused with file and line."""
    text = _decoded(data, where)
    keys = _loaded(text, where)
    _require_version(keys, text, where)
    keys = _with_moved(keys)
    return Document(
        keys=keys, parts={name: _part(name, keys[name], text, where) for name in PARTS if keys.get(name) is not None}
    )


def format_document(keys):
    """The keys of a document as the bytes of job.json: UTF-8, indented, one key a line."""
    return (json.dumps(keys, indent=2, ensure_ascii=False, allow_nan=False) + "\n").encode("utf-8")


def with_part(document, name, part):
    """The keys of a document with one part replaced; all else stays, strange keys inside the part too."""
    before = document.keys.get(name) or {}
    strange = {key: value for key, value in before.items() if key not in type(part).model_fields}
    return document.keys | {name: part.as_saved() | strange}


def _decoded(data, where):
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = data[: error.start].count(b"\n") + 1
        raise BadInput("a letter is not in UTF-8", _ALLOWED, _REPAIR, where=f"{where}, line {line}") from None


def _loaded(text, where):
    if not text.strip():
        raise BadInput("the file is empty", _ALLOWED, "put job.previous.json in its place", where=f"{where}, line 1")
    try:
        keys = json.loads(text, object_pairs_hook=_without_doubles, parse_float=_finite, parse_constant=_finite)
        format_document(keys)  # what cannot be written again is better refused now
    except json.JSONDecodeError as error:
        broken_off = error.pos >= len(text.rstrip()) or error.msg.startswith("Unterminated")
        given = "the file breaks off or a text is not closed" if broken_off else f"the text is not JSON ({error.msg})"
        raise BadInput(given, _ALLOWED, _REPAIR, where=f"{where}, line {error.lineno}") from None
    except _Unusable as error:
        given, wanted = error.args
        raise BadInput(given, _ALLOWED, _REPAIR, where=f"{where}, line {_last_line_with(text, wanted)}") from None
    except UnicodeEncodeError:
        raise BadInput(
            "a broken letter stands in a text",
            _ALLOWED,
            _REPAIR,
            where=f"{where}, line {_last_line_with(text, _HALF_LETTER)}",
        ) from None
    except (ValueError, RecursionError):
        raise BadInput("a number is too long or the brackets are too deep", _ALLOWED, _REPAIR, where=where) from None
    if not isinstance(keys, dict):
        raise BadInput(
            f"{shown(keys)} was given", "parts by name in curly brackets are allowed", _REPAIR, where=f"{where}, line 1"
        )
    return keys


def _without_doubles(pairs):
    names = [name for name, _ in pairs]
    for name in names:
        if names.count(name) > 1:
            raise _Unusable(f"{shown(name)} stands there twice", f"{re.escape(json.dumps(name))}\\s*:")
    return dict(pairs)


def _finite(digits):
    number = float(digits)
    if isinf(number) or number != number:
        raise _Unusable(f"{digits[:40]} is not a number that a job can hold", re.escape(digits))
    return number


def _with_moved(keys):
    """The keys with what an older workbook kept in another part where it stands now; what is there already counts."""
    for (old, field), (new, name) in _MOVED.items():
        part = keys.get(old)
        if not isinstance(part, dict) or field not in part:
            continue
        assumed = part["assumed"] if isinstance(part.get("assumed"), list) else []
        kept = {key: value for key, value in part.items() if key != field}
        keys = keys | {old: kept | {"assumed": [each for each in assumed if each != field]}}
        if field not in assumed and not keys.get(new):
            keys = keys | {new: {name: part[field]}}
    return keys


def _require_version(keys, text, where):
    version = keys.get("schema_version")
    line = f"{where}, line {_line_of(text, 'schema_version')}"
    allowed = f"schema version {SCHEMA_VERSION} is allowed"
    if isinstance(version, bool) or not isinstance(version, int) or version < 1:
        given = "no schema_version was given" if version is None else f"schema version {shown(version)} was given"
        raise BadInput(given, allowed, _REPAIR, where=line)
    if version > SCHEMA_VERSION:
        raise BadInput(
            f"schema version {shown(version)} was given, made by a newer workbook",
            allowed,
            "update the workbook to open this job; the file is left untouched",
            where=line,
        )


def _part(name, fields, text, where):
    model = PARTS[name]
    line = f"{where}, line {_line_of(text, name)}"
    if not isinstance(fields, dict):
        raise BadInput(
            f"{model.part_title}: {shown(fields)} was given", "fields by name are allowed", _REPAIR, where=line
        )
    try:
        return part_from_fields(model, {key: value for key, value in fields.items() if key in model.model_fields})
    except BadField as error:
        raise BadInput(
            f"{error.where}: {error.given}",
            error.allowed,
            _REPAIR,
            where=f"{where}, line {_line_of(text, name, error.field)}",
        ) from None


def _line_of(text, *names):
    """The line on which a key stands, each name looked for after the one before; the last one found counts."""
    at = 0
    for name in names:
        # Inside a JSON text every quotation mark has a backslash before it, so this finds keys only.
        found = re.compile(rf'(?<!\\)"{re.escape(name)}"\s*:').search(text, at) if name else None
        if not found:
            break
        at = found.start()
    return text.count("\n", 0, at) + 1


def _last_line_with(text, pattern):
    found = [match.start() for match in re.finditer(pattern, text)]
    return text.count("\n", 0, found[-1] if found else 0) + 1
