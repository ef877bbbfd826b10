"""Windings at given speeds: the end-to-end reference, where charging starts, balance, refusals."""

from dataclasses import replace
from math import inf, nan, pi, sqrt

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from published.tables import rows
from sentences import exactly, sentences_of
from statorbook.bank.battery import BankState
from statorbook.errors import BadInput
from statorbook.operation.speed_sweep import Conditions, cut_in_rpm, sweep
from statorbook.quantities import RAD_S_PER_RPM
from statorbook.winding.coil import CoilConstants
from statorbook.winding.grouping import Grouping
from statorbook.winding.stator import Stator
from statorbook.winding.winding import Winding
from strategies import numbers, windings

wording = sentences_of("operation")

# The machine of tests/published/end_to_end.csv: 0.5 V·s/rad peak, 1.0 Ω and 8 mH a coil, all at 20 °C; 27.6 V, 0.9 V a
# diode.
REFERENCE = CoilConstants(emf_v_per_rpm=0.5 / sqrt(2) * 2 * pi / 60, ohm=1.0, henry=8e-3)
AT_20_C = Conditions(copper_c=20.0, magnet_c=20.0, drag_nm=0.0, diode_drop_v=0.9)
BANK = BankState(name="charging", volts=27.6, ohm=0.0)
ENDLESS_RPM = 1e7


