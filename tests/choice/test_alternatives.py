"""What would suit instead: no worse than brute force, the same as a direct comparison, and said in plain words."""

import re
from dataclasses import replace

import numpy as np
import pytest

from samples.machine_samples import JET, machine
from sentences import exactly, in_us, sentences_of
from statorbook.bank.battery import Bank
from statorbook.choice.alternatives import BELT_STEP, needs_another_way, other_ways
from statorbook.choice.comparison import Setting, compare
from statorbook.choice.rewinding import rewind_figures, rewound
from statorbook.choice.verdict import describe
from statorbook.drives.engine import Engine
from statorbook.drives.known_speed import KnownSpeed
from statorbook.drives.pedals import Pedals
from statorbook.drives.pipe import Pipe
from statorbook.drives.piped_jet import PipedJet
from statorbook.drives.wind_rotor import WindRotor
from statorbook.errors import BadInput
from statorbook.operation.operating_point import operating_points
from statorbook.operation.speed_sweep import Conditions
from statorbook.winding.coil import CoilConstants
from statorbook.winding.grouping import Grouping
from statorbook.winding.stator import Stator
from statorbook.winding.winding import Winding

wording = sentences_of("choice")

# Every machine here is invented.
SMALL = CoilConstants(emf_v_per_rpm=0.012, ohm=0.3, henry=0.0006, magnet="neodymium")


def compared(made):
    return compare(made.stator, made.coil, made.drive, made.bank, made.setting)


def sound_watts(rows):
    return max((row.point.bank_watts for row in rows if row.verdict != "rejected"), default=0.0)


def of(ways, kind):
    return [way for way in ways if way.kind == kind]


AGM_12, AGM_24 = Bank(chemistry="AGM", cells=6), Bank(chemistry="AGM", cells=12)
SMALL_STATOR = Stator(slots=12, poles=14)
MADE = {
    "jet": machine(),
    "wind": machine(SMALL_STATOR, coil=replace(SMALL, emf_v_per_rpm=0.01),
                    drive=WindRotor(rotor_diameter_m=2.5, wind_m_s=6.0), bank=AGM_24),
    "pedals": machine(Stator(slots=36, poles=42), coil=CoilConstants(emf_v_per_rpm=0.0098, ohm=0.34, henry=0.0017),
                      drive=Pedals(rider_watts=100.0, gear_ratio=3.0), bank=AGM_12),
    # 9 slots, 12 poles at a crawl: nothing comes near 48 V.
    "crawl": machine(Stator(slots=9, poles=12), coil=CoilConstants(emf_v_per_rpm=0.02, ohm=0.4, henry=0.002),
                     drive=KnownSpeed(working_rpm=120.0)),
    # Far too many volts for 12 V, and thin wire: the amps burn it.
    "engine": machine(SMALL_STATOR, coil=CoilConstants(emf_v_per_rpm=0.06, ohm=2.0, henry=0.01, magnet="neodymium"),
                      drive=Engine(rated_watts=4000.0, engine_rpm=3600.0, pulley_ratio=1.0), bank=AGM_12,
                      setting=Setting(wire_diameter_mm=0.5)),
    # Thin wire again: a bank of 48 V would take most watts, but only with coils too hot to last.
    "hot": machine(SMALL_STATOR, coil=SMALL, bank=AGM_12, setting=Setting(wire_diameter_mm=0.7),
                   drive=Engine(rated_watts=2000.0, engine_rpm=3600.0, pulley_ratio=1.0)),
    "geared too high": machine(SMALL_STATOR, coil=SMALL, drive=Pedals(rider_watts=100.0, gear_ratio=60.0), bank=AGM_24,
                               setting=Setting(conditions=Conditions(drag_nm=0.8))),
    "stuck": machine(SMALL_STATOR, coil=SMALL, drive=Pedals(rider_watts=100.0, gear_ratio=6.0), bank=AGM_24,
                     setting=Setting(conditions=Conditions(drag_nm=80.0))),
}  # fmt: skip


@pytest.fixture(scope="module")
def known():
    """Comparison and ways of every machine, worked out once."""
    found = {name: compared(made) for name, made in MADE.items()}
    return {name: (found[name], other_ways(made, found[name])) for name, made in MADE.items()}


