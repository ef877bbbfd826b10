"""Inertia of a job from what page 03 holds: coast-down beside a drill log first, then the weighed ring."""

import pytest

from fits.test_drag import coast_row, drill_row
from statorbook.assembly.inertia import inertia_found
from statorbook.examples import jobs as example
from statorbook.job.job import Job
from statorbook.quantities import RAD_S_PER_RPM


@pytest.fixture
def job(tmp_path):
    return example.write(tmp_path)


def with_ring(job, **changes):
    """The ring of 5 kg and 200 mm: 0.05 kg·m² by hand."""
    drive = job.drive
    job.save_part("drive", type(drive)(**{**drive.model_dump(), "rotor_kg": 5.0, "rotor_ring_mm": 200.0, **changes}))


def test_nothing_measured_is_nothing_found(job):
    assert inertia_found(job) is None


@pytest.mark.outside(
    "inertia of a thin ring of 5 kg and 200 mm",
    source="Young and Freedman, University Physics, moments of inertia",
    number="m d² / 4 = 0.05 kg·m²",
    tolerance="1e-6",
    seen="from memory",
)
def test_a_ring_is_less_certain_by_its_hub(job):
    with_ring(job)
    found = inertia_found(job)
    assert (found.value, found.low) == pytest.approx((0.05, 0.045))


# A drill of 60 % draws 0.314 N·m × ω / 0.6.
@pytest.mark.outside(
    "inertia from 0.314 N·m of drag that takes 10 rpm a second",
    source="Newton's second law: J = T / α, α = 10 × 2π/60",
    number="0.3 kg·m²",
    tolerance="3 %",
    seen="derived",
)
def test_coast_down_and_drill_go_before_the_ring(job):
    with_ring(job)
    job.save_log("coast", [coast_row(t, 300.0 - 10.0 * t) for t in range(0, 27, 3)])
    job.save_log("drill", [drill_row(rpm, 0.314 * rpm * RAD_S_PER_RPM / 0.6) for rpm in (100.0, 200.0, 300.0)])
    found = inertia_found(job)
    assert found.value == pytest.approx(0.3, rel=0.03) and "coast-down" in found.how


def test_a_flywheel_of_the_pedals_counts_with_the_ring(tmp_path):
    pedals = example.write(tmp_path, "shed_pedals")
    with_ring(pedals)
    drive = pedals.drive.to_drive()
    assert drive.flywheel_kg_m2 > 0.0
    assert inertia_found(pedals).value == pytest.approx(0.05 + drive.flywheel_kg_m2)


def test_without_a_stator_or_a_drive_nothing_is_found(job):
    with_ring(job)
    bare = Job.create("mill", job.folder.parent)
    bare.save_part("drive", job.read().drive)
    assert inertia_found(job) is not None and inertia_found(bare) is None
    bare.save_part("stator", job.read().stator)
    assert inertia_found(bare).value == pytest.approx(0.05)
    other = Job.create("mill_2", job.folder.parent)
    other.save_part("stator", job.read().stator)
    assert inertia_found(other) is None
