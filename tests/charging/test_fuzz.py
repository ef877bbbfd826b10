"""A sample of the random days of `fuzz.py`: what the check does not name, no day shows."""

import pytest

from charging import fuzz


@pytest.mark.slow
def test_days_with_random_faults_leave_the_limits_only_where_the_check_says_so():
    count, unnamed = fuzz.run(300, seed=18)
    assert unnamed == []
    assert count["days"] == 300 and count["complete_guarded_days"] > 50 and count["left"] > 0
    assert count["left_complete_guarded"] == count["left_unseen"]
