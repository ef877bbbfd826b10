"""Facts with a unit, a source and a plausible range; a test walks over every one of them."""

from dataclasses import dataclass


@dataclass(frozen=True, kw_only=True)
class Fact:
    """A constant with its birth certificate.

    Parameters
    ----------
    value : float
        The number, in the unit named.
    unit : str
        Its unit.
    source : str
        Standard, book or "common practice, no source".
    low : float
        Lower end of what is plausible, same unit.
    high : float
        Upper end of what is plausible, same unit.
    """

    value: float
    unit: str
    source: str
    low: float
    high: float


CONDUCTORS = {
    "copper": Fact(value=235.0, unit="K", source="IEC 60034-1, resistance method (from memory)", low=230, high=240),
    "aluminium": Fact(value=225.0, unit="K", source="IEC 60034-1, resistance method (from memory)", low=220, high=232),
}
MAGNETS = {
    "ferrite": Fact(
        value=-0.0020, unit="1/K", source="remanence coefficient, common practice, no source", low=-0.0025, high=-0.0015
    ),
    "neodymium": Fact(
        value=-0.0011, unit="1/K", source="remanence coefficient, common practice, no source", low=-0.0013, high=-0.0008
    ),
}
COPPER_OHM_MM2_PER_M = Fact(
    value=1 / 58,
    unit="Ω·mm²/m",
    source="IEC 60028, 100 % IACS at 20 °C (read in a reproduction)",
    low=0.0171,
    high=0.0174,
)
WATER_KG_PER_M3 = Fact(
    value=1000.0, unit="kg/m³", source="fresh water near 4 °C, handbook value (from memory)", low=995, high=1001
)
GRAVITY_M_PER_S2 = Fact(
    value=9.80665, unit="m/s²", source="CGPM 1901, standard acceleration (from memory)", low=9.78, high=9.84
)

# Voltage limits: IEC 60364-4-41 (figures read in reproductions), touch limits reg. 414.4.5.
WET_AC_VOLTS = Fact(value=12.0, unit="V AC rms", source="IEC 60364-4-41, 414.4.5, other than dry", low=12, high=12)
WET_DC_VOLTS = Fact(value=30.0, unit="V DC", source="IEC 60364-4-41, 414.4.5, other than dry", low=30, high=30)
DRY_AC_VOLTS = Fact(value=25.0, unit="V AC rms", source="IEC 60364-4-41, 414.4.5, dry", low=25, high=25)
DRY_DC_VOLTS = Fact(value=60.0, unit="V DC", source="IEC 60364-4-41, 414.4.5, dry", low=60, high=60)
ELV_AC_VOLTS = Fact(value=50.0, unit="V AC rms", source="IEC 60364-4-41, extra-low voltage", low=50, high=50)
ELV_DC_VOLTS = Fact(value=120.0, unit="V DC", source="IEC 60364-4-41, extra-low voltage", low=120, high=120)
LV_DC_VOLTS = Fact(value=1500.0, unit="V DC", source="IEC glossary, low voltage", low=1500, high=1500)
LV_AC_VOLTS = Fact(value=1000.0, unit="V AC rms", source="IEC glossary, low voltage", low=1000, high=1000)

DIODE_DROP_V = Fact(
    value=0.9, unit="V per diode", source="silicon 0.8–1.1 V, power-electronics texts (from memory)", low=0.8, high=1.1
)
ZERO_SEQUENCE_SHARE = Fact(
    value=0.3,
    unit="henry per henry",
    source="inductance against currents alike in all phases over the synchronous one, mostly slot leakage; "
    "common practice, no source",
    low=0.05,
    high=1.0,
)
FURLING_OVERSHOOT = Fact(
    value=1.25,
    unit="wind that still reaches the blades over the wind that it furls from",
    source="furling is slower than a gust, common practice, no source",
    low=1.1,
    high=1.5,
)
BRAKE_OVERSHOOT = Fact(
    value=1.2,
    unit="speed at which it holds over the speed that it grips from",
    source="a brake that grips by itself takes time, common practice, no source",
    low=1.05,
    high=1.5,
)
TIP_M_S = Fact(
    value=100.0,
    unit="m/s",
    source="blades of small wind rotors are usually built for tips below 80 to 100 m/s, common practice, no source",
    low=80.0,
    high=100.0,
)
METER_DIODE_DROP_V = Fact(
    value=0.45, unit="V per diode", source="silicon at meter current, common practice, no source", low=0.3, high=0.6
)
CHEAP_METER_HZ = Fact(
    value=400.0,
    unit="Hz",
    source="usual AC band of low-cost multimeters, common practice, no source",
    low=200,
    high=1000,
)
INVERTER_EFFICIENCY = Fact(
    value=0.9,
    unit="W out over W in",
    source="the usual value for households off the grid, common practice, no source",
    low=0.8,
    high=0.96,
)
INVERTER_IDLE_WATTS = Fact(
    value=10.0,
    unit="W, switched on with nothing plugged in",
    source="inverters of 0.5 to 3 kW, common practice, no source",
    low=3.0,
    high=60.0,
)
WEATHER_HOURS = Fact(
    value=20.0,
    unit="h in which an hour's wind still tells 37 % of the next ones",
    source="correlation of wind from one hour to the next 0.9 to 0.98, textbooks of wind power (from memory)",
    low=9.0,
    high=50.0,
)
