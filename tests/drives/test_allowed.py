"""What a drive may be: the ends of every number that a reader types, each allowed at its end and refused beyond it."""

from dataclasses import replace

import pytest

from statorbook.drives import Engine, KnownSpeed, Pedals, Pipe, PipedJet, WaterJet, WindRotor
from statorbook.drives.pipe import MeasuredLoss
from statorbook.drives.quantity import with_quantities
from statorbook.errors import BadInput

PIPE = Pipe(length_m=120.0, bore_mm=50.0, material="polyethylene")
JET = WaterJet(head_m=28.0, nozzle_mm=12.0, pitch_diameter_mm=260.0)
PIPED = PipedJet(gross_head_m=30.0, pipe=PIPE, nozzle_mm=10.0, pitch_diameter_mm=220.0)
ROTOR = WindRotor(rotor_diameter_m=2.4, wind_m_s=6.0)
LEGS = Pedals(rider_watts=100.0, gear_ratio=6.0)
MOTOR = Engine(rated_watts=2000.0, engine_rpm=3000.0, pulley_ratio=0.25)
STEADY = KnownSpeed(working_rpm=600.0)
GAUGES = MeasuredLoss(static_m=30.0, running_m=24.0, flow_l_s=2.0)
TINY, HAIR = 1e-9, 1e-9
# Field: least and most; a least of 0 stands for "above 0".
WHEEL = {
    "efficiency": (0, 0.95),
    "velocity_coefficient": (0.8, 1),
    "speed_ratio": (0.3, 0.5),
    "runaway_ratio": (1.75, 2),
}
ENDS = [
    (JET, {"head_m": (0, 1000), "jets": (1, 6), **WHEEL}),
    (PIPED, WHEEL),
    (PIPE, {"bore_mm": (None, 1000), "length_m": (0, 20_000), "viscosity_cst": (0.2, 5), "friction_factor": (0, 0.2)}),
    (PIPE, {"roughness_mm": (0.0, 5), "wall_mm": (0, 50), "extra_loss": (0.0, 10_000), "entrance_loss": (0.0, 10)}),
    (PIPE, {"bends": (0.0, 200)}),
    (GAUGES, {"flow_l_s": (0, 1000), "static_m": (None, 1000)}),
    (ROTOR, {"rotor_diameter_m": (0, 100), "wind_m_s": (0, 100), "storm_m_s": (0, 100), "air_kg_m3": (0.4, 1.8)}),
    (ROTOR, {"tip_speed_ratio": (0.5, 15), "gear_ratio": (0, 100), "power_coefficient": (0, 16 / 27)}),
    (ROTOR, {"furls_from_m_s": (0, 100), "brake_from_rpm": (0, 20_000), "shear_exponent": (0.0, 0.5)}),
    (ROTOR, {"hub_height_m": (1, 200), "wind_height_m": (1, 200)}),
    (LEGS, {"rider_watts": (0, 1500), "gear_ratio": (0, 100), "cadence_rpm": (20, 150), "chain_efficiency": (0, 1)}),
    (LEGS, {"crank_mm": (50, 300), "flywheel_ratio": (0, 100)}),
    (replace(LEGS, flywheel_kg=5.0, flywheel_diameter_mm=300.0), {"flywheel_kg": (0, 500)}),
    (replace(LEGS, flywheel_kg=5.0, flywheel_diameter_mm=300.0), {"flywheel_diameter_mm": (0, 3000)}),
    (MOTOR, {"rated_watts": (0, 50_000), "engine_rpm": (0, 20_000), "pulley_ratio": (0, 50), "droop": (0, 0.3)}),
    (MOTOR, {"belt_efficiency": (0, 1), "overspeed_ratio": (1, 3)}),
    (STEADY, {"working_rpm": (0, 20_000), "runaway_ratio": (1, 5)}),
]
CASES = [(thing, field, *ends) for thing, fields in ENDS for field, ends in fields.items()]
COUNTS = ("jets", "bends")


@pytest.mark.parametrize("thing, field, least, most", CASES, ids=lambda each: each if isinstance(each, str) else "")
def test_a_number_is_allowed_up_to_its_ends_and_refused_beyond(thing, field, least, most):
    whole = field in COUNTS
    assert getattr(replace(thing, **{field: most}), field) == most
    beyond = [most + 1 if whole else most * (1.0 + HAIR)]
    if least is not None:
        above_nothing = isinstance(least, int) and least == 0
        end = int(least) if whole else TINY if above_nothing else least
        assert getattr(replace(thing, **{field: end}), field) == end
        beyond.append(end - 1 if whole else 0.0 if above_nothing else least - max(HAIR, HAIR * least))
    for value in beyond:
        with pytest.raises(BadInput):
            replace(thing, **{field: value})


# The pitch circle is 5 to 60 jets across, so both move together.
@pytest.mark.parametrize("nozzle_mm, allowed", [(TINY, True), (0.0, False), (500.0, True), (500.001, False)])
def test_a_nozzle_and_the_largest_one(nozzle_mm, allowed):
    def made(**changes):
        return replace(JET, pitch_diameter_mm=min(max(10.0 * nozzle_mm, 10.0 * TINY), 5000.0), **changes)

    if allowed:
        assert made(nozzle_mm=nozzle_mm).jet_mm == nozzle_mm
        assert made(nozzle_mm=0.5 * nozzle_mm, largest_nozzle_mm=nozzle_mm).largest_nozzle_mm == nozzle_mm
    else:
        for changes in (
            {"nozzle_mm": nozzle_mm},
            {"nozzle_mm": max(0.5 * nozzle_mm, TINY), "largest_nozzle_mm": nozzle_mm},
        ):
            with pytest.raises(BadInput, match="nozzle bore"):
                made(**changes)


@pytest.mark.parametrize("jets_across, allowed", [(5.0, True), (4.999, False), (60.0, True), (60.001, False)])
def test_a_runner_is_5_to_60_jets_across(jets_across, allowed):
    if allowed:
        assert replace(JET, pitch_diameter_mm=jets_across * 12.0).pitch_diameter_mm == jets_across * 12.0
    else:
        with pytest.raises(BadInput, match="runner and jet"):
            replace(JET, pitch_diameter_mm=jets_across * 12.0)


@pytest.mark.parametrize(
    "drive",
    [JET, PIPED, ROTOR, replace(ROTOR, furls_from_m_s=8.0), LEGS, MOTOR, STEADY],
    ids=lambda d: type(d).__name__,
)
def test_sliders_move_in_whole_steps_from_end_to_end(drive):
    assert with_quantities(drive, {}) is drive
    for turn in drive.quantities:
        steps = (turn.high - turn.low) / turn.step
        assert 0.0 < turn.low < turn.high and turn.low <= turn.value <= turn.high
        assert steps == pytest.approx(round(steps)) and round(turn.step, turn.digits) == turn.step > 0.0
        assert round(turn.low, turn.digits) == turn.low and round(turn.high, turn.digits) == turn.high