@pytest.mark.parametrize("name", MADE)
def test_one_way_for_speed_and_turns_and_one_for_each_other_voltage(known, name):
    _, ways = known[name]
    assert sorted(way.kind for way in ways) == ["bank", "bank", "rewind", "speed"]


# The rows are those of a direct comparison of the changed machine, verdict and all.
@pytest.mark.parametrize("name", MADE)
def test_every_row_is_the_comparisons_own(known, name):
    found, ways = known[name]
    base = sound_watts(found.rows)
    for way in ways:
        rows = compared(way.machine).rows
        assert repr(way.row) in map(repr, rows)  # text, as what was not measured is not a number and equals nothing
        assert way.sound == (way.row.verdict != "rejected")
        if way.kind != "rewind":
            assert (way.row.point.bank_watts if way.sound else 0.0) == sound_watts(rows)
        assert way.gain_watts == pytest.approx((way.row.point.bank_watts if way.sound else 0.0) - base)


@pytest.mark.outside(
    "cells in series of 12, 24 and 48 V banks",
    source="common practice, no source",
    number="4, 8, 16 LiFePO4; 6, 12, 24 lead-acid",
    tolerance="exact",
    seen="from memory",
)
@pytest.mark.parametrize("name", ["jet", "pedals", "wind", "stuck"])
def test_other_banks_equal_a_direct_comparison(known, name):
    made = MADE[name]
    cells = {"LiFePO4": (4, 8, 16), "AGM": (6, 12, 24)}[made.bank.chemistry]
    others = [count for count in cells if count != made.bank.cells]
    ways = sorted(of(known[name][1], "bank"), key=lambda way: way.machine.bank.cells)
    assert [way.machine.bank.cells for way in ways] == others
    for way, count in zip(ways, others, strict=True):
        rows = compare(made.stator, made.coil, made.drive, replace(made.bank, cells=count), made.setting).rows
        best = next((row for row in rows if row.verdict != "rejected"), rows[0])
        assert repr(way.row) == repr(best) and way.factor == count / made.bank.cells


# Brute force: 121 turns ratios over the same span, each settled on its own.
@pytest.mark.parametrize("name", ["jet", "wind", "pedals", "crawl"])
def test_no_turns_ratio_gives_more_than_the_one_found(known, name):
    made, (way,) = MADE[name], of(known[name][1], "rewind")
    coils = [rewound(made, ratio).coil for ratio in np.geomspace(1 / 32, 32, 121)]
    tried = [Winding(stator=made.stator, coil=coil, grouping=made.found) for coil in coils]
    watts = operating_points(made.drive, tried, made.bank.states[1], made.setting.conditions).bank_watts
    assert way.sound and way.row.grouping == made.found
    assert way.row.point.bank_watts >= 0.999 * watts.max()
    assert way.machine == rewound(made, way.factor)


# Turns times coils in series is all that counts (hand algebra), so no other grouping of the same connection gains.
def test_joined_in_another_way_the_best_turns_give_the_same(known):
    made, (way,) = MADE["jet"], of(known["jet"][1], "rewind")
    other = replace(made, found=Grouping(series=3, parallel=4))
    (again,) = of(other_ways(other, known["jet"][0]), "rewind")
    assert again.row.point.bank_watts == pytest.approx(way.row.point.bank_watts, rel=2e-3)
    assert 3 * again.factor == pytest.approx(12 * way.factor, rel=0.03)


# Brute force where the amps per mm² and the runaway volts reject most ratios: a full comparison at each.
def test_where_most_turns_are_rejected_the_best_sound_ones_are_found(known):
    made, (way,) = MADE["engine"], of(known["engine"][1], "rewind")
    rows = [compared(rewound(made, ratio)).find(made.found) for ratio in np.geomspace(1 / 32, 32, 25)]
    assert sum(row.verdict == "rejected" for row in rows) >= 10
    assert way.sound and way.row.point.bank_watts >= 0.99 * sound_watts(rows)


