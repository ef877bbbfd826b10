"""How coils are joined: the words for it, and what is no grouping."""

import pytest

from sentences import exactly
from statorbook.errors import BadInput
from statorbook.winding import Grouping


@pytest.mark.parametrize(
    ("series", "parallel", "connection", "label"),
    [(3, 4, "star", "3 in series, 4 paths, star"), (12, 1, "delta", "12 in series, 1 path, delta")],
)
def test_label(series, parallel, connection, label):
    assert Grouping(series=series, parallel=parallel, connection=connection).label == label


@pytest.mark.parametrize("field", ["series", "parallel"])
@pytest.mark.parametrize("value", [0, -1, 1.0, True, "3", None])
def test_a_bad_count_is_refused(field, value):
    with pytest.raises(
        BadInput,
        match=exactly(
            f"coils in {field}: {value!r} was given; a whole number of at least 1 is allowed; "
            "choose a grouping from the list."
        ),
    ):
        Grouping(**{"series": 1, "parallel": 1, field: value})


@pytest.mark.parametrize("connection", ["triangle", "Star", "", None])
def test_an_unknown_connection_is_refused(connection):
    with pytest.raises(
        BadInput, match=exactly(f"connection: {connection!r} was given; star or delta is allowed; choose one of them.")
    ):
        Grouping(series=1, parallel=1, connection=connection)
