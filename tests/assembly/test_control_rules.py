"""Rules of a job: ready ones until they are typed, then those of its logs, with its own set-points and scan."""

import pytest

from statorbook.assembly.charging import charging_from
from statorbook.charging.rule_rows import rows_of_relays, rows_of_rules
from statorbook.errors import BadInput
from statorbook.examples import jobs as example
from statorbook.job.parts.control import ControlPart


@pytest.mark.parametrize("name", ["spring_pipe", "ridge_rotor", "shed_pedals"])
def test_the_logs_of_a_job_count_and_ready_rules_stand_in_for_empty_ones(tmp_path, name):
    job = example.write(tmp_path, name)
    job.save_log("control_rules", [])
    job.save_log("control_relays", [])
    made = charging_from(job, control=ControlPart(scan_ms=50))
    assert made.rules.scan_ms == 50
    assert sum("ready" in said for said in made.assumed) == 1
    rows = rows_of_rules(made.rules)
    rows[0]["off_delay_s"] = "77"
    job.save_log("control_rules", rows)
    job.save_log("control_relays", rows_of_relays(made.rules)[::-1])
    typed = charging_from(job)
    assert typed.rules.rules[0].off_delay_s == 77.0
    assert typed.rules.relays == made.rules.relays[::-1]
    assert not any("ready" in said for said in typed.assumed)
    assert typed.rules.valid == made.rules.valid
    rows[0]["output"] = "lamp"
    job.save_log("control_rules", rows)
    with pytest.raises(BadInput, match="control rules log, row 1, Switches"):
        charging_from(job)
    assert charging_from(job, ready=True).rules.rules == made.rules.rules


def test_a_relay_that_stops_the_source_gets_its_rules(tmp_path):
    job = example.write(tmp_path)
    for stops in (True, False):
        job.save_part("dump", job.read().dump.model_copy(update={"stops_source": stops}))
        made = charging_from(job)
        assert made.stops_source is stops
        assert (made.rules.relay_of("source_stop") is not None) is stops