def brute_speeds(made, drives):
    """Most sound watts over some drives, a full comparison for each."""
    return max(sound_watts(compared(replace(made, drive=drive)).rows) for drive in drives)


def test_no_gear_gives_more_than_the_one_found(known):
    made, (way,) = MADE["pedals"], of(known["pedals"][1], "speed")
    drives = [replace(made.drive, gear_ratio=3.0 * factor) for factor in np.geomspace(1 / 5, 5, 23)]
    assert way.sound and way.row.point.bank_watts >= 0.997 * brute_speeds(made, drives)
    assert way.machine.drive == replace(made.drive, gear_ratio=3.0 * way.factor)


def test_no_wind_gear_gives_more_than_the_one_found(known):
    made, (way,) = MADE["wind"], of(known["wind"][1], "speed")
    drives = [replace(made.drive, gear_ratio=factor) for factor in np.geomspace(1 / 5, 5, 17)]
    assert way.sound and way.row.point.bank_watts >= 0.997 * brute_speeds(made, drives)


def test_no_runner_gives_more_than_the_one_found(known):
    made, (way,) = MADE["jet"], of(known["jet"][1], "speed")
    # The jet of 14 mm turns runners of 5 to 60 jet diameters, 70 to 840 mm.
    drives = [replace(made.drive, pitch_diameter_mm=mm) for mm in np.geomspace(70.0, 840.0, 17)]
    assert way.sound and way.row.point.bank_watts >= 0.997 * brute_speeds(made, drives)
    # Definition of the speed ratio: the best speed goes with 1 / pitch diameter.
    assert way.machine.drive.pitch_diameter_mm == pytest.approx(260.0 / way.factor)


def test_no_pulley_gives_more_than_the_one_found(known):
    made, (way,) = MADE["engine"], of(known["engine"][1], "speed")
    drives = [replace(made.drive, pulley_ratio=factor) for factor in np.geomspace(1 / 5, 5, 17)]
    assert way.row.point.bank_watts >= 0.97 * brute_speeds(made, drives)
    # Definition: where it settles over pulley ratio × 3600 rpm, the governed speed at the generator.
    share = way.row.point.speed_rpm / (way.machine.drive.pulley_ratio * 3600.0)
    assert share < 0.7
    assert f" The engine would be pulled down to {share:.0%} of its speed and may stall." in way.words


def test_a_piped_jet_is_searched_like_the_jet_at_its_net_head():
    # Hand algebra: a pipe that is wide takes next to nothing, so the runner comes out the same as without it.
    pipe = Pipe(length_m=10.0, bore_mm=300.0, material="PVC")
    piped = PipedJet(gross_head_m=28.0, pipe=pipe, pitch_diameter_mm=260.0, nozzle_mm=14.0)
    with_pipe, without = (
        of(other_ways(made, compared(made)), "speed")[0] for made in (machine(drive=piped), machine(drive=JET))
    )
    assert with_pipe.row.point.bank_watts == pytest.approx(without.row.point.bank_watts, rel=2e-3)
    assert with_pipe.machine.drive.pipe is pipe


def test_a_held_speed_is_said_with_the_end_that_was_looked_at(known):
    (way,) = of(known["crawl"][1], "speed")
    # The belt's step is 5, so 600 rpm at most; faster is always more where the source holds its speed.
    assert way.change == wording("a speed of 600 rpm") and way.factor == BELT_STEP.value
    assert way.words.startswith(wording("With a speed of 600"))
    assert way.words.endswith(wording("Unloaded it could reach 1080"))
    assert BELT_STEP.low <= BELT_STEP.value <= BELT_STEP.high


