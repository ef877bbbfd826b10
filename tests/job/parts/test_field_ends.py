"""The ends and the assumed values of every field, against a table that says why they are where they are."""

import tomllib
from pathlib import Path

from statorbook.job.parts.fields import facts_of
from statorbook.job.parts.registry import PARTS

TABLE = tomllib.loads(Path(__file__).with_name("field_ends.toml").read_text(encoding="utf-8"))
FIELDS = {f"{name}.{facts.name}": facts for name, part in PARTS.items() for facts in facts_of(part)}


def by_field(section, *names):
    """What a section of the table says of each field; none stands in it twice, each row says why."""
    rows = [(field, row) for row in TABLE[section] for field in row["fields"]]
    assert len(rows) == len(dict(rows)) and all(len(row["why"].split()) >= 2 for row in TABLE[section])
    return {field: tuple(row.get(name) for name in names) for field, row in rows}


def test_a_number_may_be_all_that_is_possible_and_nothing_else_and_a_text_as_long_as_it_needs():
    limited = {name: facts for name, facts in FIELDS.items() if facts.kind in ("number", "count", "text")}
    ends = {name: (facts.above, facts.least, facts.most) for name, facts in limited.items()}
    assert ends == by_field("ends", "above", "least", "most")


# What is assumed is marked so, or the reader takes it for their own.
def test_what_is_taken_for_an_empty_field_is_what_the_table_says():
    taken = {
        name: (facts.default, facts.assumed_default)
        for name, facts in FIELDS.items()
        if facts.assumed_default or (facts.kind in ("number", "count") and facts.default is not None)
    }
    assert taken == by_field("defaults", "value", "assumed")