def reference(series, connection="star"):
    return Winding(
        stator=Stator(slots=36, poles=48),
        coil=REFERENCE,
        grouping=Grouping(series=int(series), parallel=12 // int(series), connection=connection),
    )


def test_reference_machine_has_the_constants_of_the_table():
    # ke per phase 0.5, 1.0, 1.5 V·s/rad peak; R 83.3, 333, 750 mΩ; L 0.667, 2.667, 6.0 mH.
    for series, ke, ohm, henry in ((1, 0.5, 0.0833, 0.667e-3), (2, 1.0, 0.333, 2.667e-3), (3, 1.5, 0.750, 6.0e-3)):
        star = reference(series).star_equivalent()
        assert star.emf_v_per_rpm * sqrt(2) * 60 / (2 * pi) == pytest.approx(ke, rel=1e-9)
        assert (star.ohm, star.henry) == pytest.approx((ohm, henry), rel=2e-3)


# The two agree within 0.3 %, see tests/published/README.md.
@pytest.mark.outside(
    "amps of one machine in three groupings against speed",
    source="own implicit time-stepping with step-size extrapolation, and the circuit simulator ngspice",
    number="1.14 to 29.84 A, 23 rows of end_to_end.csv",
    tolerance="1 %",
    seen="derived",
)
@pytest.mark.parametrize("method", ["chart", "exact"])
@pytest.mark.parametrize(
    "row", rows("end_to_end"), ids=lambda row: f"{row['series']:g}S{row['parallel']:g}P-{row['speed_rpm']:g}rpm"
)
def test_end_to_end_reference(row, method):
    speed = ENDLESS_RPM if row["speed_rpm"] == inf else row["speed_rpm"]
    found = sweep([reference(row["series"])], np.array([speed]), BANK, AT_20_C, method=method)
    assert found.dc_amps[0, 0] == pytest.approx(row["dc_amps"], rel=0.01)


@pytest.mark.outside(
    "line amps of the same machine at 600 rpm",
    source="own implicit time-stepping with step-size extrapolation, and the circuit simulator ngspice",
    number="15.68, 10.145, 7.047 A rms",
    tolerance="1 %",
    seen="derived",
)
@pytest.mark.parametrize("method", ["chart", "exact"])
def test_end_to_end_line_amps(method):
    found = sweep([reference(s) for s in (1, 2, 3)], np.array([600.0]), BANK, AT_20_C, method=method)
    assert found.phase_amps_rms[:, 0] == pytest.approx([15.68, 10.145, 7.047], rel=0.01)


@pytest.mark.outside(
    "speed at which the same machine begins to charge",
    source="own implicit time-stepping with step-size extrapolation, and the circuit simulator ngspice",
    number="324.2, 162.1, 108.1 rpm",
    tolerance="0.05 %",
    seen="derived",
)
@pytest.mark.parametrize(("series", "expected_rpm"), [(1, 324.2), (2, 162.1), (3, 108.1)])
def test_end_to_end_conduction_start(series, expected_rpm):
    assert cut_in_rpm(reference(series), BANK, AT_20_C) == pytest.approx(expected_rpm, rel=5e-4)
    assert cut_in_rpm(reference(series), BANK, AT_20_C) * series == pytest.approx(
        cut_in_rpm(reference(1), BANK, AT_20_C), rel=1e-12
    )


@pytest.mark.outside(
    "amps of the same machine at endless speed",
    source="3 ke / (π p L), exact",
    number="29.84, 14.92, 9.95 A",
    tolerance="0.1 %",
    seen="derived",
)
@pytest.mark.parametrize(("series", "expected_amps"), [(1, 29.84), (2, 14.92), (3, 9.95)])
def test_end_to_end_limit_current(series, expected_amps):
    ke, henry = 0.5 * series, 8e-3 * series**2 / 12
    assert 3 * ke / (pi * 24 * henry) == pytest.approx(expected_amps, rel=1e-3)
    at_the_end = sweep([reference(series)], np.array([ENDLESS_RPM]), BANK, AT_20_C).dc_amps[0, 0]
    assert at_the_end == pytest.approx(3 * ke / (pi * 24 * henry), rel=1e-3)


@pytest.mark.parametrize("method", ["chart", "exact"])
@settings(max_examples=25)
@given(speed_rpm=st.floats(350.0, 3000.0), series=st.sampled_from([2, 3, 4, 6, 12]))
def test_bank_and_drop_in_step_with_series_divide_the_current(method, speed_rpm, series):
    bank = BankState(name="charging", volts=27.6 * series, ohm=0.0)
    # 0.2 V a diode, so that twelve times as much is still a drop that is allowed.
    one, more = (
        sweep([reference(s)], np.array([speed_rpm]), b, replace(AT_20_C, diode_drop_v=0.2 * s), method=method)
        for s, b in ((1, BANK), (series, bank))
    )
    assert more.dc_amps * series == pytest.approx(one.dc_amps, rel=1e-9)


# All coils of a delta three to a third.
@pytest.mark.outside(
    "cut-in of a delta over that of a star",
    source="star and delta of three phases, exact",
    number="√3",
    tolerance="1e-12",
    seen="derived",
)
def test_delta_starts_to_charge_at_a_speed_the_root_of_three_higher():
    assert cut_in_rpm(reference(2, "delta"), BANK, AT_20_C) == pytest.approx(
        sqrt(3) * cut_in_rpm(reference(2), BANK, AT_20_C), rel=1e-12
    )


# Both conventions of cut-in are in use.
@pytest.mark.outside(
    "peak over mean of a six-pulse wave",
    source="Mohan, Undeland, Robbins, Power Electronics, 3rd ed., ch. 5",
    number="1.35, π/3",
    tolerance="1e-12",
    seen="from memory",
)
def test_conduction_start_is_the_peak_convention():
    line = reference(1).line_volts_rms(cut_in_rpm(reference(1), BANK, AT_20_C))
    assert sqrt(2) * line == pytest.approx(27.6 + 1.8, rel=1e-12)
    assert 3 * sqrt(2) / pi * line * pi / 3 == pytest.approx(29.4, rel=1e-12)


@settings(max_examples=50)
@given(windings(), st.floats(10.0, 500.0), st.floats(0.0, 1.1))
def test_current_starts_exactly_at_cut_in(winding, volts, drop):
    bank, conditions = BankState(name="half full", volts=volts, ohm=0.0), Conditions(diode_drop_v=drop)
    start = cut_in_rpm(winding, bank, conditions)
    found = sweep([winding], np.array([start * 0.99999, start * 1.001]), bank, conditions, method="exact")
    assert found.dc_amps[0, 0] == 0.0
    assert found.dc_amps[0, 1] > 0.0


@settings(max_examples=50)
@given(
    windings(),
    numbers(1.0, 3000.0),
    st.floats(5.0, 200.0),
    st.floats(0.0, 0.2),
    numbers(1e-4, 0.2),
    st.floats(0.0, 5.0),
)
def test_shaft_power_is_what_arrives_and_what_is_lost(winding, speed, volts, bank_ohm, cable_ohm, drag):
    conditions = Conditions(cable_ohm=cable_ohm, drag_nm=drag)
    found = sweep([winding], np.array([speed]), BankState(name="empty", volts=volts, ohm=bank_ohm), conditions)
    parts = {name: getattr(found, f"{name}_watts")[0, 0] for name in ("bank", "copper", "diode", "cable", "drag")}
    assert all(watts >= 0.0 for watts in parts.values())
    assert found.shaft_watts[0, 0] == pytest.approx(sum(parts.values()), rel=1e-12)
    assert found.torque_nm[0, 0] * 2 * pi * speed / 60 == pytest.approx(found.shaft_watts[0, 0], rel=1e-12)
    assert parts["drag"] == pytest.approx(drag * 2 * pi * speed / 60, rel=1e-12)
    # Power at the bank's terminals: into its stiff volts, and what its inner resistance takes.
    inside = parts["cable"] * bank_ohm / cable_ohm
    assert parts["bank"] == pytest.approx(volts * found.dc_amps[0, 0] + inside, rel=1e-6, abs=1e-9)


def test_many_windings_at_many_speeds_are_what_each_is_alone():
    groups = [reference(s, c) for s in (1, 3, 12) for c in ("star", "delta")]
    speeds, bank = np.linspace(20.0, 1500.0, 15), BankState(name="half full", volts=26.0, ohm=0.02)
    conditions = Conditions(cable_ohm=0.01)
    together = sweep(groups, speeds, bank, conditions)
    for row, winding in enumerate(groups):
        for column in (0, 7, 14):
            alone = sweep([winding], speeds[column : column + 1], bank, conditions)
            for name in (
                "dc_amps",
                "bank_watts",
                "phase_amps_rms",
                "copper_watts",
                "diode_watts",
                "cable_watts",
                "torque_nm",
            ):
                assert getattr(together, name)[row, column] == pytest.approx(
                    getattr(alone, name)[0, 0], rel=1e-7, abs=1e-12
                )
    own = sweep(groups, np.tile(speeds, (len(groups), 1)), bank, conditions)
    assert own.dc_amps == pytest.approx(together.dc_amps, rel=1e-12)


def test_warm_magnets_start_later_and_warm_copper_loses_more():
    warm = Conditions(copper_c=120.0, magnet_c=70.0, drag_nm=0.0)
    # Ferrite −0.2 %/K, common practice, no source: 10 % weaker after 50 K.
    assert cut_in_rpm(reference(2), BANK, warm) == pytest.approx(
        cut_in_rpm(reference(2), BANK, AT_20_C) / 0.9, rel=1e-9
    )
    hot, cold = (sweep([reference(2)], np.array([400.0]), BANK, c) for c in (warm, AT_20_C))
    assert hot.dc_amps[0, 0] < cold.dc_amps[0, 0]
    ratio = hot.copper_watts / hot.phase_amps_rms**2 * cold.phase_amps_rms**2 / cold.copper_watts
    assert ratio[0, 0] == pytest.approx((235 + 120) / (235 + 20), rel=1e-9)


@pytest.mark.parametrize(
    ("changes", "sentence"),
    [
        ({"copper_c": 201}, wording("winding temperature: 201 °C was")),
        ({"magnet_c": -41}, wording("magnet temperature: -41 °C was")),
        ({"drag_nm": -0.1}, wording("drag: -0.1 N·m was given")),
        ({"diode_drop_v": 3.5}, wording("diode drop: 3.5 V was")),
        ({"cable_ohm": nan}, wording("cable resistance: nan Ω was")),
        ({"drag_nm_per_1000rpm": -0.1}, wording("rise of the drag: -0.1")),
        ({"drag_nm": "some"}, wording("drag: 'some' is not a")),
    ],
)
def test_impossible_conditions_are_refused(changes, sentence):
    with pytest.raises(BadInput, match=exactly(sentence)):
        Conditions(**changes)


def test_a_negative_speed_is_refused():
    with pytest.raises(BadInput, match=exactly(wording("EMF: a value below 0"))):
        sweep([reference(1)], np.array([-100.0]), BANK, AT_20_C)


# Hand algebra: 0.3 N·m at rest and 0.2 more for each 1000 rpm make 0.36 and 0.48 N·m at 300 and 900 rpm, which take
# 0.36 × 10π = 11.31 W and 0.48 × 30π = 45.24 W.
def test_drag_that_rises_with_the_speed():
    rising = replace(AT_20_C, drag_nm=0.3, drag_nm_per_1000rpm=0.2)
    found = sweep([reference(3), reference(1)], np.array([300.0, 900.0]), BANK, rising)
    assert found.drag_watts == pytest.approx(np.array([[11.31, 45.24]] * 2), rel=1e-3)
    alike = sweep([reference(3), reference(1)], np.array([300.0, 900.0]), BANK, AT_20_C)
    assert np.array_equal(found.dc_amps, alike.dc_amps) and np.array_equal(found.copper_watts, alike.copper_watts)


def test_drag_that_does_not_rise_is_the_same_to_the_last_bit():
    speeds = np.linspace(1.0, 1500.0, 400)
    found = sweep([reference(3)], speeds, BANK, replace(AT_20_C, drag_nm=0.37))
    assert np.array_equal(found.drag_watts[0], 0.37 * speeds * RAD_S_PER_RPM)


def test_a_sweep_row_by_row():
    both = sweep([reference(1), reference(3)], np.array([200.0, 400.0]), BANK, AT_20_C)
    for each, series in zip(both.one_by_one(), (1, 3), strict=True):
        alone = sweep([reference(series)], np.array([200.0, 400.0]), BANK, AT_20_C)
        assert each.dc_amps.shape == (1, 2) and each.dc_amps == pytest.approx(alone.dc_amps)


def test_drag_rises_with_speed_by_hand():
    # 0.4 N·m at rest and 0.2 N·m more for each 1000 rpm.
    drag = Conditions(drag_nm=0.4, drag_nm_per_1000rpm=0.2).drag_at_nm(np.array([0.0, 500.0, 2000.0]))
    assert drag == pytest.approx([0.4, 0.5, 0.8])
