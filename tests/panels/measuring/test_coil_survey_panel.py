"""The panel of the coil-by-coil survey and its picture, without a browser."""

import pytest

from samples.job_samples import sample
from samples.pages import by_gid
from sentences import sentences_of
from statorbook.bench.coils import read_coils
from statorbook.cautions import Exposure
from statorbook.examples import jobs as example
from statorbook.figures.canvas.kept import KeptFigure
from statorbook.figures.coil_bars import draw_coil_bars
from statorbook.fits.coil_survey import fit_survey
from statorbook.job.job import Job
from statorbook.panels.measuring.coil_survey import HOW, NOT_NEEDED_YET, CoilSurveyPanel
from statorbook.panels.measuring.log_panel import NO_STATOR
from statorbook.winding.stator import Stator

wording = sentences_of("panels_measuring")

STATOR = Stator(slots=36, poles=48)
SHORTED = ("1.85", "0.48")


def coil_rows(faults=None, teeth=range(1, 37)):
    """2.40 V at 150 rpm and 0.560 Ω on every coil but the faulty ones."""
    rows = []
    for tooth in teeth:
        volts, ohms = (faults or {}).get(tooth, ("2.40", "0.560"))
        speed = "150" if tooth == teeth[0] else ""
        rows.append({"tooth": str(tooth), "volts": volts, "speed_rpm": speed, "ohms": ohms, "note": ""})
    return rows


@pytest.fixture
def empty(tmp_path):
    return Job.create("mine", tmp_path)


@pytest.fixture
def job(empty):
    empty.save_part("stator", sample("stator"))
    return empty


def panel_with(job, rows):
    job.read_log("coils")
    job.save_log("coils", rows)
    return CoilSurveyPanel(job)


def on_disk(job):
    return Job.open("mine", job.folder.parent).read_log("coils")


def sign(panel, number):
    return panel.grid.row(number).sign.value


def test_an_empty_log_says_when_it_is_worth_doing_and_makes_no_file(empty):
    panel = CoilSurveyPanel(empty)
    assert panel.sentence == NOT_NEEDED_YET and panel.message.text == "" == panel.grid.message.text
    assert "before coils are put in parallel" in panel.sentence and "not there yet" not in panel.sentence_box.value
    assert not (empty.folder / "coils.csv").exists()


def test_a_shipped_job_has_no_such_log(tmp_path):
    assert CoilSurveyPanel(example.write(tmp_path)).sentence == NOT_NEEDED_YET
    assert not list(tmp_path.rglob("coils.csv"))


def test_how_and_caution_stand_there_from_the_start(job):
    said = CoilSurveyPanel(job).shown_answer.caution
    assert said.splitlines() == [HOW.text, *(each.sentence for each in HOW.exposures)]
    assert wording("with the rotor standing, clip") in said and wording("let it stand before the") in said
    assert wording("an empty speed cell means") in said


def test_cells_are_kept_one_by_one_and_judged(empty):
    panel = CoilSurveyPanel(empty)
    panel.grid.row(1).cells["tooth"].value = "7"
    assert panel.sentence == NO_STATOR and on_disk(empty)[0]["tooth"] == "7"
    empty.save_part("stator", sample("stator"))
    panel.grid.row(1).cells["note"].value = "first"
    assert "✗ bad" in sign(panel, 1) and panel.sentence.startswith(wording("None of the 1 row"))
    panel.grid.row(1).cells["volts"].value = "2.4"
    assert "✓ good" in sign(panel, 1) and panel.sentence.startswith(wording("Of 36 coils the volts"))


def test_a_bad_row_is_named_and_nothing_is_lost(job):
    rows = coil_rows()
    rows[4]["tooth"], rows[5]["ohms"] = "55", "lots"
    panel = panel_with(job, rows)
    assert "✗ bad" in sign(panel, 5) and "✗ bad" in sign(panel, 6) and "✓ good" in sign(panel, 7)
    assert wording("a tooth from 1 to") in panel.grid.row(5).sentence.value
    panel.grid.row(1).cells["note"].value = "changed"
    kept = on_disk(job)
    assert kept[4]["tooth"] == "55" and kept[5]["ohms"] == "lots" and kept[0]["note"] == "changed" and len(kept) == 36
    assert wording("No volts yet of teeth") in panel.sentence


