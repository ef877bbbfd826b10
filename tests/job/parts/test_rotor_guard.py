"""What turns and the over-voltage load of a job: what counts, what is assumed, what is refused."""

import pytest

from statorbook.job.parts import GuardPart, RotorPart
from statorbook.job.parts.fields import BadField


def test_an_untouched_rotor_is_light_and_marked():
    rotor = RotorPart().to_rotor()
    assert rotor.assumed and rotor.inertia_kgm2 == 0.05
    assert not RotorPart(inertia_kgm2=0.05).to_rotor().assumed


@pytest.mark.outside(
    "inertia of a disc of 8 kg and 400 mm",
    source="Young and Freedman, University Physics, moments of inertia",
    number="m d² / 8 = 0.16 kg·m²",
    tolerance="1e-6",
    seen="from memory",
)
def test_mass_and_diameter_count_in_place_of_the_assumed_inertia():
    part = RotorPart(mass_kg=8.0, diameter_mm=400.0)
    assert part.to_rotor().inertia_kgm2 == pytest.approx(0.16)
    assert not part.to_rotor().assumed


def test_no_load_is_there_before_its_label_is_typed():
    assert GuardPart().to_guard() is None and GuardPart().assumed_in_use == ()
    part = GuardPart(set_dc_volts=62.0, ohm=5.0, watts=900.0)
    load = part.to_guard()
    assert (load.set_dc_volts, load.ohm, load.watts, load.acts_within_s, load.capacitor_uf) == (62, 5, 900, 0.03, 0)
    assert part.assumed_in_use == ("acts_within_s",)


@pytest.mark.parametrize(
    ("model", "fields", "field"),
    [
        (RotorPart, {"inertia_kgm2": 0.0}, "inertia_kgm2"),
        (RotorPart, {"mass_kg": 4.0}, "diameter_mm"),
        (RotorPart, {"inertia_kgm2": 0.3, "mass_kg": 4.0, "diameter_mm": 300.0}, "mass_kg"),
        (GuardPart, {"ohm": 5.0}, "set_dc_volts"),
        (GuardPart, {"set_dc_volts": 62.0, "ohm": 0.0, "watts": 900.0}, "ohm"),
    ],
)
def test_what_cannot_be_is_refused_at_its_field(model, fields, field):
    with pytest.raises(BadField) as refused:
        model(**fields)
    assert refused.value.field == field
    assert "\n" not in str(refused.value)
