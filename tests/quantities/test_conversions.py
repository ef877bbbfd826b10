"""What people type: units, decimal signs and slips."""

import subprocess
import sys

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sentences import sentences_of
from statorbook.errors import BadInput
from statorbook.quantities.typed_quantity import awg_diameter_mm, parse_count, parse_quantity, usual_units

wording = sentences_of("quantities")


@pytest.mark.outside(
    "bare diameters of AWG 10, 12, 14, 18, 24, 30",
    source="ASTM B258, diameters by 0.127 mm × 92^((36 − n)/39)",
    number="2.588, 2.053, 1.628, 1.024, 0.5106, 0.2546 mm",
    tolerance="0.05 %",
    seen="in a reproduction",
)
@pytest.mark.parametrize(
    "gauge, millimetres", [(10, 2.588), (12, 2.053), (14, 1.628), (18, 1.024), (24, 0.5106), (30, 0.2546)]
)
def test_wire_gauges(gauge, millimetres):
    assert awg_diameter_mm(gauge) == pytest.approx(millimetres, rel=5e-4)
    assert parse_quantity(f"AWG {gauge}", "mm", "Wire diameter") == pytest.approx(millimetres, rel=5e-4)
    assert parse_quantity(f"{gauge}awg", "mm", "Wire diameter") == pytest.approx(millimetres, rel=5e-4)


@pytest.mark.outside(
    "diameter of one gauge over that of the next",
    source="ASTM B258, diameters by 0.127 mm × 92^((36 − n)/39)",
    number="1.1229322",
    tolerance="1e-7",
    seen="in a reproduction",
)
def test_neighbouring_gauges_have_one_ratio():
    assert awg_diameter_mm(17) / awg_diameter_mm(18) == pytest.approx(1.1229322, rel=1e-7)


@pytest.mark.outside(
    "circular mils of AWG 20 and 23",
    source="Grob, Basic Electronics, examples 11-3 p. 340 and 11-4 p. 342",
    number="1022, 509.5 circular mils",
    tolerance="0.1 %",
    seen="in a reproduction",
)
def test_areas_of_gauges_in_circular_mils():
    # A circular mil is the area of a wire a thousandth of an inch thick.
    assert [(awg_diameter_mm(gauge) / 0.0254) ** 2 for gauge in (20, 23)] == pytest.approx([1022, 509.5], rel=1e-3)


@pytest.mark.outside(
    "cross-sections of AWG 6 and 4/0",
    source="ASTM B258, table of areas",
    number="13.30, 107.2 mm²",
    tolerance="0.1 %",
    seen="from memory",
)
@pytest.mark.parametrize("typed, area_mm2", [("AWG 6", 13.30), ("4/0 AWG", 107.2)])
def test_a_gauge_is_a_cross_section_too(typed, area_mm2):
    assert parse_quantity(typed, "mm²", "Cross-section of each wire") == pytest.approx(area_mm2, rel=1e-3)


@pytest.mark.outside(
    "the two gauges that define the scale, 4/0 and 36",
    source="ASTM B258",
    number="0.4600, 0.0050 in",
    tolerance="exact",
    seen="from memory",
)
@pytest.mark.parametrize("typed, inches", [("AWG 4/0", 0.46), ("AWG 0000", 0.46), ("AWG #36", 0.005)])
def test_the_two_gauges_that_define_the_scale(typed, inches):
    assert parse_quantity(typed, "in", "Wire diameter") == pytest.approx(inches, rel=1e-12)


