"""Life, load and speed of the bearing in words, worked by hand; what is missing is said."""

import pytest

from sentences import sentences_of
from statorbook.job.parts.registry import ServicePart
from statorbook.service.words import life_words, limit_words

wording = sentences_of("service")


def test_life_at_best_by_hand():
    part = ServicePart(
        bearing_size="6204",
        turning_kg=10.0,
        shaft="lying",
        pull_radius_mm=100.0,
        pull_factor=2.0,
        magnet_pull_n=0.0,
        overhang=1.0,
        hours_per_day=10.0,
    )
    # Pull 2 × 8 N·m / 0.1 m = 160 N, weight 98.07 N: 258.07 N. (12700/258.07)³ × 10⁶ / (60 × 600) = 3.31 million h,
    # two figures; 12.7 kN is the table's own rating. Ten times the load: a thousandth, 3310 h, 0.9 years.
    words = life_words(part, 8.0, 600.0)
    assert wording("carries 258 N at 600") in words
    heavy = part.model_copy(update={"overhang": 5.0, "magnet_pull_n": 258.07})
    # 5 × 516.14 N = 2580.7 N.
    assert wording("carries 2581 N at 600") in life_words(heavy, 8.0, 600.0)
    assert "Water kills salvaged bearings in months" in words


@pytest.mark.outside(
    "weight along a 6204: factor between two rows of the table",
    source="ISO 281:2007, table 3",
    number="Y = 2.30 at 0.172, 1.99 at 0.345",
    tolerance="0.2 %",
    seen="from memory",
)
def test_a_standing_shaft_loads_the_bearing_along():
    # f0 Fa/C0 = 14 × 98.07/6500 = 0.211, Y = 2.23; P = 218.7 N.
    words = life_words(ServicePart(bearing_size="6204", turning_kg=10.0, shaft="standing", overhang=1.0), 0.0, 600.0)
    assert "carries 219 N" in words


def test_without_load_or_speed_there_is_no_wear():
    loaded = ServicePart(bearing_size="6204", turning_kg=10.0, shaft="lying", overhang=1.0)
    light = loaded.model_copy(update={"turning_kg": 0.0, "magnet_pull_n": 0.0})
    for part, rpm in ((loaded, 0.0), (light, 600.0)):
        assert life_words(part, 0.0, rpm).startswith(wording("No load or no speed"))
    # One newton at one turn a minute is little, and is counted.
    feather = light.model_copy(update={"magnet_pull_n": 1.0})
    assert "carries 1 N at 1 rpm" in life_words(feather, 0.0, 1.0)
    assert limit_words(loaded.model_copy(update={"bearing_size": None}), 0.0, 600.0) == ""
    assert limit_words(ServicePart(bearing_size="6204"), 0.0, 600.0) == ""


def test_a_lying_shaft_pushes_nothing_along():
    # 5 × 98.07 N across; with a newton along it would stay so, and a hundredth of the load.
    part = ServicePart(bearing_size="6204", turning_kg=0.01, shaft="lying", overhang=1.0, magnet_pull_n=0.0)
    assert "carries 0 N at 600 rpm" in life_words(part, 0.0, 600.0)


def test_what_is_missing_for_the_life_is_said():
    assert life_words(ServicePart(), 8.0, 600.0).startswith(wording("Type the bearing's number and"))


@pytest.mark.outside(
    "safety of a ball bearing against dents under knocks",
    source="ISO 76:2006, 6, static load safety factor",
    number="2",
    tolerance="exact",
    seen="from memory",
)
def test_static_load_and_runaway_speed_by_hand():
    part = ServicePart(bearing_size="6204", turning_kg=10.0, shaft="lying", overhang=1.0)
    # 98.07 N across; the table's own 6500 N over a safety of 2. Mean diameter (20 + 47)/2 = 33.5 mm:
    # 300 000 / 33.5 = 8955 rpm (speed factor: common practice, no source).
    assert limit_words(part, 0.0, 1700.0) == wording("At rest and under knocks")
    heavy = part.model_copy(update={"magnet_pull_n": 4000.0})
    said = limit_words(heavy, 0.0, 9000.0)
    assert wording("4098 N; up to 3250") in said
    assert wording("9000 rpm; sealed and greased") in said
    assert limit_words(ServicePart(), 0.0, 1700.0) == ""


def test_a_standing_shaft_at_rest():
    # 0.6 × 0 + 0.5 × 98.07 N = 49 N, ISO 76:2006 (from memory).
    part = ServicePart(bearing_size="6204", turning_kg=10.0, shaft="standing", overhang=1.0)
    assert "it carries 49 N; " in limit_words(part, 0.0, 600.0)
