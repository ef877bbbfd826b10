"""The plan as data and in steps: worked by hand on nine teeth, then what holds for every plan."""

from itertools import pairwise
from math import pi

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sentences import exactly, sentences_of
from statorbook.errors import BadInput
from statorbook.quantities.facts import Fact
from statorbook.rewiring import plan as module
from statorbook.rewiring.plan import LAYOUTS, Plan, cut_and_join, path_amps_rms, wire_mm2
from statorbook.rewiring.work_steps import steps
from statorbook.winding.grouping import Grouping
from statorbook.winding.stator import Stator
from statorbook.winding.wiring import found_from_words, found_wiring
from strategies import stators

wording = sentences_of("rewiring")

NINE = Stator(slots=9, poles=12)
REVERSED = Stator(slots=9, poles=8)
ALL_SERIES = Grouping(series=3, parallel=1)
ALL_PARALLEL = Grouping(series=1, parallel=3)


def pairs(links):
    return ["-".join(end.label for end in link) for link in links]


def cut_list(plan):
    return ["-".join(end.label for end in cut.ends) + (f" off {cut.off}" if cut.off else "") for cut in plan.cuts]


def nodes(plan):
    return {name: " ".join(end.label for end in ends) for name, ends in plan.netlist.items()}


# Drawn and listed by hand. 9 teeth, 6 pole pairs: 240° a tooth, so the phases go A C B A C B A C B, none reversed.
#   lead A – 1S 1F – 4S 4F – 7S 7F – star point, B the same over 3 6 9, C over 2 5 8.
# All three coils of a phase are alike. In parallel and star: part both wires of each chain; 1S stays on lead A and 7F
# on the star point; 4S and 7S come to lead A, 1F and 4F to the star point.
def test_by_hand_nine_teeth_from_series_to_parallel():
    plan = cut_and_join(found_wiring(NINE, ALL_SERIES), ALL_PARALLEL)
    assert cut_list(plan) == ["1F-4S", "4F-7S", "3F-6S", "6F-9S", "2F-5S", "5F-8S"]
    assert plan.kept == () and plan.joins == () and plan.fewest_proven
    assert nodes(plan) == {
        "lead A": "1S 4S 7S",
        "lead B": "3S 6S 9S",
        "lead C": "2S 5S 8S",
        "star point": wording("1F 2F 3F 4F 5F"),
    }
    assert {name: " ".join(end.label for end in ends) for name, ends in plan.new_on_bus.items()} == {
        "lead A": "4S 7S",
        "lead B": "6S 9S",
        "lead C": "5S 8S",
        "star point": "1F 2F 3F 4F 5F 6F",
    }


# The way back, by hand: of 1S 4S 7S one stays on lead A, of 1F 4F 7F one on the star point, so 4 cuts a phase; a whole
# chain needs two jumpers a phase, each over 3 of 9 teeth. On a circle of 90 mm that is 90π/3 = 94.2 mm and the tails.
def test_by_hand_nine_teeth_from_parallel_to_series():
    plan = cut_and_join(found_wiring(NINE, ALL_PARALLEL), ALL_SERIES, diameter_mm=90)
    assert cut_list(plan) == [
        "4S off lead A",
        "7S off lead A",
        "6S off lead B",
        "9S off lead B",
        "5S off lead C",
        "8S off lead C",
        *(f"{tooth}F off star point" for tooth in (1, 2, 3, 4, 5, 6)),
    ]
    assert [(join.number, join.path) for join in plan.joins] == list(enumerate(["A1", "A1", "B1", "B1", "C1", "C1"], 1))
    assert pairs(join.ends for join in plan.joins) == ["1F-4S", "4F-7S", "3F-6S", "6F-9S", "2F-5S", "5F-8S"]
    assert plan.jumper_mm == pytest.approx([90 * pi / 3 + 60] * 6)
    assert plan.total_jumper_mm == pytest.approx(6 * (90 * pi / 3 + 60))
    assert plan.bus_mm == {} and plan.new_on_bus["star point"] == ()


