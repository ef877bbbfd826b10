"""Where the ± of the constants comes from: derived formulas against outside examples, limit cases, and the library."""

from math import hypot, pi, sqrt

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import stats

from published.tables import rows
from samples.made_up_logs import STATOR, ohms_row, shorted_row, spin_row
from statorbook.bench.meters import Meter, Meters
from statorbook.bench.readings import read_logs
from statorbook.fits.derivations import henry_share, ohm_share, slope_share, weighted_line
from statorbook.fits.emf import fit_emf
from statorbook.fits.inductance import fit_inductance
from statorbook.fits.inductance_other_ways import from_resistors
from statorbook.fits.line import slope_through_origin
from statorbook.fits.ohms import fit_ohms
from statorbook.quantities import Estimate, number

SHARES = st.floats(0.002, 0.03)
few = settings(max_examples=6)


def of_three(x, y, s):
    return {f"{letter}_{row}": float(v) for letter, all_ in zip("xys", (x, y, s)) for row, v in enumerate(all_, 1)}


@pytest.mark.outside(
    "slope through the origin of three points, and its standard deviation",
    source="NIST StRD, linear regression, data set NoInt2, certified values",
    number="0.727272727272727, 0.0420827318078432",
    tolerance="1e-12",
    seen="from memory",
)
def test_the_line_has_the_certified_digits():
    points = [row for row in rows("nist_strd") if row["set"] == "NoInt2"]
    x, y = ([row[axis] for row in points] for axis in "xy")
    slope, sigma = weighted_line()
    values = of_three(x, y, [0.369274472937998] * 3)  # the residual standard deviation certified with it
    assert number(slope, **values) == pytest.approx(0.727272727272727, rel=1e-12)
    assert number(sigma, **values) == pytest.approx(0.0420827318078432, rel=1e-12)


@few
@given(*[st.lists(st.floats(0.1, 10.0), min_size=3, max_size=3)] * 3)
def test_the_line_is_the_library_s(x, y, s):
    slope, sigma = weighted_line()
    found = slope_through_origin(x, y, s)
    assert number(slope, **of_three(x, y, s)) == pytest.approx(found.value)
    assert number(sigma, **of_three(x, y, s)) == pytest.approx(found.meter_error)


@pytest.mark.outside(
    "ten resistors held against one standard: its error does not average out",
    source="JCGM 100:2008 (GUM), 5.2.2, example",
    number="1 Ω of 10 kΩ, and not 0.32 Ω",
    tolerance="1 %",
    seen="from memory",
)
def test_what_all_share_does_not_average_out():
    # 100 mΩ of 1000 Ω; the sum of ten, 10 kΩ, has the same share of error as their mean.
    assert 10_000 * number(slope_share(), n=10, t=1, s=0.0, c=1e-4) == pytest.approx(1.0)
    assert 10_000 * number(slope_share(), n=10, t=1, s=1e-4, c=0.0) == pytest.approx(0.32, rel=0.02)


@few
@given(st.integers(4, 20).map(lambda half: 2 * half), SHARES)
def test_the_plus_minus_of_volts_per_rpm(count, share):
    # Rows read up and down by turns so that they scatter by the meter's usual 1 %; t by scipy.
    off = 0.01 * sqrt((count - 1) / count)
    spun = [(rpm, 0.4 * rpm * (1 + off * (-1) ** k)) for k, rpm in enumerate(np.linspace(100, 400, count))]
    cells = [spin_row(0, 1) | {"speed_rpm": f"{rpm:.3f}", "volts": f"{volts:.5f}"} for rpm, volts in spun]
    meters = Meters(volts=Meter(quantity="volts", percent=100 * share))
    found = fit_emf(read_logs({"spin": cells}, STATOR, meters=meters).spin, STATOR, machine_c=20.0).estimate
    derived = number(slope_share(), n=count, t=stats.t.ppf(0.975, count - 1), s=0.01, c=share)
    assert found.plus_minus / found.value == pytest.approx(derived, rel=2e-3)