@pytest.mark.outside(
    "a psi, and the metres of water that it holds",
    source="NIST SP 811, appendix B.8; over 9806.65 N/m³",
    number="6894.757 Pa, 0.70307 m, 1.42233 psi for 1 m",
    tolerance="1e-5",
    seen="from memory",
)
@pytest.mark.outside(
    "feet, inches, miles an hour",
    source="NIST SP 811, appendix B.8",
    number="0.3048 m, 25.4 mm, 0.44704 m/s",
    tolerance="1e-5",
    seen="from memory",
)
@pytest.mark.outside(
    "US gallon, imperial gallon, cubic foot",
    source="NIST SP 811, appendix B.8",
    number="3.785412, 4.54609, 28.31685 L",
    tolerance="1e-5",
    seen="from memory",
)
@pytest.mark.outside(
    "foot-pound and horsepower of 550 ft·lbf/s",
    source="NIST SP 811, appendix B.8",
    number="1.355818 N·m, 745.6999 W",
    tolerance="1e-5",
    seen="from memory",
)
@pytest.mark.parametrize(
    "typed, unit, name, expected",
    [
        ("1 psi", "m", "Net head", 0.70307),
        ("52 psi", "m", "Static head", 52 * 0.70307),
        ("1 m", "psi", "Static pressure", 1.42233),
        ("100 ft", "m", "Net head", 30.48),
        ("100'", "m", "Net head", 30.48),
        ('2"', "mm", "Nozzle", 50.8),
        ("1,5 in", "mm", "Nozzle", 38.1),
        ("8 mph", "m/s", "Wind speed", 3.57632),
        ("12 gpm", "L/s", "Flow", 12 * 3.785412 / 60),
        ("12 igpm", "L/s", "Flow", 12 * 4.54609 / 60),
        ("1 cfs", "L/s", "Flow", 28.31685),
        ("1 ft-lb", "N·m", "Drag", 1.355818),
        ("2 hp", "W", "Engine", 1491.3998),
        # By hand, from litre, bar and minute.
        ("3 m³/h", "L/s", "Flow", 3 / 3.6),
        ("1 m^3 / h", "L/s", "Flow", 1 / 3.6),
        ("3.1 bar", "m", "Net head", 310000 / 9806.65),
        ("1 rev/s", "rpm", "Speed", 60.0),
        ("38 V/1000 rpm", "V/rpm", "EMF", 0.038),
        ("38 V per 1000 rpm", "V/rpm", "EMF", 0.038),
        # Definition of the Fahrenheit scale: 77 °F is 25 °C.
        ("77 F", "°C", "Copper temperature", 25.0),
        ("46 %", "-", "Efficiency", 0.46),
    ],
)
def test_usual_units(typed, unit, name, expected):
    assert parse_quantity(typed, unit, name) == pytest.approx(expected, rel=1e-5)


# No outside number: these say how a number is written, not what it is worth.
@pytest.mark.parametrize(
    "typed, expected",
    [
        ("0.9", 0.9),
        ("0,9", 0.9),
        (" 12 ", 12.0),
        ("12.", 12.0),
        (".5", 0.5),
        (",5", 0.5),
        ("1.234", 1.234),
        ("0,045", 0.045),
        ("−3", -3.0),
        ("- 3", -3.0),
        ("+3", 3.0),
        ("1.5e-3", 0.0015),
        ("1E3", 1000.0),
        (7, 7.0),
        ("0.9 V", 0.9),
        ("0,9V", 0.9),
        ("12 volts", 12.0),
        ("900 MV", 0.9),
    ],
)
def test_ways_to_write_a_number(typed, expected):
    assert parse_quantity(typed, "V", "Volts") == pytest.approx(expected, rel=1e-12)


# By hand, 1 in = 25.4 mm: 3/8 × 25.4 = 9.525, 1.5 × 25.4 = 38.1, 25.4/32 = 0.79375, 3.5 × 25.4 = 88.9.
@pytest.mark.parametrize(
    "typed, millimetres",
    [
        ("3/8 in", 9.525),
        ('3/8"', 9.525),
        ("3/8in", 9.525),
        (" 3 / 8 in ", 9.525),
        ("1 1/2 in", 38.1),
        ("1/32 in", 0.79375),
        ("3 1/2 in", 88.9),
        ("-1 1/2 in", -38.1),
        ("3/8", 0.375),
        ("1 1/2", 1.5),
        ("9/3 mm", 3.0),
    ],
)
def test_fractions(typed, millimetres):
    assert parse_quantity(typed, "mm", "Nozzle") == pytest.approx(millimetres, rel=1e-12)


def test_a_field_may_say_more_than_its_unit():
    assert parse_quantity("250 mV", "V rms, line", "Line volts") == pytest.approx(0.25)