# Star to delta by hand, all in series: the links stay. Of the star point's three ends one may stay in the old knot,
# which then goes to its corner: A-finish to lead B, B-finish to lead C, C-finish to lead A. Any of the three is as
# good; the knot goes to the first lead, A, so that 8S, where C ends, stays in it.
# 9 teeth, 4 pole pairs, 160° a tooth: A is 1, 2 reversed, 9 reversed; B 3r 4 5r; C 6r 7 8r (worked in test_wiring).
def test_by_hand_reversed_coils_from_star_to_delta():
    plan = cut_and_join(found_wiring(REVERSED, ALL_SERIES), Grouping(series=3, parallel=1, connection="delta"))
    assert cut_list(plan) == ["5S off star point", "9S off star point"]
    assert pairs(plan.kept) == ["1F-2F", "2S-9F", "3S-4S", "4F-5F", "6S-7S", "7F-8F"]
    assert plan.joins == ()
    assert nodes(plan) == {
        "lead A": "1S 8S",
        "lead B": "3F 9S",
        "lead C": "5S 6F",
        "1F-2F": "1F 2F",
        "2S-9F": "2S 9F",
        "3S-4S": "3S 4S",
        "4F-5F": "4F 5F",
        "6S-7S": "6S 7S",
        "7F-8F": "7F 8F",
    }
    assert plan.stays["star point"][0] == "lead A"


# By hand: in delta 9S is on lead B with 3F, 5S on lead C, 8S on lead A; all three come off for the star.
def test_by_hand_reversed_coils_from_delta_to_star():
    found = found_wiring(REVERSED, Grouping(series=3, parallel=1, connection="delta"))
    plan = cut_and_join(found, ALL_SERIES, diameter_mm=180)
    assert cut_list(plan) == ["8S off lead A", "9S off lead B", "5S off lead C"]
    # Teeth 5 to 9 are four of nine steps; the other way round it would be five.
    assert plan.bus_mm == pytest.approx({"star point": 180 * pi * 4 / 9 + 60})


# By hand, a traced order: 1 7 4. Two paths do not exist here; three do. 4 is last in its chain and stays on the star.
def test_a_traced_order_is_what_gets_cut():
    found = found_from_words(NINE, ALL_SERIES, wording("A: 1 7 4; B"))
    plan = cut_and_join(found, ALL_PARALLEL)
    assert cut_list(plan)[:2] == ["1F-7S", "7F-4S"]
    assert [end.label for end in plan.stays["star point"][1]].count("4F") == 1


@given(stators(), st.data())
def test_what_is_already_so_is_left_alone(stator, data):
    grouping = data.draw(st.sampled_from(stator.groupings()))
    plan = cut_and_join(found_wiring(stator, grouping), grouping)
    assert plan.cuts == () and plan.joins == () and plan.bus_mm == {} and plan.fewest_proven
    (only,) = steps(plan)
    assert (only.kind, only.check) == ("check", "alike")
    assert only.words.text == (
        f"Nothing to cut and nothing to join: the winding is already wired as {grouping.label}. "
        "Measure the ohms between each two of the leads: the three readings are alike."
    )


@given(stators(), st.data())
def test_cuts_and_joins_turn_the_found_netlist_into_the_new_one(stator, data):
    before, after = (data.draw(st.sampled_from(stator.groupings())) for _ in range(2))
    plan = cut_and_join(found_wiring(stator, before), after, data.draw(st.sampled_from(LAYOUTS)))
    # Do the work on groups of ends: cut, then join, then bring to the buses.
    groups = [set(link) for link in plan.found.links] + [set(ends) for ends in plan.found.nets.values()]
    for cut in plan.cuts:
        for group in groups:
            group.difference_update(cut.ends[:1])
        groups.append({cut.ends[0]})
    tied = [join.ends for join in plan.joins] + [ends for ends in plan.buses.values() if len(ends) > 1]
    for ends in tied:
        mine = [group for group in groups if group & set(ends)]
        groups = [group for group in groups if group not in mine] + [set().union(*mine)]
    assert sorted(sorted(group) for group in groups if group) == sorted(sorted(ends) for ends in plan.netlist.values())


