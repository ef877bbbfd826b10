"""The promise beside a run: its band by hand from the coil's ends, and what the headline says of both."""

from dataclasses import replace

import numpy as np
import pytest

from samples.run_samples import machine_built, truth
from sentences import sentences_of
from statorbook.bench.logs import blank_row
from statorbook.first_run.case import run_case
from statorbook.first_run.flows import Deviation, amps_table
from statorbook.first_run.misfit import amps_sigma
from statorbook.first_run.promise import promise_of
from statorbook.first_run.rows import read_run
from statorbook.first_run.words import headline

wording = sentences_of("first_run")

ROWS = (
    {"speed_rpm": "700", "dc_amps": "9.0", "dc_volts": "51.0"},
    {"speed_rpm": "800", "dc_amps": "14.0", "dc_volts": "53.0"},
    {"speed_rpm": "900", "dc_amps": "13.0", "dc_volts": "52.0"},
    {"speed_rpm": "300", "line_volts": "20"},
)


@pytest.fixture(scope="module")
def built(tmp_path_factory):
    return machine_built(tmp_path_factory.mktemp("data"), "spring_pipe")[:2]


def case_of(built, rows=ROWS):
    machine, grouping = built
    cells = [blank_row("run") | row for row in rows]
    return run_case(machine, grouping, read_run(cells, machine.stator, machine.drive))


@pytest.mark.outside(
    "± of the amps that a machine was promised to give",
    source="JCGM 100:2008 (GUM), 5.1.3: half of what each end of a constant changes, in quadrature; the exact solver",
    number="3 rows, and the curve at its ends",
    tolerance="3 %",
    seen="derived",
)
def test_the_band_of_the_promise_is_that_of_the_constants(built):
    machine, grouping = built
    promise = promise_of(case_of(built), case_of(built))
    best = machine.coil

    def amps(coil, rpm, volts):
        moved = {name: getattr(coil, field) / getattr(best, field) for name, field in SHARES.items()}
        return float(truth(machine, grouping, rpm, bank_v=volts, **moved)[0])

    def half_width(rpm, volts):
        ends = [amps(coil, rpm, volts) for coil in machine.ends]
        pairs = np.array(ends).reshape(-1, 2)
        return np.sqrt(np.sum(((pairs[:, 0] - pairs[:, 1]) / 2.0) ** 2))

    settings = ((700.0, 51.0), (800.0, 53.0), (900.0, 52.0))
    assert promise.amps == pytest.approx([amps(best, *at) for at in settings], rel=0.01)
    assert promise.promised_half_width_amps == pytest.approx([half_width(*at) for at in settings], rel=0.03)
    assert promise.read_half_width_amps == pytest.approx(1.96 * amps_sigma(case_of(built)))
    # The curve: from 0.85 of the slowest to 1.06 of the fastest row, at the rows' mean of 52 V.
    speeds = promise.speed_rpm
    assert (speeds[0], speeds[-1], len(speeds)) == (pytest.approx(595.0), pytest.approx(954.0), 120)
    middle, half = amps(best, speeds[-1], 52.0), half_width(speeds[-1], 52.0)
    assert (promise.low_amps[-1], promise.high_amps[-1]) == pytest.approx((middle - half, middle + half), rel=0.01)
    assert promise.low_amps[0] == 0.0 <= promise.high_amps[0]  # below its cut-in no current flows backwards


SHARES = {"emf": "emf_v_per_rpm", "ohm": "ohm", "henry": "henry"}


def test_the_middle_row_of_those_that_belong_says_how_far_off_it_is(built):
    every = case_of(built)
    off = np.array([9.0, 14.0, 13.0]) / amps_table(every, [Deviation()])[0] - 1.0
    assert promise_of(every, every).off_share == pytest.approx(np.median(off))
    assert promise_of(every.without([1]), every).off_share == pytest.approx(np.mean(off[1:]))
    assert np.isnan(promise_of(every.without([1, 2, 3]), every).off_share)
    open_leads = case_of(built, ROWS[3:])
    assert promise_of(open_leads, open_leads) is None
    assert headline(open_leads, None) == wording("1 row at open leads, none")


def test_the_headline_names_the_row_of_most_watts_and_both_widths(built):
    case = case_of(built)
    promise = promise_of(case, case)
    # 14 A at 53 V are 742 W, more than 13 A at 52 V.
    rounded = replace(
        promise,
        amps=np.array([10.0, 10.0, 20.0]),
        promised_half_width_amps=np.array([0.4, 0.6, 1.6]),
        read_half_width_amps=np.array([0.27, 0.42, 0.39]),
        off_share=-0.123,
    )
    # (4 + 6 + 8) / 3 % and (3 + 3 + 3) / 3 %.
    assert headline(case, rounded) == wording("At most 742 W were read")