def test_capitals_that_decide_are_not_guessed():
    assert parse_quantity("2 MΩ", "Ω", "Insulation") == pytest.approx(2e6)
    assert parse_quantity("2 mΩ", "Ω", "Coil") == pytest.approx(2e-3)
    with pytest.raises(BadInput, match="“MOHM” is no unit known"):
        parse_quantity("2 MOHM", "MΩ", "Insulation")


@pytest.mark.parametrize(
    "typed, unit, name, sentence",
    [
        ("", "V", "Volts", wording("^Volts: nothing was typed; a")),
        ("   ", "V", "Volts", "nothing was typed"),
        ("about 12", "V", "Volts", "“about 12” is not a number"),
        ("<5", "V", "Volts", "“<5” is not a number"),
        ("nan", "V", "Volts", "“nan” is not a number"),
        ("inf", "V", "Volts", "“inf” is not a number"),
        ("__import__('os')", "V", "Volts", "is not a number"),
        ("12 14", "V", "Volts", "holds more than one number"),
        ("12-14", "V", "Volts", "holds more than one number"),
        ("12 V 13 A", "V", "Volts", "holds more than one number"),
        ("12 ± 0.5", "V", "Volts", "holds more than one number"),
        ("12 000", "V", "Volts", "holds more than one number"),
        ("3 3/2 in", "mm", "Nozzle", "holds more than one number"),
        ("1.5/2 in", "mm", "Nozzle", "holds more than one number"),
        ("1/2.5 in", "mm", "Nozzle", "holds more than one number"),
        ("1/2/3 in", "mm", "Nozzle", "holds more than one number"),
        ("1/2 3", "mm", "Nozzle", "holds more than one number"),
        ("3/0", "mm", "Nozzle", "holds more than one number"),
        ("1/" + "9" * 5000, "mm", "Nozzle", "holds more than one number"),
        ("3/8 kA·h", "mm", "Nozzle", "“kA·h” is no unit known"),
        ("1,234.5", "V", "Volts", wording("“1,234.5” can be read in")),
        ("1.234,5", "V", "Volts", "can be read in two ways"),
        ("1,234", "rpm", "Speed", "can be read in two ways"),
        ("1.234.567", "V", "Volts", "can be read in two ways"),
        ("12,", "V", "Volts", "can be read in two ways"),
        ("10²", "V", "Volts", "“²” is no unit known for this field"),
        ("52 kp", "m", "Net head", wording("“kp” is no unit known")),
        ("5 cells", "V", "Volts", "“cells” is no unit known"),
        ("12 V", "m", "Net head", r"“12 V” was typed \(voltage\) where length is wanted"),
        ("52 psi", "mm", "Nozzle", r"\(pressure\) where length is wanted"),
        ("50 Hz", "rpm", "Speed", r"\(frequency\) where turning speed is wanted"),
        ("300 rpm", "Hz", "Frequency", r"\(turning speed\) where frequency is wanted"),
        ("36 rpm", "slots", "Slots", "“rpm” is no unit known for this field"),
        ("AWG 19", "mm", "Nozzle", "which is a wire gauge"),
        ("AWG 51", "mm", "Wire diameter", "AWG 4/0 to AWG 50 are allowed"),
        ("AWG 00000", "mm", "Wire diameter", "AWG 4/0 to AWG 50 are allowed"),
        ("AWG 60", "mm", "Wire diameter", "AWG 4/0 to AWG 50 are allowed"),
        ("1e999", "V", "Volts", wording("“1e999” was typed; a number")),
    ],
)
def test_what_is_refused(typed, unit, name, sentence):
    with pytest.raises(BadInput, match=sentence) as refusal:
        parse_quantity(typed, unit, name)
    assert str(refusal.value).startswith(f"{name}: ")
    assert "\n" not in str(refusal.value)


@pytest.mark.parametrize(("typed", "name", "other", "wanted"), [
    ("230 V AC", "Device limit, DC", "AC", "DC"),
    ("85 vac", "Highest volts accepted with the bank gone, DC peak", "AC", "DC"),
    ("52 VDC", "Line volts, AC rms", "DC", "AC"),
])  # fmt: skip
def test_volts_of_the_other_kind_are_refused(typed, name, other, wanted):
    with pytest.raises(BadInput) as refused:
        parse_quantity(typed, "V", name)
    assert str(refused.value) == (
        f"{name}: “{typed}” was typed; {wanted} volts are allowed; look for the {wanted} "
        f"volts; {other} volts do not tell them."
    )
    assert parse_quantity(typed.split()[0] + f" V {wanted}", "V", name) == float(typed.split()[0])
    assert parse_quantity(typed, "V", "Volts") == float(typed.split()[0])


