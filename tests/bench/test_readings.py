"""Every row of the logs: numbers when it can be used, one sentence when not, and never lost."""

from hypothesis import given, settings
from hypothesis import strategies as st

from samples.made_up_logs import ohms_row, spin_row
from statorbook.bench.logs import columns_of
from statorbook.bench.readings import read_logs
from statorbook.quantities import reader_units
from statorbook.winding.stator import Stator

STATOR = Stator(slots=36, poles=48)


def test_the_logs_of_the_drag_play_no_part_in_the_coil():
    raw = {"spin": [spin_row(120, 48.1)], "shorted": [], "ohms": [], "coast": [{"nonsense": "x"}]}
    assert [reading.usable for reading in read_logs(raw, STATOR).spin] == [True]


def test_all_logs_in_one_go_with_their_sentences():
    raw = {
        "spin": [spin_row(120, 48.1) | dict(volts="x"), spin_row(200, 80)],
        "shorted": [],
        "ohms": [ohms_row(13.4, copper_c="")],
    }
    logs = read_logs(raw, STATOR)
    assert [len(log) for log in (logs.spin, logs.shorted, logs.ohms)] == [2, 0, 1]
    assert [s.split(":")[0] for s in logs.sentences] == ["spin log, row 1, Volts [V]", "ohms log, row 1"]


def test_rows_that_stay_are_read_once_and_told_in_the_readers_units():
    raw = {"spin": [spin_row(120, 48.1)], "ohms": [ohms_row(13.4, copper_c="")]}
    first = read_logs(raw, STATOR)
    assert read_logs({log: [dict(row) for row in rows] for log, rows in raw.items()}, STATOR) is first
    with reader_units("US"):
        assert "68 °F" in read_logs(raw, STATOR).sentences[0]
    raw["spin"][0]["volts"] = "48.2"
    assert read_logs(raw, STATOR).spin[0].star_emf_v_rms > first.spin[0].star_emf_v_rms


CELLS = st.one_of(
    st.text(max_size=12),
    st.sampled_from(
        [
            "120",
            "48,1",
            "AB",
            "AN",
            "ABC",
            "star",
            "delta",
            "AC line rms",
            "AC phase rms",
            "DC bridge, bare",
            "averaging",
            "true rms",
            "0",
            "-1",
            "1e99",
            "nan",
            "A",
            "16",
            "0.2",
            "5 mV",
            "1,200",
            "200 Hz",
            "",
        ]
    ),
    st.none(),
)


@settings(max_examples=300)
@given(st.data(), st.sampled_from(["spin", "shorted", "ohms"]))
def test_any_rows_get_a_verdict_and_nothing_is_lost(data, log):
    rows = data.draw(st.lists(st.tuples(*[CELLS for _ in columns_of(log)]), max_size=4))
    rows = [dict(zip(columns_of(log), cells)) for cells in rows]
    readings = getattr(read_logs({log: rows}, STATOR), log)
    assert [r.raw for r in readings] == [row for row in rows if any((cell or "").strip() for cell in row.values())]
    for reading in readings:
        number = {"spin": "star_emf_v_rms", "shorted": "line_amps_rms", "ohms": "star_ohm"}[log]
        assert reading.usable == (getattr(reading, number) > 0)
        assert reading.usable or reading.refusal.startswith(reading.where)
