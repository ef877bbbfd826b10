"""Every row of the logs: numbers when it can be used, one sentence when not, and never lost."""

from dataclasses import replace
from math import isnan, sqrt

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from samples.made_up_logs import ohms_row, shorted_row, spin_row
from statorbook.bench.coast import read_coast
from statorbook.bench.drill import read_drill
from statorbook.bench.logs import columns_of
from statorbook.bench.meters import READING_SHARE
from statorbook.bench.ohms import read_ohms
from statorbook.bench.readings import read_logs
from statorbook.bench.shorted import read_shorted
from statorbook.bench.spin import read_spin, star_emf_v_rms
from statorbook.errors import BadInput
from statorbook.winding.stator import Stator

STATOR = Stator(slots=36, poles=48)
DIODES_V = 2 * 0.45  # two diodes of 0.45 V at meter current: common practice, no source


def spin(changes=(), **cells):
    changes = dict(changes) | cells
    return read_spin([spin_row(120, 48.1) | changes, spin_row(200, 80.2), spin_row(300, 120.4)], STATOR)[0]


# Bird, Electrical Circuit Theory and Technology, Ex. 19.1: 415 V line is 239.6 V phase.
def test_line_volts_become_phase_volts():
    assert star_emf_v_rms(415.0, "AC line rms") == pytest.approx(239.6, abs=0.05)
    assert star_emf_v_rms(239.6, "AC phase rms") == 239.6


# Rashid, Power Electronics, Ex. 3.16: 208 V line gives 280.9 V mean behind an ideal bridge; two drops are lost.
def test_mean_volts_behind_the_bare_bridge():
    assert star_emf_v_rms(280.9 - DIODES_V, "DC bridge, bare") == pytest.approx(208 / sqrt(3), rel=5e-4)


# Rashid, Power Electronics, Ex. 3.9: 120 V phase has a peak of 294 V between lines.
def test_peak_volts_behind_the_bridge_with_a_capacitor():
    assert star_emf_v_rms(294.0 - DIODES_V, "DC bridge, capacitor") == pytest.approx(120.0, rel=1e-3)


# f = p n / 60 (IEC 60034-1, from memory): 24 pole pairs at 500 rpm make 200 Hz.
@pytest.mark.parametrize(
    "cells",
    [dict(speed_rpm="500"), dict(speed_rpm="", electrical_hz="200"), dict(speed_rpm="500", electrical_hz="200,5")],
)
def test_speed_from_rpm_or_from_hz(cells):
    reading = spin(cells)
    assert reading.usable and reading.speed_rpm == pytest.approx(500) and reading.warnings == ()


def test_a_good_row_is_read_as_typed():
    reading = spin(volts=" 48,1 V", terminals="ba", quantity="ac line RMS", meter="True RMS")
    assert reading.usable and reading.terminals == "AB" and reading.where == "spin log, row 1"
    assert reading.star_emf_v_rms == pytest.approx(48.1 / sqrt(3))
    assert reading.raw["volts"] == " 48,1 V"


def test_the_likely_error_is_one_percent_and_half_a_digit():
    coarse, fine = spin(volts="48"), spin(volts="48.000", speed_rpm="120.00")
    assert fine.star_emf_sigma_v / fine.star_emf_v_rms == pytest.approx(READING_SHARE.value, rel=1e-3)
    # 1 %, half a volt of 48 V, half an rpm of 120 rpm, in quadrature
    assert coarse.star_emf_sigma_v / coarse.star_emf_v_rms == pytest.approx(
        sqrt(0.01**2 + (0.5 / 48) ** 2 + (0.5 / 120) ** 2)
    )


