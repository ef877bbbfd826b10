"""What each kind of drive makes of its fields: every way to say a thing, what is taken for an empty one, cautions."""

import pytest

from sentences import sentences_of
from statorbook.drives.pedals import sustained_watts
from statorbook.drives.pipe import MeasuredLoss
from statorbook.drives.piped_jet import PipedJet
from statorbook.drives.water_jet import WaterJet
from statorbook.errors import BadInput
from statorbook.job.parts.drive.part import DrivePart

wording = sentences_of("job")

JET = dict(kind="water jet", head_m=20.0, pitch_diameter_mm=200.0)
PIPE = dict(gross_head_m=25.0, pipe_length_m=100.0, pipe_bore_mm=80.0, pipe_material="polyethylene")
WIND = dict(kind="wind rotor", rotor_diameter_m=2.0, wind_m_s=5.0)
ENGINE = dict(kind="engine", rated_watts=900.0, engine_rpm=3000.0)
PEDALS = dict(kind="pedals", gear_ratio=8.0)


def made(**fields):
    part = DrivePart(**fields)
    return part, part.to_drive()


def refused(field, **fields):
    with pytest.raises(BadInput) as found:
        DrivePart(**fields)
    return found.value.field == field


# An engine's pulley of 80 mm on 320 mm of the generator turns it once for four turns.
def test_an_engine_has_its_ratio_or_both_of_its_pulleys():
    assert made(**ENGINE, engine_pulley_mm=80.0, generator_pulley_mm=320.0)[1].pulley_ratio == pytest.approx(0.25)
    assert made(**ENGINE, pulley_ratio=0.3)[1].pulley_ratio == 0.3
    assert made(**ENGINE, pulley_ratio=0.3, engine_pulley_mm=80.0)[1].pulley_ratio == 0.3
    assert refused("pulley_ratio", **ENGINE, engine_pulley_mm=80.0)
    assert refused("pulley_ratio", **ENGINE, pulley_ratio=0.3, engine_pulley_mm=80.0, generator_pulley_mm=320.0)


# 300 mm at 3000 rpm, × 1.05 × 1.2 with a stuck governor, are 59 m/s; 80 mm are 16 m/s; cast pulleys stand 30 m/s or so.
def test_a_belt_that_runs_too_fast_is_told_where_the_pulley_is_known():
    for pulley_mm, told in ((None, False), (80.0, False), (300.0, True)):
        part, drive = made(**ENGINE, pulley_ratio=0.3, engine_pulley_mm=pulley_mm)
        said = " ".join(part.cautions(drive))
        assert ("the belt would run at 59" in said.lower()) is told and bool(said) is told


def test_a_rotor_without_a_guard_is_asked_for_one():
    for guard, besides in (
        ({}, ()),
        ({"furls_from_m_s": 8.0}, ("gusts of",)),
        ({"brake_from_rpm": 400.0}, ("the brake holds at",)),
        ({"furls_from_m_s": 8.0, "brake_from_rpm": 400.0}, ("gusts of", "the brake holds at")),
    ):
        part, drive = made(**WIND, **guard)
        asked = wording("What turns this rotor out of the wind") in part.cautions(drive)
        assert asked is (not guard)
        start, *said = part.assumed_besides
        assert start.startswith("pull that starts it") and len(said) == len(besides)
        assert all(words.startswith(first) for words, first in zip(said, besides, strict=True))
    part, drive = made(**(WIND | {"rotor_diameter_m": 6.0, "tip_speed_ratio": 8.0}))
    assert len(part.cautions(drive)) == 2 and all(part.cautions(drive))


def test_a_hub_stands_where_the_wind_was_read_unless_it_is_said_to_be_elsewhere():
    _, drive = made(**WIND, wind_height_m=12.0)
    assert (drive.hub_height_m, drive.wind_height_m, drive.gear_ratio) == (12.0, 12.0, 1.0)
    _, drive = made(**WIND, wind_height_m=12.0, hub_height_m=18.0, gear_ratio=3.0)
    assert (drive.hub_height_m, drive.gear_ratio) == (18.0, 3.0)


def test_a_rider_has_watts_or_hours():
    part, drive = made(**PEDALS, ride_hours=1.0)
    assert drive.rider_watts == sustained_watts(1.0) and drive.flywheel_kg_m2 == 0.0
    assert [words for words in part.assumed_besides if words.startswith("rider's watts, from the hours")]
    part, drive = made(**PEDALS, rider_watts=90.0, flywheel_kg=6.0, flywheel_diameter_mm=320.0)
    assert drive.rider_watts == 90.0 and len(part.assumed_besides) == 1
    assert drive.flywheel_kg_m2 == pytest.approx(6.0 * 0.32**2 / 8.0)  # a plain disc
    assert part.with_quantities({"rider_watts": 120.0}).to_drive().rider_watts == 120.0
    hours = DrivePart(**PEDALS, ride_hours=1.0).with_quantities({"rider_watts": 120.0})
    assert (hours.rider_watts, hours.ride_hours) == (120.0, None)
    assert refused("rider_watts", **PEDALS, rider_watts=90.0, ride_hours=1.0)


