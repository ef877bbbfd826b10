"""Rules and relays as rows and back, and what is wrong with a row said at its cell."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from samples.charging_samples import plan
from sentences import sentences_of
from statorbook.bench.control_logs import CONTROL_RELAYS_LOG, CONTROL_RULES_LOG
from statorbook.charging.rule_checks import RESERVED, complaints
from statorbook.charging.rule_rows import read_control, rows_of_relays, rows_of_rules, rules_of
from statorbook.errors import BadInput

wording = sentences_of("charging_rules")
READY = plan(stops_source=True).rules


def rows(**cells):
    """The ready rules as rows, with cells of the row of a rule changed; and the relays' rows."""
    name = cells.pop("of", "dump_1_full")
    made = rows_of_rules(READY)
    at = next(at for at, row in enumerate(made) if row["rule"] == name)
    made[at] |= cells
    return made, rows_of_relays(READY), at


def refusals(made, relays):
    """Row of each refusal, from 0, and its sentence."""
    found = read_control(made, relays, READY)
    return [(reading.row - 1, reading.refusal) for reading in (*found.rules, *found.relays) if reading.refusal]


def test_the_ready_rules_come_back_from_their_rows_unchanged():
    made, relays, _ = rows()
    assert set(made[0]) == set(CONTROL_RULES_LOG.names)
    assert set(relays[0]) == set(CONTROL_RELAYS_LOG.names)
    found, assumed = rules_of(made, relays, READY)
    assert (found.rules, found.relays, assumed) == (READY.rules, READY.relays, ())
    assert found.words == ""


def test_what_is_not_typed_is_the_ready_set_and_said():
    found, assumed = rules_of([], [], READY)
    assert found == READY
    assert len(assumed) == 2
    made, _, at = rows()
    alone, assumed = rules_of(made[at : at + 1], [], READY)
    assert [relay.output for relay in alone.relays] == ["dump_1"]
    assert len(assumed) == 1


def test_cells_as_hands_type_them():
    made, relays, at = rows(output="Dump 1", side="At or Above", on_at="57,1 V", off_delay_s="", priority="")
    made[at]["only_if"] = "house_on;  not   water_hot and inverter_healthy"
    rule = rules_of(made, relays, READY)[0].rules[at]
    assert (rule.output, rule.on_at, rule.off_delay_s, rule.priority) == ("dump_1", 57.1, 0.0, 1)
    assert rule.only_if == ("house_on", "not water_hot", "inverter_healthy")


# 60 °C are 140 °F (definition).
def test_a_limit_of_temperature_may_be_typed_in_fahrenheit():
    made, relays, at = rows(of="water_hot", on_at="140 F")
    assert rules_of(made, relays, READY)[0].rules[at].on_at == pytest.approx(60.0)


@pytest.mark.parametrize(
    ("column", "cell"),
    [
        ("output", "lamp"),
        ("output", ""),
        ("input", "volts"),
        ("side", "above"),
        ("on_at", ""),
        ("on_at", "high"),
        ("off_at", "58"),
        ("on_delay_s", "0.01"),
        ("least_on_s", "-5"),
        ("only_if", "nobody"),
        ("priority", "1.5"),
        ("rule", "stop high"),
        ("rule", ""),
        ("action", "maybe"),
    ],
)
def test_a_bad_cell_is_told_with_its_row_and_heading(column, cell):
    made, relays, at = rows(**{column: cell})
    found = [said for row, said in refusals(made, relays) if row == at]
    assert len(found) == 1
    assert found[0].startswith(f"control rules log, row {at + 1}, {CONTROL_RULES_LOG.column(column).heading}: ")
    with pytest.raises(BadInput):
        rules_of(made, relays, READY)


def test_a_row_that_names_one_that_cannot_be_read_is_not_blamed():
    made, relays, _ = rows(of="water_hot", on_at="hot")
    assert [made[row]["rule"] for row, _ in refusals(made, relays)] == ["water_hot"]
    made, relays, _ = rows()
    relays[0]["output"] = "dump"
    assert [said.split(",")[0] for _, said in refusals(made, relays)] == ["control relays log"]


