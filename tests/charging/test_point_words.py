"""What is said of set-points: every number in its place, for a lithium and a lead bank, usual, cold and outside."""

from dataclasses import replace

import pytest

from samples.charging_samples import LEAD_BANK
from samples.machine_samples import BANK
from sentences import sentences_of
from statorbook.bank import bank_amps, bank_table, rest_volts_of
from statorbook.charging.dump_loads import usual_guard
from statorbook.charging.point_words import point_words
from statorbook.charging.set_points import outside_usual, usual_points

wording = sentences_of("charging_points")


def volts(value, places=2):
    return f"{round(value, places):g} V"


def lines(bank, **changes):
    return point_words(bank, replace(usual_points(bank), **changes)).split("\n")


def filled_drawn(points):
    return wording("drawn").format(
        cut_off=volts(points.cut_off_volts),
        back=volts(points.return_volts),
        low=volts(points.alarm_low_volts),
        high=volts(points.alarm_high_volts),
        least=volts(points.least_volts),
        most=volts(points.most_volts),
    )


def filled_guard(points, cell_c=25.0):
    guard = usual_guard(points, cell_c=cell_c)
    on, off, low, back = (
        volts(each, 1) for each in (guard.high_on_volts, guard.high_off_volts, guard.low_off_volts, guard.low_on_volts)
    )
    return wording("guarded").format(on=on, off=off, low=low, back=back)


def rests(bank, key):
    table = bank_table(bank)
    full, half, tenth = (volts(rest_volts_of(charge, table), 1) for charge in (1.0, 0.5, 0.1))
    slope = (rest_volts_of(0.8, table) - rest_volts_of(0.2, table)) / bank.cells
    return key.format(full=full, half=half, tenth=tenth, slope=f"{slope:.2f}")


def test_lithium_line_by_line():
    points = usual_points(BANK)
    charged, drawn, guarded, takes, rest = lines(BANK)[:5]
    assert charged == wording("lithium charged").format(
        absorption=volts(points.absorption_volts), float=volts(points.float_volts), balance=volts(points.balance_volts)
    )
    assert drawn == filled_drawn(points) + "."
    assert guarded.startswith(filled_guard(points) + ".")
    assert takes == wording("lithium takes") and rest.startswith(rests(BANK, wording("lithium rests")))


# 5 mV a cell and kelvin, 12 cells: 0.6 V for 10 K, 1.2 V at 5 °C (common practice, no source).
def test_lead_line_by_line_and_in_the_cold():
    points = usual_points(LEAD_BANK)
    said = wording("lead charged").format(
        absorption=volts(points.absorption_volts),
        float=volts(points.float_volts),
        equalise=volts(points.equalise_volts),
    )
    charged, drawn, _guarded, takes, rest = lines(LEAD_BANK)[:5]
    assert charged == f"{said}." and drawn == filled_drawn(points) + "."
    amps = [bank_amps(points.absorption_volts, charge, 25.0, bank_table(LEAD_BANK)) for charge in (0.7, 0.9, 1.0)]
    first, second, full = (f"{each:.2g}" for each in amps)
    assert takes == wording("lead takes").format(first=first, second=second, full=full)
    assert rest.startswith(rests(LEAD_BANK, wording("lead rests")))
    cold = lines(replace(LEAD_BANK, temperature_c=5.0))
    assert cold[0] == f"{said}; at its 5 °C now charge to {volts(points.absorption_volts + 1.2, 1)}."
    assert cold[1] == f"{filled_drawn(points)} ({volts(points.most_volts + 1.2, 1)} at its 5 °C now)."
    assert cold[2].startswith(filled_guard(points, 5.0) + wording("right for cells at"))


@pytest.mark.parametrize(("cell_c", "moved"), [(24.6, False), (25.4, False), (24.4, True), (25.6, True)])
def test_half_a_kelvin_is_not_told(cell_c, moved):
    charged, drawn = lines(replace(LEAD_BANK, temperature_c=cell_c))[:2]
    assert ("now charge to" in charged) == moved == ("now)" in drawn)


@pytest.mark.parametrize(("cell_c", "now"), [(-16.0, "not now, at -16 °C"), (51.0, "not now, at 51 °C")])
def test_cells_that_must_not_be_charged_now(cell_c, now):
    charged = lines(replace(LEAD_BANK, temperature_c=cell_c))[0]
    assert f"at -15 to 50 °C: {now}, and" in charged and "now charge to" not in charged
    for edge in (-15.0, 50.0):
        assert "now charge to" in lines(replace(LEAD_BANK, temperature_c=edge))[0]


def test_what_is_outside_the_usual_comes_last():
    odd = replace(usual_points(BANK), absorption_volts=59.2)
    ((_name, _volts, (low, high)),) = outside_usual(odd, BANK)
    assert wording("outside").format(low=low, high=high) in point_words(BANK, odd)
    assert "Outside" not in point_words(BANK, usual_points(BANK))
