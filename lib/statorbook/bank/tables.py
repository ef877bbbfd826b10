"""The tables of the bank's chemistries: rows as facts, and one column of a table as numbers."""

import csv
from functools import cache
from importlib.resources import files


@cache
def rows_of(name):
    """The rows of a table as a tuple of dicts of text, without the row of units."""
    with files("statorbook").joinpath("tables", f"{name}.csv").open(encoding="utf-8", newline="") as table:
        return tuple(csv.DictReader(table))[1:]


@cache
def column_of(name, column="value"):
    """One column of a table of chemistries and quantities, as chemistry to {quantity: number}."""
    found = {}
    for row in rows_of(name):
        found.setdefault(row["chemistry"], {})[row["quantity"]] = float(row[column])
    return found