def test_limits_are_said_in_the_fields_own_unit():
    with pytest.raises(BadInput, match=wording("“450 psi” was typed, which")):
        parse_quantity("450 psi", "m", "Net head", above=0, at_most=300)
    with pytest.raises(BadInput, match=wording("“-1” was typed; a number")):
        parse_quantity("-1", "V", "Volts", at_least=0)
    with pytest.raises(BadInput, match=wording("“0” was typed; a number")):
        parse_quantity("0", "m", "Net head", above=0)


def test_a_long_text_is_quoted_short():
    with pytest.raises(BadInput) as refusal:
        parse_quantity("x" * 5000, "V", "Volts")
    assert len(str(refusal.value)) < 200


@pytest.mark.parametrize(
    "typed, sentence",
    [
        ("12.5", "“12.5” was typed"),
        ("2", "“2” was typed"),
        ("many", "“many” is not a number"),
        ("", "nothing was typed"),
        ("27 slots", "“27 slots” was typed, and “slots” is no unit known for this field"),
    ],
)
def test_counts(typed, sentence):
    assert parse_count("36", "Slots", at_least=3, at_most=144) == 36
    for hint, step in (("", "count again, then type the count"), ("count the teeth", "count the teeth")):
        with pytest.raises(BadInput, match=f"^Slots: {sentence}; a whole number from 3 to 144 is allowed; {step}.$"):
            parse_count(typed, "Slots", at_least=3, at_most=144, next_step=hint)


def test_the_fields_own_next_step_is_said_instead_of_the_general_one():
    with pytest.raises(BadInput, match="; read the gauge again.$"):
        parse_quantity("450 psi", "m", "Net head", above=0, at_most=300, next_step="read the gauge again")


def test_hints_name_the_us_gallon_and_water_pressure_only_where_they_apply():
    assert "gpm (US gallons)" in usual_units("L/s", "Flow")
    assert {"psi", "bar"} <= set(usual_units("m", "Net head"))
    assert "psi" not in usual_units("m", "Pipe length")
    # Not to fill the hint: four of its own kind at most, and three of the water's pressure.
    assert [len(usual_units("m", name)) for name in ("Pipe length", "Net head")] == [4, 7]
    assert "AWG 19" in usual_units("mm", "Wire diameter")
    assert "AWG 19" not in usual_units("mm", "Nozzle")
    assert usual_units("slots", "Slots") == []


@given(
    st.text(max_size=30) | st.from_regex(r"[0-9]{1,3}[.,]?[0-9]{0,4} ?[a-zA-Z/%°²³\"']{0,6}", fullmatch=True),
    st.sampled_from(["V", "mm", "m", "L/s", "rpm", "°C", "-", "slots"]),
)
def test_anything_typed_gives_a_number_within_limits_or_one_sentence(typed, unit):
    try:
        value = parse_quantity(typed, unit, "Head of wire", at_least=-10, at_most=10)
    except BadInput as refusal:
        assert str(refusal).startswith("Head of wire: ")
        assert len(str(refusal)) < 300
    else:
        assert -10 <= value <= 10


@given(st.floats(min_value=-1e12, max_value=1e12))
def test_a_number_as_python_writes_it_is_read_back(number):
    assert parse_quantity(repr(number), "V", "Volts") == number


def test_a_number_without_a_unit_loads_no_units_library():
    code = (
        "import sys; from statorbook.quantities.typed_quantity import parse_quantity; "
        "parse_quantity('0,9 mm', 'mm', 'Wire'); "
        "print('pint' in sys.modules)"
    )
    assert subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True).stdout == "False\n"


@pytest.mark.parametrize("length, shown", [(40, "x" * 40), (41, "x" * 40 + "…")])
def test_more_than_forty_signs_are_cut_where_they_are_quoted(length, shown):
    with pytest.raises(BadInput, match=f"“{shown}” is not a number"):
        parse_quantity("x" * length, "V", "Volts")