def test_what_only_follows_from_another_row_hides_nothing_behind_it():
    made, relays, _ = rows(of="water_hot", on_at="hot")
    last = next(row for row in made if row["rule"] == "dump_2_full")
    last["only_if"] = "nobody"
    assert [made[row]["rule"] for row, _ in refusals(made, relays)] == ["water_hot", "dump_2_full"]
    # The ready rules are nobody's rows: that some of them have no relay is not said, that one is used twice is.
    relays = rows_of_relays(READY)[3:]
    relays[2]["relay"] = relays[1]["relay"]
    found = read_control([], relays, READY)
    assert found.rules == () and [reading.row for reading in found.relays if reading.refusal] == [3]
    assert found.assumed == ("the rules, ready ones",)
    # And typed rules with the usual relays.
    made, _, _ = rows(of="water_hot", priority="0")
    found = read_control(made, [], READY)
    assert found.relays == () and [row.raw["rule"] for row in found.rules if row.refusal] == ["water_hot"]
    assert found.assumed == ("the relays",) and found.rule_set.words == "" != read_control([], [], READY).rule_set.words


@pytest.mark.parametrize("column", ["on_at", "off_at"])
def test_a_yes_or_no_has_no_limit(column):
    made, relays, at = rows(of="volts_lost", **{column: "5"})
    ((row, said),) = refusals(made, relays)
    assert row == at and said.startswith(
        f"control rules log, row {at + 1}, {CONTROL_RULES_LOG.column(column).heading}: "
    )
    assert wording("a limit of a signal") in said


# A slip of the pen is no limit: up to 99 999 of any unit are read, and then held against the sensor.
def test_a_limit_of_any_size_is_told_by_what_is_wrong_with_it():
    for cell, said in (("99999", "the sensor gives"), ("-99999", "the sensor gives"), ("100000", "99999")):
        made, relays, _ = rows(of="water_hot", on_at=cell)
        assert said in refusals(made, relays)[0][1]


def test_usual_relays_stand_in_the_order_of_the_outputs_with_the_ready_contacts():
    made, _, _ = rows()
    found = read_control(made, [], READY).rule_set.relays
    assert found == READY.relays and {relay.contact for relay in found} == {"normally open", "normally closed"}
    reverse = read_control(made[::-1][:3], [], READY).rule_set.relays
    assert [(relay.number, relay.output) for relay in reverse] == [(1, "dump_1"), (2, "dump_2")]


def test_what_is_nothing_is_left_empty_in_a_row():
    made = {row["rule"]: row for row in rows_of_rules(READY)}
    lost, full = made["volts_lost"], made["dump_1_full"]
    assert [lost[name] for name in ("on_at", "off_at", "on_delay_s", "off_delay_s", "least_on_s")] == [""] * 5
    assert (full["least_on_s"], full["priority"], full["only_if"]) == ("60", "2", "")
    assert made["water"]["only_if"] == "house_on, inverter_healthy, not stop_high, not water_hot"
    assert set(rows_of_relays(READY)[0].values()) == {"1", "dump_1", "normally open", ""}


def test_a_relay_used_twice_and_an_output_without_one_are_told():
    made, relays, _ = rows()
    relays[1]["relay"] = relays[0]["relay"]
    assert "used twice" in refusals(made, relays)[0][1]
    del relays[0]
    assert any("dump_1 has no relay" in said for _, said in refusals(made, relays))


CELLS = st.one_of(
    st.sampled_from(
        [
            "",
            "0",
            "1",
            "-1",
            "57",
            "1e9",
            "nan",
            "inf",
            "yes",
            "dump_1",
            "bank_volts",
            "not",
            "not ,",
            ",",
            "at or below",
        ]
    ),
    st.sampled_from(sorted(RESERVED)),
    st.text(max_size=6),
)


@settings(max_examples=30)
@given(st.lists(st.tuples(st.integers(0, 20), st.sampled_from(CONTROL_RULES_LOG.names), CELLS), max_size=4))
def test_whatever_is_typed_there_is_a_sound_set_or_one_sentence(changes):
    made, relays, _ = rows()
    for at, column, cell in changes:
        made[at % len(made)][column] = cell
    try:
        found, _ = rules_of(made, relays, READY)
    except BadInput as refusal:
        assert str(refusal).startswith(("control r", "rule"))
    else:
        assert not list(complaints(found))
        again = rules_of(rows_of_rules(found), rows_of_relays(found), READY)[0]
        assert again.rules == found.rules