@pytest.mark.parametrize("name", MADE)
def test_the_words_hold_the_row_and_the_gain(known, name):
    found, ways = known[name]
    for way in ways:
        if not way.sound:
            nearest = re.escape(way.row.grouping.label)
            assert re.search(rf": no grouping works; {nearest} comes nearest, but ", way.words)
            assert way.words.endswith(way.row.reason)
            continue
        assert f", by the same model: {describe(way.row)}" in way.words
        if sound_watts(found.rows):
            gain = f"{abs(way.gain_watts):.0f} W {'more' if way.gain_watts > 0 else 'less'} than"
            than = gain if abs(way.gain_watts) >= 0.5 else "no more than"
            assert f" That is {than} the best grouping as it stands." in way.words
        else:
            assert "as it stands" not in way.words
        above = way.row.runaway.dc_volts_peak > found.setting.limit_dc_volts
        accepted = f" are above the {found.setting.limit_dc_volts:.0f} V that you accept; "
        assert (accepted in way.words) == above == (not way.within)
        now = way.machine
        inside = compare(now.stator, now.coil, now.drive, now.bank, now.setting).chosen
        if above and inside:
            gives = f"within them {inside.grouping.label} gives {inside.point.bank_watts:.0f} W."
        elif above:
            gives = "nothing that charges stays within them."
        assert not above or f"{accepted}{gives}" in way.words
        assert not re.search(r"nan|inf|None|  |\.\.", way.words)


def test_the_most_useful_stands_first(known):
    for _, ways in known.values():
        sound = [way for way in ways if way.sound]
        assert list(ways[: len(sound)]) == sound
        within = [way for way in sound if way.row.runaway.dc_volts_peak <= way.machine.setting.limit_dc_volts]
        assert sound[: len(within)] == within
        for side in filter(None, (within, sound[len(within) :])):
            watts = [way.row.point.bank_watts for way in side]
            near = [way for way in side if way.row.point.bank_watts >= 0.95 * max(watts)]
            # Among nearly equal ones the least work and money: gear, then wire, then a bank.
            assert side[: len(near)] == near
            kinds = [("speed", "rewind", "bank").index(way.kind) for way in near]
            assert kinds == sorted(kinds)
            assert watts[len(near) :] == sorted(watts[len(near) :], reverse=True)


def test_a_rejected_way_stands_last_however_many_watts_it_has(known):
    _, ways = known["hot"]
    assert not ways[-1].sound and ways[-1].machine.bank.cells == 24
    assert ways[-1].row.point.bank_watts > min(way.row.point.bank_watts for way in ways if way.sound)
    assert ways[-1].gain_watts < 0.0


def test_a_single_turn_is_the_least():
    # Thirty volts too many for 12 V: fewer turns would be better, and there are none fewer.
    made = MADE["engine"]
    (way,) = of(other_ways(made, compared(made), turns=1), "rewind")
    assert (way.factor, way.change) == (1.0, "nothing")


def test_thirty_two_times_the_turns_are_the_most_that_is_looked_at():
    # By hand: 12 coils of 0.0193 V/rpm in series make 2.3 V DC at 4 rpm, so 54 V is over 24 times of it, and the most
    # watts lie at about twice that.
    made = machine(drive=KnownSpeed(working_rpm=4.0))
    (way,) = of(other_ways(made, compared(made)), "rewind")
    assert way.factor == pytest.approx(32.0) and ", as far as was looked," in way.words


def test_whole_turns_are_whole_and_judged_as_such():
    made = MADE["pedals"]
    (way,) = of(other_ways(made, compared(made), turns=7), "rewind")
    turns = way.factor * 7
    assert turns == pytest.approx(round(turns)) and turns >= 1
    assert way.change == f"{way.factor:.3g} times the turns ({turns:.0f} instead of 7 in each coil)"
    assert rewind_figures(made, way.factor, 7).in_words(way.row.coil_amps_rms) in way.words
    neighbours = [compared(rewound(made, count / 7)).find(made.found) for count in (round(turns) - 1, round(turns) + 1)]
    assert way.row.point.bank_watts >= max(row.point.bank_watts for row in neighbours)


def test_the_weight_stands_in_the_costs_in_the_readers_units():
    made = MADE["jet"]
    (metric,) = of(other_ways(made, compared(made)), "rewind")
    # Hand algebra: 36 coils of 0.56 Ω, 0.8 mm: 16.33 m × 0.50265 mm² × 8.96 g/cm³ × 36 = 2.65 kg, 5.84 lb.
    assert metric.costs.text == wording("about a weekend and 2.6")
    us = in_us(other_ways, made, compared(made))
    assert of(us, "rewind")[0].costs.text == wording("about a weekend and 5.8")
    assert re.fullmatch(wording("a pitch diameter of [\\d.]+"), of(us, "speed")[0].change)