def test_a_jet_has_a_bore_or_a_flow_or_a_bucket():
    assert made(**JET, bucket_l=10.0, bucket_s=4.0)[1].total_flow_l_s == pytest.approx(2.5)
    assert made(**JET, flow_l_s=3.0)[1].total_flow_l_s == pytest.approx(3.0)
    assert made(**JET, nozzle_mm=12.0)[1].nozzle_mm == 12.0
    assert refused("bucket_s", **JET, bucket_s=4.0) and refused("nozzle_mm", **JET)
    assert refused("flow_l_s", **JET, flow_l_s=3.0, bucket_l=10.0, bucket_s=4.0)
    anew = DrivePart(**JET, bucket_l=10.0, bucket_s=4.0).with_quantities({"nozzle_mm": 14.0})
    assert (anew.nozzle_mm, anew.flow_l_s, anew.bucket_l, anew.bucket_s) == (14.0, None, None, None)


def test_a_head_is_read_at_the_nozzle_or_left_by_a_pipe_or_by_two_gauges():
    assert type(made(**JET, nozzle_mm=12.0)[1]) is WaterJet
    part, piped = made(kind="water jet", head_from="drop and pipe", nozzle_mm=12.0, pitch_diameter_mm=200.0, **PIPE)
    assert type(piped) is PipedJet and piped.net_head_m < 25.0 == piped.gross_head_m
    assert [words for words in part.assumed_besides if words.startswith("roughness and wall")]
    two = dict(JET, head_from="gauge shut and running", gross_head_m=25.0, nozzle_mm=12.0)
    part, gauged = made(**two)
    assert type(gauged.pipe) is MeasuredLoss and gauged.net_head_m == pytest.approx(20.0)
    assert len(part.assumed_besides) == 1
    # The loss goes with the square of the flow: 5 m at the flow of the nozzle that ran then.
    other = DrivePart(**(two | {"nozzle_mm": 6.0, "gauge_nozzle_mm": 12.0})).to_drive()
    assert other.pipe.flow_l_s == pytest.approx(gauged.pipe.flow_l_s) and 24.0 < other.net_head_m < 25.0
    by_flow = made(**(two | {"nozzle_mm": None, "flow_l_s": 2.0}))[1]
    assert by_flow.pipe.flow_l_s == 2.0


def test_two_gauges_keep_their_loss_when_nozzle_or_drop_are_given_anew():
    two = DrivePart(**JET, head_from="gauge shut and running", gross_head_m=25.0, nozzle_mm=12.0)
    smaller = two.with_quantities({"nozzle_mm": 6.0})
    assert (smaller.nozzle_mm, smaller.gauge_nozzle_mm, smaller.head_m) == (6.0, 12.0, 20.0)
    higher = two.with_quantities({"gross_head_m": 30.0})
    assert (higher.gross_head_m, higher.head_m, higher.gauge_nozzle_mm) == (30.0, 25.0, None)
    running = DrivePart(**JET, nozzle_mm=12.0).with_quantities({"nozzle_mm": 6.0})
    assert running.gauge_nozzle_mm is None


def test_a_valve_shut_too_fast_and_a_narrow_bucket_are_told():
    piped = dict(kind="water jet", head_from="drop and pipe", nozzle_mm=30.0, pitch_diameter_mm=400.0, **PIPE)
    part, drive = made(**piped, bucket_width_mm=90.0)
    closing, narrow = part.cautions(drive)
    assert closing == drive.pipe.closing_caution(drive.total_flow_l_s) and narrow == ""
    part, drive = made(**JET, nozzle_mm=12.0, bucket_width_mm=30.0)
    closing, narrow = part.cautions(drive)
    assert closing == "" and narrow
    part, drive = made(**JET, nozzle_mm=12.0)
    assert part.cautions(drive) == ("", "")
    assert refused("bucket_width_mm", **JET, nozzle_mm=12.0, bucket_width_mm=11.0)


def test_a_known_speed_is_held_and_said_anew_under_its_own_name():
    part, drive = made(kind="known speed", speed_rpm=600.0, runaway_ratio=2.0)
    assert (drive.best_speed_rpm, drive.runaway_speed_rpm) == (600.0, 1200.0)
    assert part.with_quantities({"working_rpm": 700.0}).speed_rpm == 700.0
    assert part.with_quantities({}) == part


def test_a_form_tells_of_a_drive_until_its_kind_is_chosen():
    assert [DrivePart.subject(given) for given in ({}, {"kind": None}, WIND)] == ["drive", "drive", "wind rotor"]
