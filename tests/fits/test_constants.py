"""The three fits together: terminal constants, coil constants, and ± that keep their promise."""

from math import sqrt

import numpy as np
import pytest
from scipy import stats

from samples.made_up_logs import MACHINE, STATOR, Machine, clean_logs, random_machine
from sentences import in_us, sentences_of
from statorbook.bench import coils, meters
from statorbook.bench.ohms import read_ohms
from statorbook.bench.readings import read_logs
from statorbook.bench.spin import read_spin
from statorbook.errors import BadInput
from statorbook.fits import coil_shares, coil_survey, drag, inductance_other_ways
from statorbook.fits import emf as emf_fit
from statorbook.fits import fit as fit_rows
from statorbook.fits import inductance as inductance_fit
from statorbook.fits.constants import coil_estimates, terminal_constants, warmth_words
from statorbook.fits.emf import fit_emf
from statorbook.quantities.facts import Fact
from statorbook.quantities.unit_systems import filled
from statorbook.winding.grouping import Grouping
from statorbook.winding.winding import Winding

wording = sentences_of("fits")


def test_terminal_constants_collect_values_and_sentences():
    logs = clean_logs(MACHINE)
    logs["spin"][2]["volts"] = "30.0"
    logs["spin"][5]["meter"] = "digital"
    found = terminal_constants(read_logs(logs, STATOR), STATOR)
    for estimate, truth in ((found.emf_v_per_rpm, 0.23), (found.ohm, 6.7), (found.henry, 0.037)):
        assert estimate.low < truth < estimate.high
    assert [s.split(":")[0] for s in found.sentences[:2]] == ["spin log, row 6, Meter", "spin log, row 3"]
    assert found.emf_v_per_rpm == found.emf_fit.estimate and found.henry == found.inductance_fit.estimate


def test_without_shorted_rows_the_inductance_is_assumed_and_said():
    found = terminal_constants(read_logs(clean_logs(MACHINE) | {"shorted": []}, STATOR), STATOR)
    assert found.henry.assumed and found.inductance_fit is None
    assert found.sentences[-1].startswith(wording("No row is in the"))


def test_shorted_rows_that_cannot_be_used_are_counted_and_not_denied():
    logs = clean_logs(MACHINE)
    bad = [row | {"amps": "much"} for row in logs["shorted"]]
    found = terminal_constants(read_logs(logs | {"shorted": bad}, STATOR), STATOR)
    assert found.sentences[-1].startswith(
        f"None of the {len(bad)} rows of the shorted log can be used (the words below each say why), so the inductance "
        "is assumed"
    )


def test_the_temperature_taken_from_the_ohms_log_is_said():
    rows = [row | {"copper_c": "31"} for row in clean_logs(MACHINE)["ohms"]]
    said = warmth_words(read_ohms(rows))
    assert said.startswith(wording("The magnets are taken to"))
    assert said.endswith(wording("if they were warmer while"))
    assert warmth_words(read_ohms([row | {"copper_c": ""} for row in rows])) == ""


def test_ohms_are_never_assumed():
    with pytest.raises(BadInput, match=wording("ohms log: no reading is")):
        terminal_constants(read_logs(clean_logs(MACHINE) | {"ohms": []}, STATOR), STATOR)


@pytest.mark.parametrize("grouping", STATOR.groupings()[:6], ids=lambda g: g.label)
def test_coil_estimates_rebuild_the_leads(grouping):
    found = terminal_constants(read_logs(clean_logs(MACHINE), STATOR), STATOR)
    coil = coil_estimates(STATOR, grouping, found, conductor="aluminium")
    star = Winding(stator=STATOR, coil=coil.constants, grouping=grouping).star_equivalent()
    for name in ("emf_v_per_rpm", "ohm", "henry"):
        lead, one = getattr(found, name), getattr(coil, name)
        assert getattr(star, name) == pytest.approx(lead.value, rel=1e-12)
        assert one.plus_minus / one.value == pytest.approx(lead.plus_minus / lead.value)
        assert one.how == f"one coil, worked out from {lead.how}"
    assert coil.constants.conductor == "aluminium"


