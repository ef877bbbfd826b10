"""What every drive has, so that the packages above can take any of them."""

from dataclasses import fields
from typing import Protocol, get_type_hints

import pytest

from sentences import in_us
from statorbook.drives import Drive, Engine, KnownSpeed, Pedals, Pipe, PipedJet, WaterJet, WindRotor
from statorbook.drives.quantity import Quantity

PIPE = Pipe(length_m=120, bore_mm=50, material="polyethylene")
DRIVES = [
    WaterJet(head_m=28.0, nozzle_mm=12.0, pitch_diameter_mm=260.0),
    PipedJet(gross_head_m=30.0, pipe=PIPE, nozzle_mm=10.0, pitch_diameter_mm=220.0),
    WindRotor(rotor_diameter_m=2.4, wind_m_s=6.0),
    Pedals(rider_watts=100.0, gear_ratio=6.0),
    Engine(rated_watts=2000.0, engine_rpm=3000.0, pulley_ratio=0.25),
    KnownSpeed(working_rpm=600.0),
]
MEMBERS = get_type_hints(Drive, localns={"Quantity": Quantity})


@pytest.mark.parametrize("drive", DRIVES, ids=lambda drive: type(drive).__name__)
def test_every_drive_has_all_that_a_drive_has(drive):
    assert Protocol in Drive.__mro__ and len(MEMBERS) == 10
    for name, kind in MEMBERS.items():
        value = getattr(drive, name)
        assert isinstance(value, tuple if str(kind).startswith("tuple") else kind), name
    assert drive.torque_nm(0.5 * drive.best_speed_rpm) > 0.0 and in_us(drive.describe)
    own = {field.name for field in fields(drive)}
    assert all(isinstance(turn, Quantity) and turn.field in own for turn in drive.quantities)


def test_a_drive_without_a_torque_says_so():
    class Unfinished(Drive):
        pass

    with pytest.raises(NotImplementedError):
        Unfinished().torque_nm(100.0)
