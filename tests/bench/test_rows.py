"""Any log row by row: numbers of rows, blank rows, the wiring that most rows say, and columns astray."""

import pytest

from samples.made_up_logs import shorted_row, spin_row
from sentences import sentences_of
from statorbook.bench.coast import read_coast
from statorbook.bench.drill import read_drill
from statorbook.bench.logs import columns_of
from statorbook.bench.ohms import read_ohms
from statorbook.bench.readings import read_logs
from statorbook.bench.shorted import read_shorted
from statorbook.bench.spin import read_spin
from statorbook.errors import BadInput
from statorbook.winding.stator import Stator

wording = sentences_of("bench")

STATOR = Stator(slots=36, poles=48)


def test_rows_keep_their_numbers_and_blank_rows_say_nothing():
    blank = dict.fromkeys(columns_of("spin"), " ")
    readings = read_spin([spin_row(120, 48), blank, spin_row(200, 80) | {"volts": "?"}, spin_row(300, 120)], STATOR)
    assert [(r.row, r.usable) for r in readings] == [(1, True), (3, False), (4, True)]


def test_what_most_rows_say_is_the_wiring_as_found():
    rows = [spin_row(100, 40, connection="delta"), spin_row(200, 80), spin_row(300, 120), spin_row(400, 160)]
    assert [r.usable for r in read_spin(rows, STATOR)] == [False, True, True, True]
    assert [r.usable for r in read_spin(rows, STATOR, found_connection="delta")] == [True, False, False, False]
    logs = read_logs({"spin": rows, "shorted": [shorted_row(200, 2, connection="delta")]}, STATOR)
    assert [r.usable for r in logs.shorted] == [False]


@pytest.mark.parametrize(
    "read, options",
    [
        (read_spin, (STATOR,)),
        (read_shorted, (STATOR,)),
        (read_ohms, ()),
        (read_coast, (STATOR,)),
        (read_drill, (STATOR,)),
    ],
)
def test_empty_logs_are_refused(read, options):
    for rows in ([], [{"note": ""}]):
        with pytest.raises(BadInput, match=wording("no reading is in it")):
            read(rows, *options)


def test_missing_and_exchanged_columns_are_refused():
    row = spin_row(120, 48.1)
    with pytest.raises(BadInput, match=wording("spin log: the column volts")):
        read_spin([{name: cell for name, cell in row.items() if name != "volts"}], STATOR)
    exchanged = ("volts", "electrical_hz", "speed_rpm", *columns_of("spin")[3:])
    with pytest.raises(BadInput, match=wording("the column volts stands where")):
        read_spin([{name: row[name] for name in exchanged if name in row}], STATOR)
    own_column = {"remark": "mine"} | row
    assert read_spin([own_column], STATOR)[0].usable


def test_columns_of_the_drag_logs_are_required():
    with pytest.raises(BadInput, match=wording("coast log: the column time_s")):
        read_coast([{"speed_rpm": "300"}], STATOR)
    with pytest.raises(BadInput, match=wording("drill log: the column watts_alone")):
        read_drill([{"speed_rpm": "300", "watts_coupled": "200"}], STATOR)
