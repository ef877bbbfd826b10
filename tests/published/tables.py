"""Reads the source tables kept in this folder: a header row, a units row, then data."""

import csv
from pathlib import Path

_FOLDER = Path(__file__).resolve().parent


def rows(name):
    """Every data row of a table as a dictionary, numbers as numbers where the units row does not say text."""
    with (_FOLDER / f"{name}.csv").open(encoding="utf-8", newline="") as table:
        units, *data = csv.DictReader(table)
    return [{column: text if units[column] == "text" else float(text) for column, text in row.items()} for row in data]


def pairs(name):
    """Rows of a table whose first two columns are slots and poles, those as whole numbers."""
    return [{**row, "slots": int(row["slots"]), "poles": int(row["poles"])} for row in rows(name)]
