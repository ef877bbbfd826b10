"""A sample of the random days of `fuzz.py`: what the check does not name, no day shows."""

import pytest

from charging import fuzz
from statorbook.charging.check import Checked, CheckedFault
from statorbook.charging.control_faults import faults_of


@pytest.mark.slow
def test_days_with_random_faults_leave_the_limits_only_where_the_check_says_so():
    count, unnamed = fuzz.run(300, seed=18)
    assert unnamed == []
    assert count["days"] == 300 and count["complete_guarded_days"] > 50 and count["left"] > 0
    assert count["left_complete_guarded"] == count["left_unseen"]


def test_a_check_that_keeps_its_gaps_to_itself_is_found_out(monkeypatch):
    leaves_the_limits = 2001
    count, unnamed = fuzz.run_plan(leaves_the_limits, days=20)
    assert count["left"] and not unnamed

    def silent(plan):
        return Checked(faults=tuple(CheckedFault(fault=fault, sides={}) for fault in faults_of(plan)))

    monkeypatch.setattr(fuzz, "check_plan", silent)
    assert len(fuzz.run_plan(leaves_the_limits, days=20)[1]) >= count["left"]
