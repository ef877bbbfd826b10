"""The coil-by-coil survey: planted faults found, sound machines left alone, rows read and refused."""

import re
from math import inf, isnan

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sentences import sentences_of
from statorbook.bench.coils import read_coils
from statorbook.cautions import Exposure
from statorbook.errors import BadInput
from statorbook.fits.coil_survey import fit_survey
from statorbook.winding.grouping import Grouping
from statorbook.winding.stator import Stator

wording = sentences_of("fits")

BIG, SMALL = Stator(slots=36, poles=48), Stator(slots=12, poles=14)
CHAIN = Grouping(series=12, parallel=1, connection="star")
WHERE = "coils log, row 1"


def coil_row(tooth, volts="", ohms="", speed="", note=""):
    return {"tooth": f"{tooth}", "volts": f"{volts}", "speed_rpm": f"{speed}", "ohms": f"{ohms}", "note": note}


def log(slots=36, faults=None, *, volts=2.4, ohms=0.56):
    """Every coil alike but for (share of the volts, share of the ohms) by tooth; OL for infinite ohms."""
    shares = {tooth: (faults or {}).get(tooth, (1.0, 1.0)) for tooth in range(1, slots + 1)}
    return [
        coil_row(tooth, f"{volts * v:.4f}", "OL" if r == inf else f"{ohms * r:.4f}", "150" if tooth == 1 else "")
        for tooth, (v, r) in shares.items()
    ]


def surveyed(rows, stator=BIG, **options):
    return fit_survey(read_coils(rows, stator), stator, **options)


def refusals(*rows, stator=BIG):
    return [reading.refusal for reading in read_coils(list(rows), stator)]


# --- rows ---------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "row, sentence",
    [
        (
            coil_row("37", "2"),
            (
                f'{WHERE}, Tooth: "37" was given; a tooth from 1 to 36 is allowed; type the number of the tooth '
                "that the coil is on, counted from your mark."
            ),
        ),
        (
            coil_row("", "2"),
            (
                f"{WHERE}, Tooth: the cell is empty; a tooth from 1 to 36 is allowed; type the number of the "
                "tooth that the coil is on, counted from your mark."
            ),
        ),
        (
            coil_row("seven", "2"),
            (
                f'{WHERE}, Tooth: "seven" was given; a tooth from 1 to 36 is allowed; type the number of the '
                "tooth that the coil is on, counted from your mark."
            ),
        ),
        (
            coil_row("7", note="varnish"),
            (
                f"{WHERE}: neither volts nor ohms are in it; one of them or both are allowed; type what the meter "
                "showed on this coil."
            ),
        ),
        (
            coil_row("7", "lots"),
            (
                f'{WHERE}, Volts [V]: "lots" is not a number; a number from 0 to 2000 V is allowed; type the reading '
                "again."
            ),
        ),
        (
            coil_row("7", "OL"),
            (
                f'{WHERE}, Volts [V]: "OL" is not a number; a number from 0 to 2000 V is allowed; choose a higher '
                "range of the meter, then type the reading again."
            ),
        ),
        (
            coil_row("7", "2", "-0.1"),
            f'{WHERE}, Reading [Ω]: "-0.1" was given; a number from 0 to 10000 Ω is allowed; type the reading again.',
        ),
        (
            coil_row("7", ohms="2.3 MΩ"),
            (
                f'{WHERE}, Reading [Ω]: "2.3 MΩ" is not a number in Ω; a number from 0 to 10000 Ω is allowed; for '
                "kΩ and MΩ type OL, else type the reading again in Ω."
            ),
        ),
        (
            coil_row("7", "2", speed="fast"),
            (
                f'{WHERE}, Speed [rpm]: "fast" is not a number; a number from 1 to 20000 rpm is allowed; type the '
                "reading again."
            ),
        ),
    ],
)
def test_a_bad_row_is_named_and_kept(row, sentence):
    (reading,) = read_coils([row], BIG)
    assert reading.refusal == sentence and reading.raw == row and not reading.usable


