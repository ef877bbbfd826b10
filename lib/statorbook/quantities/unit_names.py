"""The units that people type, each with the kind of quantity it belongs to."""

import re
import unicodedata
from functools import cache

# Kind of quantity -> unit as pint knows it -> spellings people type, the first one is shown to the reader.
# A closed list, because a general parser takes a slip for an exotic unit (it reads cfm as centi-fermi, mil as 1/1000)
# and turns hertz into rpm by way of radians.
UNITS = {
    "length": {
        "mm": "mm millimetre millimetres millimeter millimeters",
        "inch": 'in inch inches "',
        "foot": "ft foot feet '",
        "m": "m metre metres meter meters",
        "cm": "cm centimetre centimetres centimeter centimeters",
        "km": "km",
        "thou": "thou mil mils",
        "micrometer": "µm um micron microns",
        "yard": "yd yard yards",
    },
    "area": {"mm**2": "mm² sqmm", "cm**2": "cm²", "m**2": "m²", "inch**2": "in² sqin"},
    "volume": {
        "liter": "L l litre litres liter liters",
        "gallon": "gal gallon gallons USgal",
        "imperial_gallon": "imp.gal impgal",
        "m**3": "m³",
        "foot**3": "ft³",
    },
    "mass": {"kg": "kg kilogram kilograms", "pound": "lb lbs pound pounds", "g": "g gram grams", "ounce": "oz"},
    "pressure": {
        "psi": "psi psig lbf/in²",
        "bar": "bar barg",
        "mbar": "mbar",
        "kPa": "kPa",
        "MPa": "MPa",
        "Pa": "Pa",
        "kgf/cm**2": "kgf/cm² kg/cm² at",
        "atm": "atm",
    },
    "flow": {
        "liter/second": "L/s lps",
        "gallon/minute": "gpm gal/min USgpm",
        "liter/minute": "L/min lpm",
        "m**3/hour": "m³/h",
        "m**3/second": "m³/s",
        "imperial_gallon/minute": "imp.gpm igpm impgal/min",
        "foot**3/second": "ft³/s cfs",
        "foot**3/minute": "ft³/min cfm",
    },
    "speed": {
        "m/s": "m/s",
        "km/hour": "km/h kmh kph",
        "mile/hour": "mph",
        "foot/second": "ft/s fps",
        "knot": "kn knot knots kt",
    },
    "turning speed": {"rpm": "rpm r/min rev/min", "rps": "rev/s rps r/s", "rad/s": "rad/s"},
    "frequency": {"Hz": "Hz hertz", "kHz": "kHz"},
    "voltage": {"V": "V volt volts VAC VDC", "mV": "mV", "kV": "kV"},
    "current": {"A": "A amp amps ampere amperes", "mA": "mA", "kA": "kA"},
    "resistance": {
        "ohm": "Ω ohm ohms",
        "milliohm": "mΩ mohm milliohm",
        "kiloohm": "kΩ kohm",
        "megaohm": "MΩ Mohm megohm",
    },
    "inductance": {"H": "H henry", "mH": "mH", "uH": "µH uH"},
    "EMF constant": {"V/rpm": "V/rpm", "mV/rpm": "mV/rpm", "V/krpm": "V/1000rpm V/krpm Vper1000rpm"},
    "volts by temperature": {"V/kelvin": "V/K V/°C", "mV/kelvin": "mV/K mV/°C"},
    "power": {"W": "W watt watts", "kW": "kW", "horsepower": "hp"},
    "torque": {
        "N*m": "N·m N-m",
        "lbf*foot": "ft·lb ft-lb lb·ft lb-ft ft·lbf lbf·ft",
        "kgf*cm": "kg·cm kg-cm kgf·cm",
        "lbf*inch": "in·lb in-lb lbf·in",
    },
    "charge": {"ampere_hour": "Ah", "milliampere_hour": "mAh"},
    "temperature": {"degC": "°C C degC celsius", "degF": "°F F degF fahrenheit", "kelvin": "K kelvin"},
    "time": {"s": "s sec second seconds", "minute": "min minute minutes", "hour": "h hour hours"},
    "plain number": {"": "-", "percent": "% percent"},
}


def spelling(unit):
    """Bring one way of writing a unit to one form: m³/h, m^3/h and m**3 / h are the same."""
    plain = unicodedata.normalize("NFKC", unit).replace("**", "").replace("^", "").replace("μ", "u").replace("µ", "u")
    return re.sub(r"[\s*·⋅∙]+", "", plain)


def lookup(unit):
    """Kind of quantity, and the unit as pint knows it ("" and "-" are the plain number); None twice when not known."""
    exact, loose = _spellings()
    one_form = spelling(unit) or "-"
    return exact.get(one_form) or loose.get(one_form.casefold()) or (None, None)


def lookup_field(unit):
    """As `lookup` for a field's own unit, which may say more than the unit: "V rms, line"."""
    first = unit.split()[0] if unit.split() else ""
    return lookup(unit) if lookup(unit)[0] else lookup(first)


@cache
def _spellings():
    exact, loose = {}, {}
    for kind, units in UNITS.items():
        for pint_name, spellings in units.items():
            for one_form in map(spelling, spellings.split()):
                exact[one_form] = (kind, pint_name)
                loose.setdefault(one_form.casefold(), set()).add((kind, pint_name))
    # Capitals are forgiven only where they do not decide: MΩ and mΩ stay apart.
    return exact, {one_form: found.pop() for one_form, found in loose.items() if len(found) == 1}
