"""Every drive at its strongest, and the guard that only some have."""

import numpy as np
import pytest

from sentences import exactly, sentences_of
from statorbook.drives import shaft_watts
from statorbook.drives.engine import Engine
from statorbook.drives.known_speed import KnownSpeed
from statorbook.drives.nozzle_choice import best_nozzle_mm
from statorbook.drives.pedals import Pedals
from statorbook.drives.pipe import Pipe
from statorbook.drives.piped_jet import PipedJet
from statorbook.drives.water_jet import WaterJet
from statorbook.errors import BadInput

wording = sentences_of("drives")

PIPE = Pipe(length_m=120, bore_mm=50, material="polyethylene")
JET = {"head_m": 28.0, "nozzle_mm": 12.0, "pitch_diameter_mm": 260.0}
PIPED = {"gross_head_m": 30.0, "pipe": PIPE, "nozzle_mm": 10.0, "pitch_diameter_mm": 220.0}
DRIVES = {
    "jet": WaterJet(**JET),
    "jet, larger nozzle": WaterJet(**JET, largest_nozzle_mm=18.0),
    "jet, flow": WaterJet(head_m=28.0, flow_l_s=2.0, pitch_diameter_mm=260.0, largest_nozzle_mm=18.0),
    "pipe": PipedJet(**PIPED),
    "pipe, larger nozzle": PipedJet(**PIPED, largest_nozzle_mm=40.0),
    "pedals": Pedals(rider_watts=100.0, gear_ratio=6.0),
    "strong legs": Pedals(rider_watts=900.0, gear_ratio=6.0),
    "engine": Engine(rated_watts=2000.0, engine_rpm=3000.0, pulley_ratio=0.25),
    "known speed": KnownSpeed(working_rpm=600.0),
}


@pytest.mark.parametrize("drive", DRIVES.values(), ids=DRIVES)
def test_a_drive_without_a_guard_runs_away_as_if_it_failed(drive):
    assert drive.guard_words == "" and drive.unguarded() is drive
    assert drive.unguarded_runaway_speed_rpm == drive.runaway_speed_rpm


@pytest.mark.parametrize("name", [name for name in DRIVES if name != "pipe, larger nozzle"])
def test_the_strongest_never_pulls_less_at_any_speed(name):
    drive, strong = DRIVES[name], DRIVES[name].strongest()
    speeds = np.linspace(0.0, drive.runaway_speed_rpm, 201)
    assert type(strong) is type(drive) and (strong.torque_nm(speeds) >= drive.torque_nm(speeds) - 1e-9).all()
    assert strong.runaway_speed_rpm >= drive.runaway_speed_rpm and strong.strongest() == strong
    assert drive.strongest_words and strong.torque_nm(1.0001 * strong.free_speed_rpm) <= 0.0


# ρ g Q H with Q as the bore squared: 18 mm for 12 mm is 2.25 times the power at the same head.
def test_the_largest_nozzle_that_was_named_counts():
    plain, larger = DRIVES["jet"], DRIVES["jet, larger nozzle"]
    assert plain.strongest() is plain and larger.best_shaft_watts == plain.best_shaft_watts
    assert larger.strongest().best_shaft_watts == pytest.approx(2.25 * plain.best_shaft_watts, rel=1e-12)
    assert larger.strongest_words == wording("every nozzle open, with jets")
    assert WaterJet(**JET, largest_nozzle_mm=9.0).strongest().jet_mm == 12.0


def test_a_pipe_gives_most_with_a_nozzle_short_of_the_largest():
    drive = DRIVES["pipe, larger nozzle"]
    strong = drive.strongest()
    assert strong.nozzle_mm == pytest.approx(best_nozzle_mm(drive), rel=1e-9) and 10.0 < strong.nozzle_mm < 40.0
    assert strong.best_shaft_watts > drive.best_shaft_watts and strong.torque_nm(0.0) > drive.torque_nm(0.0)
    near = PipedJet(**PIPED, largest_nozzle_mm=11.0)
    assert near.strongest().nozzle_mm == 11.0


@pytest.mark.parametrize(
    ("make", "words"),
    [
        (
            lambda: WaterJet(**JET, largest_nozzle_mm=60.0),
            "a 260 mm runner with a 60 mm jet was given, 4.33 jet diameters",
        ),
        (
            lambda: PipedJet(**PIPED | {"pitch_diameter_mm": 400.0}, largest_nozzle_mm=60.0),
            "a jet of 60 mm from a pipe of",
        ),
        (lambda: WaterJet(**JET, largest_nozzle_mm=-1), "-1 mm was given"),
    ],
)
def test_a_largest_nozzle_that_does_not_fit_is_refused_by_its_name(make, words):
    with pytest.raises(BadInput, match="^largest nozzle bore: " + exactly(words).strip("^$")):
        make()


@pytest.mark.outside(
    "what exhausts an adult within minutes",
    source="Malewicki, chart of 1983, as reported on a personal page on cycling",
    number="300 to 450 W",
    tolerance="none",
    seen="in a reproduction",
)
def test_a_rider_sprints():
    strong = DRIVES["pedals"].strongest()
    assert strong.rider_watts == 450.0 and strong.best_speed_rpm == DRIVES["pedals"].best_speed_rpm
    assert DRIVES["strong legs"].strongest().rider_watts == 900.0
    assert DRIVES["pedals"].strongest_words == wording("a rider who sprints with")


# 2000 W × 0.93 at 3000 rpm / 4 = 750 rpm; no load 1.05 × 750 = 787.5 rpm; governor stuck 1.2 × 787.5 = 945 rpm.
def test_a_stuck_governor_pulls_on_to_the_runaway_speed():
    drive, strong = DRIVES["engine"], DRIVES["engine"].strongest()
    assert (strong.free_speed_rpm, strong.runaway_speed_rpm) == pytest.approx((945.0, 945.0))
    assert shaft_watts(strong, 750.0) == pytest.approx(1860.0) == shaft_watts(drive, 750.0)
    # Half way from 750 to 945 rpm half of the torque is left, where the working governor leaves none.
    assert strong.torque_nm(847.5) == pytest.approx(drive.torque_nm(750.0) / 2) and drive.torque_nm(847.5) == 0.0


def test_a_known_speed_is_held_at_its_runaway():
    strong = KnownSpeed(working_rpm=15_000.0, runaway_ratio=2.0).strongest()
    assert strong.best_speed_rpm == strong.free_speed_rpm == strong.runaway_speed_rpm == 30_000.0
    assert strong.torque_nm(29_999.0) == np.inf and strong.torque_nm(30_001.0) == 0.0
