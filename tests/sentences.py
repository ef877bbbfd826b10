"""Matches a whole sentence of the library, not a part of it."""

import re


def exactly(sentence):
    """A pattern for `pytest.raises(match=…)` that matches this sentence and nothing else."""
    return f"^{re.escape(sentence)}$"