# By hand: a plan that begins path A at tooth 4 leaves the cable of lead A without an end; it has to be brought to 4S.
def test_a_lead_that_lost_its_coil_is_brought_to_another():
    found = found_wiring(NINE, ALL_SERIES)
    plan = Plan(
        found=found, grouping=ALL_SERIES, layout="neighbours", paths={**found.paths, "A": (((4, 1), (7, 1), (1, 1)),)}
    )
    assert cut_list(plan) == ["1F-4S", "1S off lead A", "7F off star point"]
    assert list(plan.bus_mm) == ["lead A", "star point"]
    words = [row.words.text for row in steps(plan) if row.kind == "bus"]
    assert words[0].startswith(wording("Star point: bring 1F together"))
    assert words[1].startswith(wording("Lead A: bring 4S together"))


def test_lengths_are_unknown_without_a_diameter():
    plan = cut_and_join(found_wiring(NINE, ALL_PARALLEL), ALL_SERIES)
    assert plan.jumper_mm == (None,) * 6 and plan.total_jumper_mm is None
    assert plan.counts == {"cuts": 12, "joins": 6, "jumper_mm": None, "bus_mm": None}


# 36 teeth, 24 pole pairs, 12 coils a phase, by hand. Four paths of neighbours: three wires cut in each phase, no
# jumper. Spread: all 11 wires go, and each path of three needs two jumpers of 12 teeth.
def test_layouts_are_compared_in_cuts_joins_and_wire():
    found = found_wiring(Stator(slots=36, poles=48), Grouping(series=12, parallel=1))
    wanted = Grouping(series=3, parallel=4)
    got = {layout: cut_and_join(found, wanted, layout, diameter_mm=200).counts for layout in LAYOUTS}
    assert (got["neighbours"]["cuts"], got["neighbours"]["joins"], got["neighbours"]["jumper_mm"]) == (9, 0, 0)
    assert (got["spread"]["cuts"], got["spread"]["joins"]) == (33, 24)
    assert got["spread"]["jumper_mm"] == pytest.approx(24 * (200 * pi * 12 / 36 + 60))
    assert got["spread"]["bus_mm"] > 0


IEC_60228_MM2 = (0.0, 0.5, 0.75, 1.0, 1.5, 2.5, 4.0, 6.0, 10.0, 16.0, 25.0, 35.0)  # 1.0 from memory


# At 4 A/mm² (common practice, no source).
@pytest.mark.outside(
    "standard sections of wire",
    source="IEC 60228, tables 1 to 3",
    number="0.5, 0.75, 1.5, 2.5, 4, 6, 10, 16, 25, 35 mm²",
    tolerance="exact",
    seen="in a reproduction",
)
@pytest.mark.parametrize("below, size", list(pairwise(IEC_60228_MM2)))
def test_the_next_size_up_is_taken(below, size):
    assert wire_mm2(4.0 * size) == size and wire_mm2(4.0 * below + 0.01) == size


@pytest.mark.outside(
    "phase amps of a delta with 143.76 A in a lead",
    source="Bird, Electrical Circuit Theory and Technology, example 19.7, p. 303",
    number="83.0 A",
    tolerance="0.01 %",
    seen="in a reproduction",
)
def test_path_amps_of_star_and_delta():
    assert path_amps_rms(Grouping(series=3, parallel=4), 20.0) == pytest.approx(5.0)
    assert path_amps_rms(Grouping(series=12, parallel=1, connection="delta"), 143.76) == pytest.approx(83.0, rel=1e-4)
    assert path_amps_rms(Grouping(series=6, parallel=2, connection="delta"), 143.76) == pytest.approx(41.5, rel=1e-4)


def test_more_amps_than_the_largest_wire_are_refused():
    sentence = wording("current in the wire: 141")
    with pytest.raises(BadInput, match=exactly(sentence)):
        wire_mm2(141)


def test_facts_have_range_and_source():
    facts = [fact for fact in vars(module).values() if isinstance(fact, Fact)]
    assert len(facts) == 2 and all(fact.low < fact.value < fact.high and fact.source for fact in facts)


def test_what_cannot_be_planned_is_refused():
    found = found_wiring(NINE, ALL_SERIES)
    with pytest.raises(BadInput, match=wording("^grouping: 2 in series ×")):
        cut_and_join(found, Grouping(series=2, parallel=2))
    sentence = wording("layout of the paths: 'random'")
    with pytest.raises(BadInput, match=exactly(sentence)):
        cut_and_join(found, ALL_PARALLEL, "random")
    sentence = wording("diameter of the coil heads")
    with pytest.raises(BadInput, match=exactly(sentence)):
        cut_and_join(found, ALL_PARALLEL, diameter_mm=3)
    sentence = wording("plan: the paths make 3")
    with pytest.raises(BadInput, match=exactly(sentence)):
        Plan(found=found, grouping=ALL_PARALLEL, layout="neighbours", paths=found.paths)


