"""The stored chart: how near it is to the exact solver, where it may be used, and that it is what the script builds."""

import shutil
from importlib.resources import files
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sentences import sentences_of
from statorbook.bridge import chart as bridge_chart
from statorbook.bridge.chart import BUILD, beyond_crease, build, checksum, covers, crease_half_angle, currents, look_up

wording = sentences_of("bridge")

NAMES = ("dc", "phase_rms", "dc_rms")
# Currents of a bridge into 0 V, in units of E/|Z|: each phase a full sine, the DC its rectified sum.
SHORT_CIRCUIT = {"dc": 3.0 / np.pi, "phase_rms": np.sqrt(0.5), "dc_rms": 3.0 / np.pi}
STORED = files("statorbook") / "tables" / "bridge_chart.npz"


@pytest.fixture(scope="module")
def compared():
    """(u, q, chart, exact) at 6,000 points that are not on the grid, the crease and the edges among them."""
    dice = np.random.default_rng(2)
    u, q = dice.uniform(0.0, 1.0, 6000), 10.0 ** dice.uniform(-2.0, 2.0, 6000)
    crease = np.cos(crease_half_angle(q[:600]) + dice.normal(0.0, 0.01, 600))
    u[:600], q[600:650], q[650:700] = np.clip(crease, 0.0, 1.0), 0.01, 100.0
    return u, q, look_up(u, q), currents(u, q)


@pytest.mark.parametrize("name", NAMES)
def test_chart_is_within_a_thousandth_of_the_short_circuit_current(compared, name):
    _, _, chart, exact = compared
    assert np.abs(chart[name] - exact[name]).max() < 1e-3 * SHORT_CIRCUIT[name]


@pytest.mark.parametrize("name", NAMES)
def test_chart_is_within_half_a_percent_of_the_value_up_to_095(compared, name):
    u, _, chart, exact = compared
    usual = u <= 0.95
    assert np.abs(chart[name][usual] / exact[name][usual] - 1.0).max() < 5e-3


@given(st.floats(0.0, 1.0), st.floats(-2.0, 2.0))
def test_chart_equals_the_solver_anywhere(u, log_q):
    q = 10.0**log_q
    chart, exact = look_up(np.array([u]), np.array([q])), currents(np.array([u]), np.array([q]))
    for name in NAMES:
        assert abs(chart[name][0] - exact[name][0]) < 1e-3 * SHORT_CIRCUIT[name]


@pytest.mark.outside(
    "amps into no volts over E/|Z|: mean, phase rms",
    source="exact",
    number="3/π, 1/√2",
    tolerance="0.01 %",
    seen="derived",
)
def test_at_no_volts_the_chart_holds_the_short_circuit():
    found = look_up(np.zeros(40), np.geomspace(0.01, 100.0, 40))
    assert found["dc"] == pytest.approx(3.0 / np.pi, rel=1e-4)
    assert found["phase_rms"] == pytest.approx(np.sqrt(0.5), rel=1e-4)


def test_no_current_at_all_from_ratio_one_on():
    found = look_up(np.array([1.0, 1.0 + 1e-12, 1.5, 40.0]), np.array([0.01, 1.0, 3.0, 100.0]))
    assert all((found[name] == 0.0).all() for name in NAMES)


def test_currents_never_rise_with_the_voltage_ratio():
    u, q = np.meshgrid(np.linspace(0.0, 1.02, 2001), np.geomspace(0.01, 100.0, 60), indexing="ij")
    found = look_up(u, q)
    assert all(np.diff(found[name], axis=0).max() <= 0.0 for name in NAMES)
    assert all(found[name].min() >= 0.0 for name in NAMES)


def test_chart_covers_what_it_was_built_for_and_no_more():
    least, most = BUILD["least_ratio"], BUILD["most_ratio"]
    assert covers(np.array([0.0, 0.5, 1.0]), np.array([least, 1.0, most])).all()
    assert not covers(np.array([-1e-9, 0.5, 0.5]), np.array([1.0, 0.999 * least, 1.001 * most])).any()


@pytest.mark.outside(
    "half-angle at which gaps open behind ohms alone",
    source="exact: foot of the six-pulse ripple, u = √3/2",
    number="30°",
    tolerance="0.02°",
    seen="derived",
)
def test_crease_starts_at_the_foot_of_the_ripple_for_small_reactance():
    assert np.degrees(crease_half_angle(np.array([1e-4]))) == pytest.approx([30.0], abs=0.02)


def test_stored_crease_is_where_the_solver_puts_it():
    q = 10.0 ** np.random.default_rng(4).uniform(-2.0, 2.0, 50)
    crease = crease_half_angle(q)
    assert np.abs(beyond_crease(np.cos(crease), q)).max() < 1e-5
    assert (beyond_crease(np.cos(crease - 0.01), q) < 0.0).all()
    assert (beyond_crease(np.cos(crease + 0.01), q) > 0.0).all()


def test_a_coarse_rebuild_equals_the_stored_table():
    every = 20
    coarse = {
        name: (points - 1) // every + 1 if name in ("gap_points", "closed_points", "ratios") else points
        for name, points in BUILD.items()
    }
    rebuilt = build(coarse)
    with STORED.open("rb") as stored:
        tables = dict(np.load(stored, allow_pickle=False))
    assert tables.keys() == {*rebuilt, "checksum"}
    for name, table in rebuilt.items():
        thinned = tables[name][(slice(None, None, every),) * table.ndim]
        # Before the first solved line stands an extrapolated one, which depends on the spacing.
        first = 1 if name.startswith("gap") else 0
        # Close to u = 1 the currents are a millionth of a short circuit's, and rounding shows.
        assert thinned[first:] == pytest.approx(table[first:], rel=1e-4)
        if first:
            at_line_0 = np.polyfit([1.0, 2.0, 3.0], table[1:4], 2)[-1]  # the parabola through the next three
            assert table[0] == pytest.approx(np.maximum(at_line_0, 0.0), abs=1e-9)


def test_stored_checksum_belongs_to_the_stored_tables():
    with STORED.open("rb") as stored:
        tables = dict(np.load(stored, allow_pickle=False))
    kept = str(tables.pop("checksum"))
    assert checksum(tables) == kept
    one = next(iter(tables))
    tables[one] = tables[one].copy()
    tables[one].flat[-1] *= 1.0001
    assert checksum(tables) != kept


@pytest.fixture
def other_chart(tmp_path, monkeypatch):
    """Let the chart be read from a copy in which a test may change it; write it back with `save`."""
    folder = tmp_path / "tables"
    folder.mkdir()
    shutil.copy(Path(str(STORED)), folder)
    monkeypatch.setattr(bridge_chart, "files", lambda package: tmp_path)
    bridge_chart.coefficients.cache_clear()
    yield folder / "bridge_chart.npz"
    bridge_chart.coefficients.cache_clear()


def test_an_untouched_copy_is_accepted(other_chart):
    assert other_chart.exists()
    assert look_up(np.array([0.5]), np.array([2.0]))["dc"][0] > 0.0


def test_a_corrupted_chart_is_refused(other_chart):
    with np.load(other_chart, allow_pickle=False) as stored:
        tables = dict(stored)
    name = next(key for key in tables if key.endswith("_dc"))
    tables[name][3, 3] *= 1.01
    np.savez(other_chart, **tables)
    with pytest.raises(ArithmeticError, match=wording("^the stored bridge chart does")):
        look_up(np.array([0.5]), np.array([2.0]))
