"""The tables of the bank's chemistries: rows as facts, and one column of a table as numbers."""

import csv
from functools import cache
from importlib.resources import files

from statorbook.quantities import Fact


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


@cache
def table_facts(name, chemistry):
    """What a table says of a chemistry.

    Parameters
    ----------
    name : str
        The table, such as "bank_chemistry".
    chemistry : str
        A name from `chemistries`.

    Returns
    -------
    dict
        Quantity to `Fact`, per cell.

    Notes
    -----
    Equation: none, a table.
    Valid: the ranges beside each value.
    Source: beside each value.
    """
    return {
        row["quantity"]: Fact(
            value=float(row["value"]),
            unit=row["unit"],
            source=row["source"],
            low=float(row["low"]),
            high=float(row["high"]),
        )
        for row in rows_of(name)
        if row["chemistry"] == chemistry
    }