@pytest.mark.parametrize("shown", ["OL", "ol", "O.L", "0L", ".0L", "0.L", "open", "Open", "∞", "inf", "overload"])
def test_no_way_through_is_understood(shown):
    assert read_coils([coil_row(7, ohms=shown)], BIG)[0].coil_ohms == inf


@pytest.mark.parametrize("shown", ["opened", "1", "0", "O", "L"])
def test_other_cells_are_not_taken_for_ol(shown):
    assert read_coils([coil_row(7, ohms=shown)], BIG)[0].coil_ohms != inf


def test_an_empty_speed_is_that_of_the_row_above():
    rows = [coil_row(1, "2.4", speed="150"), coil_row(2, "2.4"), coil_row(3, "3.2", speed="200"), coil_row(4, "3.2")]
    readings = read_coils(rows, BIG)
    assert [r.speed_rpm for r in readings] == [150, 150, 200, 200] and [r.raw for r in readings] == rows
    # 2.4 / 150 = 3.2 / 200 = 0.016 V/rpm.
    survey = fit_survey(readings, BIG)
    assert [share.value for share in survey.emf_share.values()] == pytest.approx([1, 1, 1, 1])
    assert wording("Rows without a speed are") in survey.notes


def test_without_any_speed_it_is_taken_as_steady():
    survey = surveyed([coil_row(tooth, "2.4") for tooth in range(1, 37)])
    assert wording("No speed is typed, so") in survey.notes
    assert survey.emf_share[36].value == 1.0


def test_volts_without_a_usable_speed_are_refused_once_one_is_typed():
    rows = [
        coil_row(1, "2.4"),
        coil_row(2, "2.4", speed="150"),
        coil_row(3, "2.4", speed="fast"),
        coil_row(4, "2.4"),
        coil_row(5, ohms="0.5"),
    ]
    said = refusals(*rows)
    words = wording("Speed [rpm]: no usable speed")
    assert said[0] == f"coils log, row 1, {words}" and said[3] == f"coils log, row 4, {words}"
    assert said[1] == "" == said[4] and '"fast" is not a number' in said[2]


def test_a_bad_cell_elsewhere_does_not_lose_the_speed():
    assert refusals(coil_row(99, "2.4", speed="150"), coil_row(2, "2.4"))[1] == ""
    # A row whose cells a comma has split may hold anything under the speed.
    assert "no usable speed" in refusals({**coil_row(1, "2.4", speed="150"), None: ["5"]}, coil_row(2, "2.4"))[1]


# --- what the readings point at -----------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "volts, ohms, what",
    [
        (0.75, 0.88, "shorted turns"),
        (0.85, 0.85, "shorted turns or too few turns"),
        (1.0, 1.3, "bad joint or broken strand"),
        (0.0, inf, "open coil"),
        (0.01, 300.0, "open coil"),
        (0.01, 0.01, "bridged coil"),
        (0.01, 0.3, "bridged coil"),
        (0.85, 1.0, "weak volts"),
        (2.0, 2.0, "more turns, or two coils between the probes"),
        (1.2, 1.0, "strong volts"),
        (1.0, inf, "readings that do not fit together"),
        (0.01, 1.0, "readings that do not fit together"),
        (1.0, 0.5, "readings that do not fit together"),
    ],
)
def test_one_planted_coil(volts, ohms, what):
    survey = surveyed(log(faults={7: (volts, ohms)}))
    assert [(odd.tooth, odd.what) for odd in survey.odd] == [(7, what)]
    assert "1 coil stands out." in survey.sentences


@pytest.mark.parametrize(
    "cells, what",
    [
        (("", "OL"), "open coil"),
        (("0.01", ""), "no volts"),
        (("", "0.00"), "bridged coil"),
        (("2.0", ""), "weak volts"),
        (("", "0.80"), "bad joint or broken strand"),
        (("", "0.40"), "low ohms"),
        (("4.8", ""), "strong volts"),
    ],
)
def test_one_planted_coil_with_one_of_its_cells_empty(cells, what):
    rows = log()
    rows[6] = coil_row(7, *cells)
    assert [(odd.tooth, odd.what) for odd in surveyed(rows).odd] == [(7, what)]