def test_a_shorted_coil_is_said_and_ringed(job):
    panel = panel_with(job, coil_rows({7: SHORTED}))
    assert "! odd" in sign(panel, 7) and "✓ good" in sign(panel, 8)
    # 1.85 / 2.40 is 22.9 % down, 0.48 / 0.56 is 14.3 %: volts clearly further down.
    assert wording("1 coil stands out. Tooth") in panel.sentence
    assert "shorted turns" in panel.grid.row(7).sentence.value and 'role="img"' in panel.picture_box.value
    panel.grid.row(7).cells["volts"].value = "2.40"
    panel.grid.row(7).cells["ohms"].value = "0.56"
    assert wording("No coil differs from the") in panel.sentence
    assert "✓ good" in sign(panel, 7)


def test_ol_is_taken_as_an_open_coil(job):
    panel = panel_with(job, coil_rows({7: ("0.00", "OL")}))
    assert wording("Tooth 7, open coil: volts") in panel.sentence


def test_what_cannot_be_compared_keeps_its_verdicts(job):
    panel = panel_with(job, coil_rows(dict.fromkeys(range(1, 7), ("0.00", "0.560")), teeth=range(1, 7)))
    assert panel.sentence == (
        "Your readings are kept, but cannot be compared – coils log: 0 is typed as the volts of 6 of 6 coils; fewer "
        "than half may show that, since each coil is compared with the others; clip the meter on, then turn the rotor "
        f"steadily and read AC volts and read again. Caution: {Exposure.TURNING.tag}; {Exposure.VOLTS.tag}."
    )
    assert "✓ good" in sign(panel, 1)


def test_the_wiring_as_found_counts(job):
    assert "As found" not in panel_with(job, coil_rows()).sentence
    job.save_part("stator", sample("stator", found_connection="delta"))
    assert wording("As found (12 in series") in CoilSurveyPanel(job).sentence


def drawn(figure, faults=None, rows=None):
    survey = fit_survey(read_coils(rows or coil_rows(faults), STATOR), STATOR)
    return figure.draw(draw_coil_bars, survey).axes


def seen(axes):
    return sorted(text.get_text() for text in axes.texts if text.get_visible())


def figure_of_two():
    return KeptFigure(rows=2, height_in=5.2, sharex=True)


def test_the_picture_has_a_point_for_each_tooth_and_rings_the_odd_one():
    volts, ohms = drawn(figure_of_two(), {7: SHORTED, 20: ("2.40", "OL")})
    assert (volts.get_ylabel(), ohms.get_ylabel(), ohms.get_xlabel()) == (
        "Volts [% of middle]",
        "Ohms [% of middle]",
        "Tooth",
    )
    x, y = by_gid(volts.lines, "coils").get_data()
    assert list(x) == list(range(1, 37)) and y[6] == pytest.approx(100 * 1.85 / 2.40) and y[7] == pytest.approx(100.0)
    assert list(by_gid(volts.lines, "odd").get_xdata()) == [7] and seen(volts) == ["7: −23 %"]
    # A coil without a way through has no height of its own; it is ringed at the top.
    assert len(by_gid(ohms.lines, "coils").get_xdata()) == 35
    assert list(by_gid(ohms.lines, "odd").get_xdata()) == [7, 20] and seen(ohms) == ["20: OL", "7: −14 %"]


def test_unread_coils_have_a_question_mark_and_all_points_are_in_sight():
    rows = coil_rows({3: ("0.02", "0.560"), 9: ("2.40", "1.50")})
    rows[11]["volts"] = ""
    volts, ohms = drawn(figure_of_two(), rows=rows)
    assert seen(volts).count("?") == 1 and seen(ohms).count("?") == 0
    for axes in (volts, ohms):
        low, high = axes.get_ylim()
        assert all(low < y < high for y in by_gid(axes.lines, "coils").get_ydata())


def test_the_picture_is_moved_not_drawn_anew_and_can_be_empty():
    figure = figure_of_two()
    first = by_gid(drawn(figure, {7: SHORTED})[0].lines, "coils")
    volts, _ = drawn(figure)
    assert by_gid(volts.lines, "coils") is first and seen(volts) == []
    assert len(by_gid(volts.lines, "odd").get_xdata()) == 0
    for axes in figure.draw(draw_coil_bars, None).axes:
        assert not any(artist.get_visible() for artist in (*axes.lines, *axes.collections)) and len(seen(axes)) == 1


def test_names_of_neighbours_do_not_lie_on_each_other():
    volts, _ = drawn(figure_of_two(), {7: SHORTED, 8: SHORTED, 36: SHORTED})
    sides = {t.get_text().split(":")[0]: t.get_ha() for t in volts.texts if t.get_visible()}
    # The lower one to the left, the next to the right, and the last tooth has no room on its right.
    assert sides == {"7": "right", "8": "left", "36": "right"}
