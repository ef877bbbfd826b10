"""The panels of the coast-down and of the drill's wattmeter, and the picture, without a browser."""

from math import pi

import pytest

from samples.job_samples import sample
from sentences import in_us, sentences_of
from statorbook.bench.coast import read_coast, ring_inertia_kgm2
from statorbook.bench.drill import read_drill
from statorbook.errors import BadInput
from statorbook.examples import jobs as example
from statorbook.figures.canvas.kept import KeptFigure
from statorbook.figures.coast_fit import draw_coast_fit
from statorbook.fits.drag import INERTIA_SHARE, fit_coast, fit_drill
from statorbook.job.job import Job
from statorbook.panels.drive.drag_log import COAST_CAUTION, DRILL_CAUTION, WRITE, CoastPanel, DrillPanel, describe_drag
from statorbook.panels.measuring.log_panel import NO_STATOR, NOTHING_YET
from statorbook.winding.stator import Stator

wording = sentences_of("panels_drive")

STATOR = Stator(slots=36, poles=48)
NO_RING = wording("Your readings are kept. The")
PANELS = {"coast": CoastPanel, "drill": DrillPanel}


def coast_rows(slip=1.0):
    """300 rpm falling by 20 rpm each second; 24 pole pairs make 0.4 Hz of a rpm. Row 4 slips."""
    return [
        {
            "time_s": f"{t}",
            "speed_rpm": "",
            "electrical_hz": f"{0.4 * (300 - 20 * t) * (slip if t == 4.5 else 1):.2f}",
            "note": "",
        }
        for t in (0, 1.5, 3, 4.5, 6, 7.5, 9, 10.5, 12)
    ]


# 0.35, 0.5 and 0.65 N·m at 300, 600 and 900 rpm behind 0.6 of the added watts, see test_drag.
DRILLED = [
    {"speed_rpm": rpm, "electrical_hz": "", "watts_coupled": coupled, "watts_alone": "150", "note": ""}
    for rpm, coupled in (("300", "168.3"), ("600", "202.4"), ("900", "252.1"))
]
ROWS = {"coast": coast_rows(), "drill": DRILLED}


@pytest.fixture
def empty(tmp_path):
    return Job.create("mine", tmp_path)


@pytest.fixture
def job(empty):
    empty.save_part("stator", sample("stator"))
    return empty


def panel_with(job, log, rows=None):
    job.read_log(log)
    job.save_log(log, rows or ROWS[log])
    return PANELS[log](job)


def type_ring(panel):
    panel.mass.value, panel.ring.value = "5", "200"


def sign(panel, number):
    return panel.grid.row(number).sign.value


@pytest.mark.parametrize("log", PANELS)
def test_an_empty_job_is_calm_and_gets_no_file(empty, log):
    panel = PANELS[log](empty)
    assert panel.sentence == NOTHING_YET and panel.message.text == "" == panel.grid.message.text
    assert "not there yet" not in panel.sentence_box.value and not (empty.folder / f"{log}.csv").exists()


@pytest.mark.parametrize("log", PANELS)
def test_a_shipped_job_has_no_such_log(tmp_path, log):
    assert PANELS[log](example.write(tmp_path)).sentence == NOTHING_YET
    assert not list(tmp_path.rglob(f"{log}.csv"))


@pytest.mark.parametrize("log", PANELS)
def test_cells_are_kept_one_by_one_and_judged(empty, log):
    panel = PANELS[log](empty)
    panel.grid.row(1).cells["speed_rpm"].value = "300"
    assert panel.sentence == NO_STATOR
    assert Job.open("mine", empty.folder.parent).read_log(log)[0]["speed_rpm"] == "300"
    empty.save_part("stator", sample("stator"))
    panel.grid.row(1).cells["note"].value = "first"
    assert "… begun" in sign(panel, 1) and panel.sentence.startswith(wording("None of the 1 row"))


def test_the_inertia_has_to_be_typed_first(job):
    panel = panel_with(job, "coast")
    assert panel.sentence == NO_RING and "✓ good" in sign(panel, 1)
    panel.mass.value = "5"
    assert panel.sentence == NO_RING
    panel.ring.value = "200"
    inertia = ring_inertia_kgm2(5.0, 200.0)
    fit = fit_coast(read_coast(coast_rows(), STATOR), inertia, inertia_share=INERTIA_SHARE.value)
    # 0.05 kg·m² × 20 rpm/s × 2π/60.
    assert fit.drag_nm.value == pytest.approx(0.05 * 20 * 2 * pi / 60, rel=0.01)
    assert panel.sentence == (
        f"{describe_drag(fit)} The inertia is taken as 0.05 kg·m² ± 10 %, no added wheel, the ring as "
        "thin (assumed). 9 of 9 rows are used."
    )
    assert panel.shown_answer.caution.startswith(COAST_CAUTION) and 'role="img"' in panel.picture_box.value


def test_a_mass_that_is_none_is_refused_before_the_log_is_begun(job):
    panel = CoastPanel(job)
    panel.mass.value = "abc"
    with pytest.raises(BadInput) as refused:
        panel.mass.read()
    assert panel.message.text == f"Not usable – {refused.value}"
    panel.mass.value = "5"
    assert panel.message.text == "" and panel.sentence == NOTHING_YET