def test_the_sentence_of_an_odd_coil():
    (odd,) = surveyed(log(faults={7: (1.0, 1.25)})).odd
    assert Exposure.SOLDER in odd.sentence.exposures
    assert odd.sentence.text == wording("Tooth 7, bad joint or")
    assert odd.share == pytest.approx(0.25) and odd.off_in == ("ohms",)


def test_a_sound_machine_half_read():
    rows = [coil_row(tooth, "2.40", speed="150") for tooth in range(1, 31)] + [coil_row(32, ohms="0.56")]
    assert surveyed(rows).sentences == (
        wording("Of 36 coils the volts"),
        wording("No coil differs from the"),
        wording("No volts yet of teeth"),
        wording("No ohms yet of teeth"),
    )


def test_only_ohms():
    survey = surveyed([coil_row(tooth, ohms="0.56") for tooth in range(1, 37)])
    assert survey.emf_share == {} and survey.sentences[-1] == wording("No volts yet; a few")
    assert survey.spread == {"ohms": 0.0} and survey.missing == {"volts": tuple(range(1, 37)), "ohms": ()}


def test_the_last_digit_is_no_fault():
    # A meter with 0.1 Ω steps on 0.56 Ω shows 0.5 or 0.6.
    rows = [coil_row(tooth, ohms="0.5" if tooth in (3, 20) else "0.6") for tooth in range(1, 37)]
    assert surveyed(rows).odd == ()
    rows[8] = coil_row(9, ohms="0.2")
    assert [odd.tooth for odd in surveyed(rows).odd] == [9]


def test_rows_of_one_tooth_are_joined_and_compared():
    rows = [*log(), coil_row(7, "2.88"), coil_row(9, ohms="OL"), coil_row(11, "2.42")]
    survey = surveyed(rows)
    # (2.40 + 2.88) / 2 = 1.1 × 2.40; 0.48 V apart are 18 % of 2.64.
    assert survey.emf_share[7].value == pytest.approx(1.1) and survey.emf_share[7].how == "tooth 7, volts, 2 rows"
    assert survey.open_teeth == () and survey.ohm_share[9].value == pytest.approx(1.0)
    assert survey.notes[1:] == (wording("Tooth 7: its volts in"), wording("Tooth 9: its ohms in"))


def test_a_parallel_winding_as_found_is_said_to_hide_faults():
    found = Grouping(series=4, parallel=3, connection="star")
    said = surveyed(log(), found=found).notes[-1].text
    assert said.startswith(wording("As found (4 in series"))
    assert len(surveyed(log(), found=CHAIN).notes) == 1


def test_a_wide_spread_is_said():
    # 8 % up and down once round the ring, as with a rotor off its centre.
    rows = [coil_row(k, f"{2.4 * (1 + 0.08 * np.cos(2 * np.pi * k / 36)):.3f}") for k in range(1, 37)]
    survey = surveyed(rows)
    assert survey.odd == () and any(wording("rise and fall once round") in str(note) for note in survey.notes)


@pytest.mark.parametrize(
    "rows, sentence",
    [
        ([coil_row(tooth, "0.00", "0.5") for tooth in range(1, 7)], wording("coils log: 0 is typed")),
        ([coil_row(tooth, ohms="OL") for tooth in range(1, 7)], wording("coils log: OL is typed")),
        ([coil_row(99, "2")], wording("coils log: none of its")),
    ],
)
def test_what_cannot_be_compared_is_refused(rows, sentence):
    with pytest.raises(BadInput, match=f"^{re.escape(sentence)} Caution: "):
        surveyed(rows)


def test_a_single_coil_is_neither_odd_nor_sound():
    survey = surveyed([coil_row(7, "2.4", "0.5", "150")])
    assert survey.odd == () and not any("No coil is off" in said for said in survey.sentences)


