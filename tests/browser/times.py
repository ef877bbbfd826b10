"""The table of times from a slider's move to its painted picture."""

import os
from pathlib import Path

from browser.lab import TEXT_ONLY

PICTURES_TO = "STATORBOOK_PICTURES"  # environment variable: where pictures and the table of times are kept
TEXT = Path(TEXT_ONLY).stem
# What a test records, so that it reaches the end of the run from whichever core: page, slider, median and p95 [ms].
TIME = "slider moved to picture painted"
HEADS = ("page", "slider", "median ms", "p95 ms", "by text")


def table_of(rows, line):
    """The times, each beside the one of a text alone where that was measured too."""
    text_ms = next((middle for page, _, middle, _ in rows if page == TEXT), float("nan"))
    cells = [
        (page, label, f"{middle:.0f}", f"{late:.0f}", f"{middle / text_ms:.2f}")
        for page, label, middle, late in sorted(rows, key=lambda row: (row[0] != TEXT, row))
    ]
    return "\n".join(line(*row) for row in (HEADS, *cells))


def tell(terminalreporter):
    """Print the table below the results, and keep it where pictures are kept when somebody asked for that."""
    rows = [
        row
        for reports in terminalreporter.stats.values()
        for report in reports
        for name, row in getattr(report, "user_properties", ())
        if name == TIME and report.when == "call"
    ]
    if not rows:
        return
    terminalreporter.section(TIME)
    terminalreporter.write_line(table_of(rows, "{:<24} {:<42} {:>9} {:>9} {:>9}".format))
    if folder := os.environ.get(PICTURES_TO):
        Path(folder, "times.csv").write_text(table_of(rows, lambda *cells: ",".join(cells)) + "\n", encoding="utf-8")