def test_without_a_measured_wire_nothing_is_said_of_its_weight():
    made = machine(setting=Setting())
    (way,) = of(other_ways(made, compared(made)), "rewind")
    assert way.costs.text == wording("about a weekend; the old")
    assert wording("Scrape the enamel off a") in way.words


def test_thick_wire_does_not_leave_the_limits_of_the_comparison():
    made = machine(setting=Setting(wire_diameter_mm=6.0))
    (way,) = of(other_ways(made, compared(made)), "rewind")
    assert way.machine.setting.wire_diameter_mm < 10.0


def test_a_high_gear_that_will_not_start_says_so():
    # Hand algebra: the pull at rest falls with the gear; what lets the rotor go was measured as 50 N·m here.
    made = replace(MADE["pedals"], start_nm=50.0)
    (way,) = of(other_ways(made, compared(made)), "speed")
    assert wording("It does not start by") in way.words and "50 N·m are needed" in way.words


def test_what_cannot_help_says_that_there_is_nothing_to_gain(known):
    found, ways = known["stuck"]
    assert found.chosen is None and not any(way.sound for way in ways)
    (turns,), (speed,) = of(ways, "rewind"), of(ways, "speed")
    label = Grouping(series=4, parallel=1).label
    assert turns.words == (
        f"There is nothing to gain from a rewinding: no grouping works; {label} comes nearest, but the drive cannot "
        "turn it against its drag."
    )
    assert (turns.change, turns.costs.text, turns.gain_watts, turns.factor) == ("nothing", "nothing", 0.0, 1.0)
    assert speed.words.startswith(wording("There is nothing to gain"))


def test_a_lower_gear_helps_where_the_drag_holds_it(known):
    found, ways = known["geared too high"]
    assert found.chosen is None
    assert ways[0].kind == "speed" and ways[0].sound and ways[0].factor < 1.0


def test_it_is_needed_when_nothing_is_sound(known):
    for name in ("crawl", "stuck", "geared too high"):
        found, ways = known[name]
        said = (True, wording("No grouping suits this bank"))
        assert needs_another_way(found) == needs_another_way(found, ways) == said


def test_it_is_needed_when_another_way_gives_far_more(known):
    found, ways = known["wind"]
    best = max((way for way in ways if way.sound), key=lambda way: way.row.point.bank_watts)
    now, most = sound_watts(found.rows), best.row.point.bank_watts
    assert now < 0.8 * most and best.kind == "speed"
    share = f"{now / most:.0%} of the {most:.0f} W of another speed"
    given = f"Whatever the volts with the bank gone, the best grouping gives {now:.0f} W"
    said = f"{given}, {share}: the other ways are worth a look."
    assert needs_another_way(found, ways) == (True, said)


def test_it_is_not_needed_when_nothing_gives_far_more(known):
    found, ways = known["jet"]
    now, most = sound_watts(found.rows), max(way.row.point.bank_watts for way in ways)
    assert now >= 0.8 * most
    given = f"Whatever the volts with the bank gone, the best grouping gives {now:.0f} W"
    said = f"{given}, and no other way gives far more: just cut and join."
    assert needs_another_way(found, ways) == (False, said)
    first = next(row for row in found.rows if row.verdict != "rejected")
    words = f"{first.grouping.label} works and gives {now:.0f} W: cut and join first."
    assert needs_another_way(found) == (False, words)


def test_a_faster_held_speed_is_no_reason_by_itself():
    made = machine(drive=KnownSpeed(working_rpm=700.0))
    found = compared(made)
    ways = of(other_ways(made, found), "speed")
    assert ways[0].row.point.bank_watts > sound_watts(found.rows) / 0.8
    assert needs_another_way(found, ways)[0] is False


def test_an_impossible_count_of_turns_is_refused():
    with pytest.raises(BadInput, match=exactly(wording("turns counted in one coil"))):
        other_ways(MADE["crawl"], compared(MADE["crawl"]), turns=0)