@pytest.mark.outside(
    "ohms of equal coils in series, in parallel, and of a delta as star",
    source="Bird, Electrical Circuit Theory and Technology, ch. 5 and 34",
    number="n R, R / n, R / 3",
    tolerance="0.2 %",
    seen="from memory",
)
def test_one_coil_from_a_delta_of_two_paths():
    # 12 coils of 0.5 Ω in 2 paths of 6 make 1.5 Ω of phase, 0.5 Ω as a star.
    found = terminal_constants(read_logs(clean_logs(Machine(STATOR, 0.1, 0.5, 0.003)), STATOR), STATOR)
    coil = coil_estimates(STATOR, Grouping(series=6, parallel=2, connection="delta"), found)
    assert coil.ohm.value == pytest.approx(0.5, rel=2e-3)
    assert coil.emf_v_per_rpm.value == pytest.approx(0.1 * sqrt(3) / 6, rel=2e-3)


def test_fields_have_the_names_the_job_keeps():
    from statorbook.job.parts.registry import CoilPart

    found = terminal_constants(read_logs(clean_logs(MACHINE), STATOR), STATOR)
    coil = coil_estimates(STATOR, STATOR.groupings()[0], found)
    part = CoilPart(**in_us(lambda: coil.fields))  # what the file says is the same whoever reads it
    assert part.emf_v_per_rpm == pytest.approx(coil.emf_v_per_rpm.value, rel=1e-5)
    assert part.henry_plus_minus == pytest.approx(coil.henry.plus_minus, rel=1e-5)
    assert (part.ohm_how, part.ohm_assumed) == (filled(coil.ohm.how), False) and "at 20 °C" in part.ohm_how


@pytest.mark.parametrize("trials", [60, pytest.param(1000, marks=pytest.mark.slow)])
def test_the_plus_minus_keeps_its_promise_on_random_machines(trials):
    rng = np.random.default_rng(48)
    hits = np.zeros(3, int)
    for _ in range(trials):
        machine = random_machine(rng)
        found = terminal_constants(read_logs(clean_logs(machine, rng=rng), machine.stator), machine.stator)
        pairs = ((found.emf_v_per_rpm, machine.emf), (found.ohm, machine.ohm), (found.henry, machine.henry))
        hits += [estimate.low <= truth <= estimate.high for estimate, truth in pairs]
    # Binomial distribution: 99.9 % of such counts, if 95 % is true. The inductance's ± adds those of EMF and ohms as if
    # they were independent, which is wide on the safe side; no band may hold the truth more often than 98.5 % though.
    least, most = stats.binom.interval(0.999, trials, 0.95)
    _, widest = stats.binom.interval(0.999, trials, 0.975)
    assert np.all(hits >= least) and np.all(hits[:2] <= most) and hits[2] <= min(widest, 0.985 * trials + 1), hits


@pytest.mark.slow
def test_a_planted_row_is_named_and_a_clean_log_is_left_alone():
    """A spin row 10 to 40 % off in each of 1000 made-up logs, and 1000 logs without one."""
    rng = np.random.default_rng(49)
    named = alarms = 0
    for _ in range(1000):
        machine = random_machine(rng)
        rows = clean_logs(machine, rng=rng)["spin"]
        read = {"found_connection": machine.connection}
        alarms += bool(fit_emf(read_spin(rows, machine.stator, **read), machine.stator).odd_rows)
        at = int(rng.integers(len(rows)))
        share = 1.0 + rng.choice((-1, 1)) * rng.uniform(0.10, 0.40)
        rows[at]["volts"] = f"{float(rows[at]['volts']) * share:.4g}"
        odd = fit_emf(read_spin(rows, machine.stator, **read), machine.stator).odd_rows
        named += [each.row for each in odd] == [at + 1]
    assert named >= 950 and alarms <= 50, (named, alarms)


MODULES = (coil_shares, coil_survey, coils, drag, emf_fit, fit_rows, inductance_fit, inductance_other_ways, meters)
FACTS = [
    (f"{module.__name__}.{name}", fact)
    for module in MODULES
    for name, value in vars(module).items()
    if name.isupper() and not name.startswith("_")
    for fact in (value.values() if isinstance(value, dict) else [value])
    if isinstance(fact, Fact)
]


@pytest.mark.parametrize("name, fact", FACTS, ids=[name for name, _ in FACTS])
def test_every_assumed_number_is_plausible_and_sourced(name, fact):
    assert fact.low <= fact.value <= fact.high and fact.unit
    # A share of something, or an efficiency, is less than the whole.
    assert fact.high < 1 or not fact.unit.startswith(("of the", "-"))
    assert "no source" in fact.source or "from memory" in fact.source or "IEC" in fact.source
