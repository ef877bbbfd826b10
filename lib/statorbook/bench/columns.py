"""The columns that several logs have; one that only one log has stands in that log's module."""

from statorbook.bench.log import Column, spelt
from statorbook.bench.meters import METER_KINDS

BETWEEN_LEADS = {"AB": "AB", "BA": "AB", "BC": "BC", "CB": "BC", "CA": "CA", "AC": "CA"}
SPEED = Column(
    name="speed_rpm",
    label="Speed",
    unit="rpm",
    limits=(1, 20_000),
    usual=("rpm", "1/min", "r/min", "rev/min", "speed"),
    may_be_missing=True,
)
HZ = Column(
    name="electrical_hz",
    label="Frequency",
    unit="Hz",
    limits=(0.05, 20_000),
    usual=("Hz", "hertz", "or frequency", "freq"),
    may_be_missing=True,
    instead_of="speed_rpm",
)
VOLTS = Column(
    name="volts",
    label="Volts",
    unit="V",
    limits=(0, 2_000),
    usual=("V", "volt", "volts", "voltage", "V AC", "AC volts", "V rms"),
)
OHMS = Column(name="ohms", label="Reading", unit="Ω", limits=(0, 10_000), usual=("Ω", "ohm", "ohms", "resistance", "R"))
COPPER = Column(
    name="copper_c",
    label="Winding temperature",
    unit="°C",
    limits=(-40, 150),
    usual=("°C", "deg C", "celsius", "temp", "temperature", "winding", "winding temp"),
    may_be_missing=True,
    once=True,
)
LEADS = Column(
    name="terminals",
    label="Leads",
    unit="pair",
    words=BETWEEN_LEADS,
    usual=("pair", "leads", "terminals", "between leads"),
)
WIRING = Column(
    name="connection",
    label="Wiring",
    unit="wiring",
    words=spelt("star", "delta"),
    usual=("wiring", "connection", "star or delta", "joined"),
    once=True,
)
METER = Column(
    name="meter",
    label="Meter",
    unit="meter",
    words=spelt(*METER_KINDS),
    usual=("meter kind", "kind of meter", "multimeter"),
    once=True,
    at_first="unknown",
)
DAY = Column(
    name="taken_on",
    label="Date",
    unit="date",
    usual=("date", "day", "taken on", "when"),
    may_be_missing=True,
    added_later=True,
    once=True,
)
NOTE = Column(
    name="note",
    label="Note",
    unit="text",
    usual=("note", "notes", "remark", "remarks", "comment", "comments"),
    may_be_missing=True,
)