@pytest.mark.parametrize("typed", ["0.1", ".01", "0.1 Ω"])
def test_a_tenth_of_an_ohm_is_no_open_coil(typed):
    (reading,) = read_coils([coil_row(7, "2.4", typed)], BIG)
    assert reading.usable and reading.coil_ohms < 1.0


@given(st.floats(0.3, 30.0), st.floats(0.05, 20.0), st.floats(0.3, 0.9))
def test_shares_do_not_depend_on_the_size_of_the_machine(volts, ohms, share):
    rows = [coil_row(k, f"{volts * (share if k == 5 else 1):.9g}", f"{ohms:.9g}") for k in range(1, 13)]
    survey = surveyed(rows, SMALL)
    assert survey.emf_share[5].value == pytest.approx(share, rel=1e-6) and [odd.tooth for odd in survey.odd] == [5]


# --- made-up machines with 1 % noise on each reading --------------------------------------------------------------

PLANTED = {
    # Volts times another factor of up to 1: the current in the shorted turns works against the magnets.
    "shorted turns": lambda rng: np.multiply(rng.uniform(0.6, 0.9), (rng.uniform(0.9, 1.0), 1.0)),
    "too few turns": lambda rng: (rng.uniform(0.6, 0.9),) * 2,
    "bad joint or strand": lambda rng: (1.0, rng.uniform(1.14, 2.0)),
    "open": lambda rng: (0.0, inf),
    "bridged": lambda rng: (rng.uniform(0.0, 0.03), rng.uniform(0.0, 0.03)),
}


def noisy(rng, slots, faults):
    """As typed with four figures; in half of the machines the speed is read anew for every coil."""
    emf, ohm, anew = rng.uniform(0.004, 0.05), rng.uniform(0.2, 5.0), rng.random() < 0.5
    rows, rpm = [], rng.uniform(60, 300)
    for tooth in range(1, slots + 1):
        v, r = faults.get(tooth, (1.0, 1.0))
        rpm = rng.uniform(60, 300) if anew else rpm
        volts = emf * rpm * v * (1 + 0.01 * rng.normal())
        ohms = "OL" if r == inf else f"{ohm * r * (1 + 0.01 * rng.normal()):.4g}"
        rows.append(coil_row(tooth, f"{volts:.4g}", ohms, f"{rpm:.4g}" if anew or tooth == 1 else ""))
    return rows


@pytest.mark.parametrize("stator", [BIG, SMALL], ids=["36 coils", "12 coils"])
@pytest.mark.parametrize("kind", PLANTED)
def test_a_planted_fault_is_named(stator, kind):
    rng, named = np.random.default_rng(2), []
    for _ in range(60):
        bad = int(rng.integers(1, stator.slots + 1))
        survey = surveyed(noisy(rng, stator.slots, {bad: PLANTED[kind](rng)}), stator)
        named.append([odd.tooth for odd in survey.odd] == [bad])
    # At least 95 % of the planted coils are to be named, and no other.
    assert np.mean(named) >= 0.95


@pytest.mark.parametrize("stator", [BIG, SMALL], ids=["36 coils", "12 coils"])
def test_a_sound_machine_is_left_alone(stator):
    rng = np.random.default_rng(3)
    alarms = [bool(surveyed(noisy(rng, stator.slots, {}), stator).odd) for _ in range(150)]
    assert np.mean(alarms) <= 0.05


def test_the_truth_lies_within_the_plus_minus():
    rng, inside = np.random.default_rng(4), []
    for _ in range(60):
        survey = surveyed(noisy(rng, 36, {}))
        inside += [abs(each.value - 1.0) <= each.plus_minus for each in survey.ohm_share.values()]
    # 95 %, give or take three sampling errors of 2160 shares, and 2 % since a coil is part of its own middle.
    assert 0.93 <= np.mean(inside) <= 0.985


def test_what_was_not_read_is_not_a_number():
    (reading,) = read_coils([coil_row(7, ohms="0.5")], BIG)
    assert isnan(reading.coil_volts_rms) and isnan(reading.speed_rpm)