@pytest.mark.parametrize(
    "changes, complaint",
    [
        (
            dict(volts="loud"),
            '"loud" is not a number; a number from 0.001 to 2000 V is allowed; type the reading again',
        ),
        (dict(volts=""), "Volts [V]: the cell is empty"),
        (dict(volts="0"), 'Volts [V]: "0" was given'),
        (dict(volts="-12"), 'Volts [V]: "-12" was given'),
        (dict(volts="1,200"), "can mean 1.200 or 1200"),
        (dict(speed_rpm="0"), 'Speed [rpm]: "0" was given; a number from 1 to 20000 rpm is allowed'),
        (dict(speed_rpm="-120"), "was given; a number from 1"),
        (dict(speed_rpm="fast"), '"fast" is not a number'),
        (dict(electrical_hz="-48"), 'or frequency [Hz]: "-48" was given'),
        (
            dict(speed_rpm=""),
            "Speed [rpm] or frequency [Hz]: both speed cells are empty; rpm or electrical Hz is allowed",
        ),
        (dict(terminals="XY"), 'Leads: "XY" was given; allowed are "AB", "BC", "CA"'),
        (dict(terminals=""), "Leads: the cell is empty"),
        (dict(terminals="AN"), "AC line rms is read between two leads"),
        (dict(quantity="AC phase rms"), "AC phase rms is read from a lead to the star point N"),
        (dict(quantity="DC bridge, bare", terminals="AN"), '"AN" was given; allowed are "AB", "BC", "CA", "ABC"'),
        (dict(connection="triangle"), 'Wiring: "triangle" was given; allowed are "star", "delta"'),
        (dict(connection="delta"), "the machine as found is in star, and one fit takes one wiring"),
        (dict(quantity="AC"), 'What was read: "AC" was given; allowed are "AC line rms"'),
        (dict(meter="digital"), 'Meter: "digital" was given; allowed are "averaging", "true rms", "unknown"'),
        (dict(quantity="DC bridge, bare", meter="digital"), 'Meter: "digital" was given'),
        (dict(volts="AB", terminals="48.1"), "it is a word for Leads, so see whether the cells were swapped"),
        (dict(quantity="BC", terminals="AC line rms"), "it is a word for Leads, so see whether the cells were swapped"),
        (dict(volts="star", connection="48.1"), 'Wiring: "48.1" was given'),
        (
            {None: ["4"]},
            "the row has more cells than the log has columns; one cell per column is allowed; write decimals",
        ),
    ],
)
def test_a_bad_spin_row_is_kept_with_one_sentence(changes, complaint):
    reading = spin(changes)
    assert not reading.usable and reading.refusal.startswith("spin log, row 1") and complaint in reading.refusal
    assert isnan(reading.star_emf_v_rms)
    assert {name: reading.raw[name] for name in changes} == changes


def test_no_star_point_in_a_delta():
    row = spin_row(120, 48.1, "AN", quantity="AC phase rms", connection="delta")
    refusal = read_spin([row], STATOR)[0].refusal
    assert "a delta has no star point, so only AC line rms is allowed; read between two leads" in refusal


@pytest.mark.parametrize(
    "changes, complaint",
    [
        (dict(amps="0"), 'Current, rms [A]: "0" was given; a number from 0.001 to 1000 A'),
        (dict(amps="two"), '"two" is not a number'),
        (dict(lead="AB"), 'Lead: "AB" was given; allowed are "A", "B", "C"'),
        (dict(speed_rpm=""), "both speed cells are empty"),
        (dict(amps="B", lead="2.1"), "it is a word for Lead, so see whether the cells were swapped"),
        (dict(meter="cheap"), 'Meter: "cheap" was given'),
    ],
)
def test_a_bad_shorted_row_is_kept_with_one_sentence(changes, complaint):
    reading = read_shorted([shorted_row(120, 2.1), shorted_row(200, 2.3) | changes], STATOR)[1]
    assert not reading.usable and reading.refusal.startswith("shorted log, row 2") and complaint in reading.refusal


@pytest.mark.parametrize("read, row", [(read_shorted, shorted_row(200, 2.3)), (read_spin, spin_row(120, 48.1))])
def test_an_empty_meter_cell_counts_as_averaging(read, row):
    averaging, left_out = (read([row | {"meter": word}], STATOR)[0] for word in ("averaging", ""))
    assert left_out.usable and replace(left_out, raw={}) == replace(averaging, raw={})


