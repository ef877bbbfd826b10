"""Panel of fuse and switch: what is needed, what is typed is judged and saved, nonsense is one sentence."""

import pytest

from samples.pages import refused, unfolded
from sentences import sentences_of
from statorbook.assembly.plant import plant_from
from statorbook.examples import jobs as example
from statorbook.figures.canvas.kept import KeptFigure
from statorbook.figures.protect_fuse import draw_break_times
from statorbook.job.parts.cable import CablePart
from statorbook.job.parts.fuse import FusePart
from statorbook.job.parts.site import SitePart
from statorbook.panels.protection.fuse import TIMES, FusePanel
from statorbook.panels.protection.page import ProtectionPage
from statorbook.protection.break_times import break_times
from statorbook.protection.fuse import fuse_needs
from statorbook.protection.fuse_words import FUSE_CODES

wording = sentences_of("protection_fuse")


@pytest.fixture
def job(tmp_path):
    made = example.write(tmp_path)
    made.save_part("fuse", FusePart())
    made.save_part("cable", CablePart())
    return made


@pytest.fixture
def panel(job):
    return FusePanel(ProtectionPage(job))


def type_in(panel, **fields):
    for name, value in fields.items():
        panel.form.fields[name].control.value = value


def test_it_names_a_fuse_before_anything_is_typed(panel, job):
    needs = fuse_needs(plant_from(job))
    assert panel.sentence.startswith(f"It needs a fuse of {needs.amps:g} A, for at least ")
    assert panel.shown_answer.caution.startswith(FUSE_CODES) and FUSE_CODES.count("licensed electrician") == 1
    assert (panel.message.text, panel.message.last_fault) == ("", "")


def test_what_is_typed_is_judged_and_saved(panel, job):
    needs = fuse_needs(plant_from(job))
    type_in(panel, amps=f"{needs.amps:g}", dc_volts="1000", breaking_amps="100 kA")
    assert "Your fuse fits." in panel.sentence
    assert (job.fuse.amps, job.fuse.to_fuse().breaking_amps) == (needs.amps, 100_000.0)
    type_in(panel, switch_amps="1", switch_dc_volts="1000")
    assert "Your switch does not fit" in panel.sentence and job.fuse.to_switch().amps == 1.0
    type_in(panel, amps="1")
    assert "Your fuse does not fit" in panel.sentence
    assert [row[-1] for row in panel.shown_answer.table.rows if row[0] == "Fuse"][0] == "does not fit"


@pytest.mark.parametrize("name", example.EXAMPLES)
def test_the_examples_have_fuses_that_fit(tmp_path, name):
    assert "Your fuse fits." in FusePanel(ProtectionPage(example.write(tmp_path, name))).sentence


def test_a_label_without_its_amps_is_refused(panel):
    type_in(panel, dc_volts="80")
    assert wording("amps first") in refused(panel)


@pytest.mark.parametrize("typed", ["0", "-5", "abc", "1e9", "5 kg"])
def test_nonsense_is_one_sentence_and_no_fault(panel, typed):
    type_in(panel, amps=typed)
    assert not panel.form.fields["amps"].usable and "cannot be used yet" in refused(panel)


def test_an_assumed_cable_is_named_until_it_is_typed(panel, job):
    assert "Assumed here: the cable's size" in panel.sentence
    job.save_part("cable", CablePart(length_m=30.0, area_mm2=25.0))
    job.save_part("site", SitePart(place="damp", hottest_c=35.0, coldest_c=-5.0))
    panel.page.tell()
    assert "Assumed here" not in panel.sentence and "25 mm² carries" in panel.sentence


def test_the_picture_sets_the_fuse_against_the_cable(panel, job):
    assert f"A fuse of {fuse_needs(plant_from(job)).amps:g} A" in unfolded(panel)[TIMES]


@pytest.mark.outside(
    "seconds until 16 mm² behind PVC is at its end",
    source="IEC 60364-5-54, tables of k",
    number="(115 × 16 / I)²",
    tolerance="1 %",
    seen="in a reproduction",
)
def test_the_figure_has_the_numbers_of_the_times(job):
    times, figure = break_times(plant_from(job)), KeptFigure()
    figure.draw(draw_break_times, times)
    drawn = {line.get_gid(): line.get_xydata() for line in figure.axes[0].lines}
    assert drawn["fuse"][:, 1] == pytest.approx(times.fuse_s, nan_ok=True)
    assert drawn["cable"][:, 1] == pytest.approx(times.cable_s, nan_ok=True)
    at = times.amps.size - 1
    assert times.cable_s[at] == pytest.approx((115.0 * 16.0 / times.amps[at]) ** 2, rel=0.01)