def test_steps_of_nine_teeth_in_words():
    plan = cut_and_join(found_wiring(NINE, ALL_PARALLEL), ALL_SERIES)
    rows = steps(plan)
    assert [row.number for row in rows] == list(range(1, len(rows) + 1))
    kinds = ["mark"] * 2 + ["cut"] * 12 + ["check"] + ["join", "join", "check"] * 3 + ["check"]
    assert [row.kind for row in rows] == kinds
    assert [row.check for row in rows if row.check] == ["parted", "A1", "B1", "C1", "alike"]
    assert rows[0].words.text.startswith(wording("Take the battery bank off"))
    assert rows[2].words.text == wording("Cut the wire of tooth")
    assert rows[15].words.text == wording("Jumper 1, path A1: join")
    assert rows[17].words.text == wording("Measure the ohms of path")


def test_steps_to_parallel_bring_ends_to_leads_and_star_point():
    rows = steps(cut_and_join(found_wiring(NINE, ALL_SERIES), ALL_PARALLEL))
    assert rows[2].words.text == wording("Cut the wire between tooth")
    buses = [row for row in rows if row.kind == "bus"]
    assert buses[0].words.text.startswith(wording("Star point: bring 1F, 2F"))
    assert buses[1].words.text.startswith(wording("Lead A: bring 4S, 7S"))
    assert len(buses) == 4


def test_an_opened_star_point_goes_to_its_corner():
    plan = cut_and_join(found_wiring(REVERSED, ALL_SERIES), Grouping(series=3, parallel=1, connection="delta"))
    words = [row.words.text for row in steps(plan) if row.kind == "bus"]
    assert words[0].startswith(wording("Lead A: join the cable"))
    assert words[1].startswith(wording("Lead B: bring 9S together"))


# By hand: in delta the far end of A1 is still on lead B, so the meter sees round the corner; no reading is promised.
def test_a_path_between_others_is_given_no_reading():
    found = found_wiring(NINE, Grouping(series=1, parallel=3, connection="delta"))
    rows = steps(cut_and_join(found, Grouping(series=3, parallel=1, connection="delta")))
    paths = [row for row in rows if row.check in ("A1", "B1", "C1")]
    assert len(paths) == 3 and all(wording("shows less than its coils") in row.words.text for row in paths)


# By hand, 18 teeth, each third one of A, three paths of two. Spread makes 1 10, 4 13 and 7 16 of them; the last is
# already so, and leads from lead A to the star point round both cuts.
def test_the_meter_is_not_asked_about_a_cut_that_other_coils_bridge():
    grouping = Grouping(series=2, parallel=3)
    traced = wording("A: 1 13 / 4")
    plan = cut_and_join(found_from_words(Stator(slots=18, poles=24), grouping, traced), grouping, "spread")
    assert cut_list(plan) == ["1F-13S", "4F-10S"]
    assert pairs(join.ends for join in plan.joins) == ["1F-10S", "4F-13S"]
    (parted,) = [row for row in steps(plan) if row.check == "parted"]
    assert parted.words.text == wording("Bend the cut ends apart")


@given(stators(), st.data())
def test_every_cut_and_join_is_one_step_after_its_labels(stator, data):
    before, after = (data.draw(st.sampled_from(stator.groupings())) for _ in range(2))
    plan = cut_and_join(found_wiring(stator, before), after, data.draw(st.sampled_from(LAYOUTS)))
    rows = steps(plan)
    assert [row.ends for row in rows if row.kind == "cut"] == [cut.ends for cut in plan.cuts]
    assert [row.ends for row in rows if row.kind == "join"] == [join.ends for join in plan.joins]
    marked = {end for row in rows if row.kind == "mark" for end in row.ends}
    assert all(set(row.ends) <= marked for row in rows if row.kind in ("cut", "join", "bus"))
    order = [("mark", "cut", "join", "bus").index(row.kind) for row in rows if row.kind != "check"]
    assert order == sorted(order)