@pytest.mark.parametrize(
    "changes, complaint",
    [
        (dict(ohms="0.1"), "0.1 Ω is not more than the 0.2 Ω of the probes alone; the winding must show more"),
        (dict(lead_zero_ohm=""), "touch the probes together, read that, and type the reading"),
        (dict(lead_zero_ohm="-0.2"), 'Probes touching [Ω]: "-0.2" was given'),
        (dict(terminals="AN"), 'Leads: "AN" was given'),
        (dict(copper_c="warm"), 'Winding temperature [°C]: "warm" is not a number'),
        (dict(copper_c="400"), "from -40 to 150 °C is allowed"),
        (dict(ohms="1.3 kΩ"), '"1.3 kΩ" is not a number in Ω'),
    ],
)
def test_a_bad_ohms_row_is_kept_with_one_sentence(changes, complaint):
    reading = read_ohms([ohms_row(13.4) | changes])[0]
    assert not reading.usable and reading.refusal.startswith("ohms log, row 1") and complaint in reading.refusal


# Bird, ch. 19/20: a delta of 5 Ω shows 2/3 × 5 Ω between two leads and is a star of 5/3 Ω.
def test_half_the_reading_is_the_star_in_delta_too():
    reading = read_ohms([ohms_row(13.4) | dict(ohms=f"{10 / 3 + 0.2:.4f}", lead_zero_ohm="0.2000")])[0]
    assert reading.star_ohm == pytest.approx(5 / 3, rel=1e-4)


def test_missing_copper_temperature_is_said():
    reading = read_ohms([ohms_row(13.4, copper_c="")])[0]
    assert reading.usable and reading.warnings == ("ohms log, row 1: no winding temperature logged, 20 °C assumed.",)


# f = p n / 60: 42 poles turn 120 rpm into 42 Hz, 48 poles into 48 Hz.
@pytest.mark.parametrize(
    "hz, words",
    [
        ("42", "makes 48 Hz but 42 Hz was logged (-12 %); 42 poles would agree"),
        ("56", "56 poles would agree"),
        # the wave counted twice, or every second one missed
        ("96", "makes 48 Hz but 96 Hz was logged (+100 %); that is twice the count"),
        ("24", "that is half the count"),
        # 36 / (3 gcd(36, 18)) is not whole, so 36 poles are unbalanced: Bianchi and
        # Dai Prè, IEE Proc. EPA 153(3) 2006 (from memory).
        ("36", "no likely pole count for 36 slots would agree"),
        ("3000", "no likely pole count"),
    ],
)
def test_rpm_and_hz_that_disagree_name_the_pole_count_that_would_agree(hz, words):
    reading = spin(electrical_hz=hz)
    assert reading.usable and reading.speed_rpm == 120 and words in reading.warnings[0]
    assert reading.warnings[0].startswith("spin log, row 1: 120 rpm with 48 poles")


def test_three_percent_between_rpm_and_hz_pass():
    assert spin(electrical_hz="49.3").warnings == ()
    assert spin(electrical_hz="49.6").warnings != ()


def test_rpm_and_hz_exchanged_are_recognised():
    assert "they look exchanged" in spin(speed_rpm="48", electrical_hz="120").warnings[0]


# 36/48 reaches 400 Hz at 1000 rpm.
@pytest.mark.parametrize("meter, warned", [("averaging", True), ("unknown", True), ("true rms", False)])
def test_a_cheap_meter_above_its_band(meter, warned):
    above, below = spin(speed_rpm="1010", meter=meter), spin(speed_rpm="990", meter=meter)
    assert above.usable and bool(above.warnings) == warned and below.warnings == ()
    assert not warned or "read at 404 Hz" in above.warnings[0]
    amps = read_shorted([shorted_row(1010, 2.1, meter=meter)], STATOR)[0]
    assert bool(amps.warnings) == warned


def test_direct_current_is_marked_as_converted_with_an_assumed_drop():
    reading = spin(quantity="DC bridge, bare", terminals="", meter="averaging", speed_rpm="1010")
    assert reading.usable and reading.terminals == "ABC"
    assert len(reading.warnings) == 1 and "an assumed 0.45 V per diode at meter current" in reading.warnings[0]


def test_rows_keep_their_numbers_and_blank_rows_say_nothing():
    blank = dict.fromkeys(columns_of("spin"), " ")
    readings = read_spin([spin_row(120, 48), blank, spin_row(200, 80) | {"volts": "?"}, spin_row(300, 120)], STATOR)
    assert [(r.row, r.usable) for r in readings] == [(1, True), (3, False), (4, True)]


