"""Every number of a plant's labels and readings: what is typed is taken up to its ends and refused a hair beyond."""

from math import inf, nextafter

import pytest

from statorbook.errors import BadInput
from statorbook.protection.cable_run import CableRun
from statorbook.protection.fuse import Fuse, Switch
from statorbook.protection.over_voltage_load import OverVoltageLoad
from statorbook.protection.rectifier_label import Rectifier
from statorbook.protection.rotor import Rotor, inertia_from_size_kgm2
from statorbook.protection.site import Site
from statorbook.protection.winding_heat import HeatRun, WindingHeat

ABOVE_0 = 1e-6  # what has to be above 0 is taken however small
LOAD = {"set_dc_volts": 60.0, "ohm": 3.0, "watts": 1000.0}
RUN = {"cold_ohm": 0.5, "cold_c": 20.0, "hot_ohm": 0.6, "air_c": 25.0, "dc_amps": 8.0}
# What the pages ask for, and from where to where it is taken: rules of the house, no source.
FIELDS = [
    (Fuse, {}, "amps", ABOVE_0, 10_000),
    (Fuse, {"amps": 1.0}, "dc_volts", ABOVE_0, inf),
    (Fuse, {"amps": 1.0}, "breaking_amps", ABOVE_0, inf),
    (Fuse, {"amps": 1.0}, "let_through_a2s", ABOVE_0, inf),
    (Switch, {}, "amps", ABOVE_0, 10_000),
    (Switch, {"amps": 1.0}, "dc_volts", ABOVE_0, inf),
    (OverVoltageLoad, LOAD, "set_dc_volts", ABOVE_0, 2000),
    (OverVoltageLoad, LOAD, "ohm", ABOVE_0, 10_000),
    (OverVoltageLoad, LOAD, "watts", ABOVE_0, 1_000_000),
    (OverVoltageLoad, LOAD, "acts_within_s", ABOVE_0, 10),
    (OverVoltageLoad, LOAD, "capacitor_uf", 0, 1_000_000),
    (Rectifier, {}, "label_amps", ABOVE_0, 10_000),
    (Rectifier, {}, "reverse_volts", ABOVE_0, 20_000),
    (Rectifier, {}, "drop_v", ABOVE_0, 3),
    (Rectifier, {}, "junction_case_k_per_w", ABOVE_0, 100),
    (Rectifier, {}, "heat_sink_k_per_w", ABOVE_0, 100),
    (Rectifier, {}, "slope_ohm", 0, 1),
    (Rectifier, {}, "max_junction_c", 100, 250),
    (Rectifier, {}, "box_cm2", ABOVE_0, 1_000_000),
    (Rotor, {}, "inertia_kgm2", ABOVE_0, 10_000),
    (inertia_from_size_kgm2, {"diameter_mm": 200.0}, "mass_kg", ABOVE_0, 5000),
    (inertia_from_size_kgm2, {"mass_kg": 5.0}, "diameter_mm", ABOVE_0, 100_000),
    (Site, {}, "hottest_c", -20, 70),
    (HeatRun, RUN, "cold_ohm", ABOVE_0, inf),
    (HeatRun, RUN, "cold_c", -30, 60),
    (HeatRun, RUN, "hot_ohm", ABOVE_0, inf),
    (HeatRun, RUN, "air_c", -30, 70),
    (HeatRun, RUN, "dc_amps", ABOVE_0, inf),
    (WindingHeat, {}, "k_per_w", ABOVE_0, 100),
    (WindingHeat, {}, "time_constant_min", ABOVE_0, 1000),
    (CableRun, {"area_mm2": 1000.0}, "length_m", ABOVE_0, 5000),
    (CableRun, {"length_m": 1e-5}, "area_mm2", ABOVE_0, 1000),
    (CableRun, {}, "most_drop_percent", ABOVE_0, 50),
]


@pytest.mark.parametrize(("make", "others", "field", "least", "most"), FIELDS)
def test_a_number_is_taken_up_to_its_ends_and_refused_beyond(make, others, field, least, most):
    taken = (least, 1e7 if most == inf else most)
    refused = (0.0 if least == ABOVE_0 else nextafter(least, -inf), *([nextafter(most, inf)] if most < inf else []))
    for value in taken:
        make(**{**others, field: value})
    for value in refused:
        with pytest.raises(BadInput):
            make(**{**others, field: value})


@pytest.mark.parametrize("count", [0, 25, 1.5])
def test_so_many_side_by_side_are_refused(count):
    for taken in (1, 24):
        assert Rectifier(side_by_side=taken).side_by_side == taken
    with pytest.raises(BadInput):
        Rectifier(side_by_side=count)


# A winding as warm as its air tells nothing, one beyond 220 °C is a wrong reading; k = 235 (IEC 60034-1, from memory).
def test_a_hot_winding_is_taken_up_to_220_c():
    def hot(at_c):
        return HeatRun(**{**RUN, "hot_ohm": 0.5 * (235.0 + at_c) / 255.0}).hot_c("copper")

    assert hot(219.99) == pytest.approx(219.99) and hot(25.01) == pytest.approx(25.01)
    for at_c in (220.01, 24.99):
        with pytest.raises(BadInput, match="at most 220 °C are needed"):
            hot(at_c)