@pytest.mark.outside(
    "inertia of a thin ring and of a disc of 2 kg and 300 mm",
    source="Young and Freedman, University Physics, moments of inertia",
    number="0.05 + 0.0225 kg·m²",
    tolerance="1e-9",
    seen="from memory",
)
def test_an_added_wheel_counts(job):
    panel = panel_with(job, "coast")
    type_ring(panel)
    before = panel.found.fit.drag_nm.value
    panel.wheel.value = "2"
    assert panel.sentence == wording("Your readings are kept, but")
    assert "✓ good" in sign(panel, 1)
    panel.wheel_mm.value = "300 mm"
    assert panel.found.fit.drag_nm.value == pytest.approx(before * 0.0725 / 0.05, rel=1e-9)
    assert "the added wheel included" in panel.sentence


def test_an_odd_row_is_named_and_can_be_used_all_the_same(job):
    panel = panel_with(job, "coast", coast_rows(slip=1.4))
    type_ring(panel)
    assert "! odd" in sign(panel, 4) and wording("coast log, row 4: 40.0") in panel.sentence
    panel.keep_all.value = True
    assert "✓ good" in sign(panel, 4) and wording("Every usable row is used") in panel.sentence


def test_the_drill_says_what_it_assumes(job):
    panel = panel_with(job, "drill")
    fit = fit_drill(read_drill(DRILLED, STATOR))
    assert panel.sentence == f"{describe_drag(fit)} 3 of 3 rows are used."
    assert panel.shown_answer.caution == " ".join((DRILL_CAUTION, *fit.warnings)) and "assumed" in fit.warnings[-1]


def test_the_sentence_in_the_units_of_the_us():
    fit = fit_drill(read_drill(DRILLED, STATOR))
    # 0.2 N·m × 0.7376 ft·lb/N·m, NIST SP 811 (from memory).
    said = in_us(describe_drag, fit)
    assert said.startswith("The unloaded rotor takes 0.1") and "ft·lb when" in said


@pytest.mark.parametrize("log", PANELS)
def test_the_drag_is_written_to_the_drive_as_it_is_now(job, log):
    panel = panel_with(job, log)
    panel.buttons[WRITE].click()
    if log == "coast":
        assert panel.message.text == wording("Not usable – drag: there")
        type_ring(panel)
        panel.buttons[WRITE].click()
    assert panel.message.text == wording("Not usable – drag: the")
    job.save_part("drive", sample("drive", nozzle_mm=17.0))  # meanwhile, in another panel
    assert "drag_nm" in job.drive.assumed
    panel.buttons[WRITE].click()
    drive, fit = job.drive, panel.found.fit
    assert drive.drag_nm == pytest.approx(fit.drag_nm.value, rel=1e-3)
    assert drive.drag_nm_per_1000rpm == pytest.approx(fit.drag_nm_per_1000rpm.value, rel=1e-3)
    assert "drag_nm" not in drive.assumed and "efficiency" in drive.assumed and drive.nozzle_mm == 17.0
    assert panel.message.text == f"Saved in the drive of the job mine: {describe_drag(fit)}"
    assert (drive.rotor_kg, drive.rotor_ring_mm) == ((5.0, 200.0) if log == "coast" else (None, None))


def test_mass_and_diameter_come_back_with_the_drive(job):
    job.save_part("drive", sample("drive", rotor_kg=4.25, rotor_ring_mm=310.0))
    panel = panel_with(job, "coast")
    assert (panel.mass.value, panel.ring.value) == ("4.25", "310") and panel.sentence.startswith("The unloaded rotor")


def test_nothing_is_written_to_a_job_that_is_not_the_readers(job):
    job.save_part("drive", sample("drive"))
    before = (job.folder / "job.json").read_bytes()
    panel_with(job, "drill")
    panel = DrillPanel(Job(job.folder, notice="The example is open instead."))
    panel.buttons[WRITE].click()
    assert panel.message.text.startswith(wording("Not usable – drag: this"))
    assert (job.folder / "job.json").read_bytes() == before


def drawn(readings, fit):
    return KeptFigure(rows=2, height_in=5.2, sharex=True).draw(draw_coast_fit, readings, fit)


def named(axes, name):
    return next(artist for artist in (*axes.lines, *axes.texts) if artist.get_gid() == name)


def test_the_picture_shows_rows_curve_and_the_odd_one():
    readings = read_coast(coast_rows(slip=1.4), STATOR)
    upper, lower = drawn(readings, fit_coast(readings, 0.05)).axes
    assert (upper.get_ylabel(), lower.get_ylabel(), lower.get_xlabel()) == (
        "Speed [rpm]",
        "Off the fit [%]",
        "Time [s]",
    )
    assert list(named(upper, "rows").get_xdata()) == [0, 1.5, 3, 4.5, 6, 7.5, 9, 10.5, 12]
    assert list(named(upper, "odd").get_xdata()) == [4.5]
    assert [text.get_text() for text in upper.texts if text.get_visible()] == ["row 4: +40.0 %"]
    x, y = named(upper, "fit").get_data()
    # The line that the rows were made from, 300 − 20 t.
    assert y[x <= 12] == pytest.approx(300 - 20 * x[x <= 12], abs=1.0)


def test_the_picture_without_a_fit_and_without_a_row():
    upper, lower = drawn((), None).axes
    assert [text.get_text() for text in upper.texts if text.get_visible()] == ["no row yet"]
    figure = KeptFigure(rows=2, height_in=5.2, sharex=True)
    readings = read_coast(coast_rows(slip=1.4), STATOR)
    figure.draw(draw_coast_fit, readings, fit_coast(readings, 0.05))
    upper, lower = figure.draw(draw_coast_fit, readings, None).axes
    assert not named(upper, "fit").get_visible() and len(named(upper, "rows").get_xdata()) == 9
    assert len(named(upper, "odd").get_xdata()) == 0 == len(named(lower, "rows").get_xdata())