def test_what_most_rows_say_is_the_wiring_as_found():
    rows = [spin_row(100, 40, connection="delta"), spin_row(200, 80), spin_row(300, 120), spin_row(400, 160)]
    assert [r.usable for r in read_spin(rows, STATOR)] == [False, True, True, True]
    assert [r.usable for r in read_spin(rows, STATOR, found_connection="delta")] == [True, False, False, False]
    logs = read_logs({"spin": rows, "shorted": [shorted_row(200, 2, connection="delta")]}, STATOR)
    assert [r.usable for r in logs.shorted] == [False]


@pytest.mark.parametrize(
    "read, options",
    [
        (read_spin, (STATOR,)),
        (read_shorted, (STATOR,)),
        (read_ohms, ()),
        (read_coast, (STATOR,)),
        (read_drill, (STATOR,)),
    ],
)
def test_empty_logs_are_refused(read, options):
    for rows in ([], [{"note": ""}]):
        with pytest.raises(BadInput, match="no reading is in it; at least one filled row is needed; log one first"):
            read(rows, *options)


def test_missing_and_exchanged_columns_are_refused():
    row = spin_row(120, 48.1)
    with pytest.raises(BadInput, match="spin log: the column volts is missing; the columns are speed_rpm, "):
        read_spin([{name: cell for name, cell in row.items() if name != "volts"}], STATOR)
    exchanged = ("volts", "electrical_hz", "speed_rpm", *columns_of("spin")[3:])
    with pytest.raises(BadInput, match="the column volts stands where speed_rpm belongs; .* in this order; put"):
        read_spin([{name: row[name] for name in exchanged if name in row}], STATOR)
    own_column = {"remark": "mine"} | row
    assert read_spin([own_column], STATOR)[0].usable


def test_columns_of_the_drag_logs_are_required():
    with pytest.raises(BadInput, match="coast log: the column time_s is missing; the columns are time_s, speed_rpm, "):
        read_coast([{"speed_rpm": "300"}], STATOR)
    with pytest.raises(BadInput, match="drill log: the column watts_alone is missing; "):
        read_drill([{"speed_rpm": "300", "watts_coupled": "200"}], STATOR)


def test_the_logs_of_the_drag_play_no_part_in_the_coil():
    raw = {"spin": [spin_row(120, 48.1)], "shorted": [], "ohms": [], "coast": [{"nonsense": "x"}]}
    assert [reading.usable for reading in read_logs(raw, STATOR).spin] == [True]


def test_all_logs_in_one_go_with_their_sentences():
    raw = {
        "spin": [spin_row(120, 48.1) | dict(volts="x"), spin_row(200, 80)],
        "shorted": [],
        "ohms": [ohms_row(13.4, copper_c="")],
    }
    logs = read_logs(raw, STATOR)
    assert [len(log) for log in (logs.spin, logs.shorted, logs.ohms)] == [2, 0, 1]
    assert [s.split(":")[0] for s in logs.sentences] == ["spin log, row 1, Volts [V]", "ohms log, row 1"]


CELLS = st.one_of(
    st.text(max_size=12),
    st.sampled_from(
        [
            "120",
            "48,1",
            "AB",
            "AN",
            "ABC",
            "star",
            "delta",
            "AC line rms",
            "AC phase rms",
            "DC bridge, bare",
            "averaging",
            "true rms",
            "0",
            "-1",
            "1e99",
            "nan",
            "A",
            "16",
            "0.2",
            "5 mV",
            "1,200",
            "200 Hz",
            "",
        ]
    ),
    st.none(),
)


@settings(max_examples=300)
@given(st.data(), st.sampled_from(["spin", "shorted", "ohms"]))
def test_any_rows_get_a_verdict_and_nothing_is_lost(data, log):
    rows = data.draw(st.lists(st.tuples(*[CELLS for _ in columns_of(log)]), max_size=4))
    rows = [dict(zip(columns_of(log), cells)) for cells in rows]
    readings = getattr(read_logs({log: rows}, STATOR), log)
    assert [r.raw for r in readings] == [row for row in rows if any((cell or "").strip() for cell in row.values())]
    for reading in readings:
        number = {"spin": "star_emf_v_rms", "shorted": "line_amps_rms", "ohms": "star_ohm"}[log]
        assert reading.usable == (getattr(reading, number) > 0)
        assert reading.usable or reading.refusal.startswith(reading.where)
