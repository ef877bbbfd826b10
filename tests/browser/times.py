"""The table of times from a slider's move to its painted picture."""

from pathlib import Path

import pytest
from browser.lab import TEXT_ONLY

TEXT = Path(TEXT_ONLY).stem
TIMES = pytest.StashKey()  # rows of page, label of the slider, median and 95th percentile [ms]
HEADS = ("page", "slider", "median ms", "p95 ms", "by text")


def table_of(rows, line):
    """The times, each beside the one of a text alone where that was measured too."""
    text_ms = next((middle for page, _, middle, _ in rows if page == TEXT), float("nan"))
    cells = [(page, label, f"{middle:.0f}", f"{late:.0f}", f"{middle / text_ms:.2f}")
             for page, label, middle, late in sorted(rows, key=lambda row: (row[0] != TEXT, row))]
    return "\n".join(line(*row) for row in (HEADS, *cells))