@few
@given(st.integers(8, 90), st.integers(1, 5), SHARES, st.sampled_from(["copper", "aluminium"]))
def test_the_plus_minus_of_ohms_that_no_row_takes_away(tenths, zero, share, conductor):
    cells = {"ohms": f"{tenths / 10:.1f}", "lead_zero_ohm": f"{zero / 10:.1f}", "copper_c": ""}
    meters = Meters(ohms=Meter(quantity="ohms", percent=100 * share))
    logs = read_logs({"ohms": [ohms_row(1, pair) | cells for pair in ("AB", "BC", "CA")]}, STATOR, meters=meters)
    # 235 and 225, the metals' constants: IEC 60034-1 (from memory).
    metal = {"copper": 235, "aluminium": 225}[conductor]
    derived = number(ohm_share(), U=tenths / 10, z=zero / 10, d=0.1, c=share, k=1.96, tau=10, T=metal)
    assert fit_ohms(logs.ohms, conductor=conductor).shared_share == pytest.approx(derived)


@few
@given(st.floats(0.7, 6.0), SHARES, SHARES, st.sampled_from(["star", "delta"]))
def test_the_plus_minus_of_henries_on_resistors(q, volts, ohms, joined):
    load = 2.0 if joined == "star" else 2.0 / 3  # of one star phase
    emf = Estimate(value=0.2, plus_minus=0.2 * volts, unit="V/rpm", how="made up")
    ohm = Estimate(value=3.0, plus_minus=3.0 * ohms, unit="Ω", how="made up")
    amps = 60 / ((3.0 + load) * hypot(1, q))
    found = from_resistors(STATOR, emf, ohm, speed_rpm=300, resistor_ohm=2.0, joined=joined, line_amps=amps)
    assert found.value == pytest.approx(q * (3.0 + load) / (2 * pi * 120))
    # Resistors 2 %, amps 2 %, speed 1 % are assumed, as the library says.
    path = hypot(3.0 * ohms, 0.02 * load) / (3.0 + load)
    derived = number(henry_share(), q=q, e=volts, i=0.02, r=path, v=0.01)
    assert found.plus_minus / found.value == pytest.approx(derived, rel=0.02)


@few
@given(st.floats(1.0, 6.0), st.floats(0.002, 0.015), st.floats(0.002, 0.015))
def test_the_plus_minus_of_henries_from_joined_leads(q, volts, ohms):
    rpm = q * 3.0 / 0.02 / (2 * pi * 24) * 60  # 3 Ω, 20 mH, 24 pairs of poles
    amps = 0.2 * rpm / (3.0 * hypot(1, q))
    row = shorted_row(1, 1) | {"speed_rpm": f"{rpm:.6f}", "amps": f"{amps:.7f}"}
    emf = Estimate(value=0.2, plus_minus=0.2 * volts, unit="V/rpm", how="made up")
    ohm = Estimate(value=3.0, plus_minus=3.0 * ohms, unit="Ω", how="made up")
    shorted = read_logs({"shorted": [row] * 5}, STATOR, meters=Meters(amps=Meter(quantity="amps", band_hz=1e4))).shorted
    found = fit_inductance(shorted, emf, ohm, STATOR, machine_c=20.0).estimate
    # Rows without scatter count as half of their 1 %; speed is part of that 1 % and no error of its own.
    own = number(slope_share(), n=5, t=stats.t.ppf(0.975, 4), s=0.005, c=0.0)
    derived = number(henry_share(), q=q, e=volts, i=hypot(0.02, own), r=ohms, v=0.0)
    assert found.plus_minus / found.value == pytest.approx(derived, rel=0.03)


def test_limit_cases():
    # Fast: the ohms no longer count, one percent of volts is one percent of henries. At q = 1 twice as much.
    assert number(henry_share(), q=1e6, e=0.01, i=0.0, r=0.5, v=0.5) == pytest.approx(0.01)
    assert number(henry_share(), q=1.0, e=0.0, i=0.01, r=0.0, v=0.0) == pytest.approx(0.02)
    assert number(henry_share(), q=0.5, e=0.0, i=0.0, r=0.01, v=0.0) == pytest.approx(0.04)


@pytest.mark.outside(
    "one sigma of a reading rounded to its last digit",
    source="JCGM 100:2008 (GUM), 4.3.7, rectangular distribution of half-width a",
    number="a / √3",
    tolerance="exact",
    seen="from memory",
)
def test_the_last_digit_is_a_rectangle():
    # One rounded reading less one without digits to speak of cannot be told: both have them, so √2 of one.
    half_width = 0.05
    found = number(ohm_share(), U=2.0, z=0.0, d=2 * half_width, c=0.0, k=1.0, tau=0.0, T=235)
    assert found * 2.0 == pytest.approx(sqrt(2) * half_width / sqrt(3))
    assert Meter(quantity="ohms").digits_sigma(2 * half_width) == pytest.approx(half_width / sqrt(3))
