"""The ends of the bands of a coil's constants."""

from statorbook.choice.machine import corners
from statorbook.quantities.estimate import Estimate


def test_the_corners_are_the_ends_of_all_three_bands():
    made = corners(
        Estimate(value=0.02, plus_minus=0.001, unit="V/rpm", how="test"),
        Estimate(value=0.5, plus_minus=0.1, unit="Ω", how="test"),
        Estimate(value=0.003, plus_minus=0.002, unit="H", how="test"),
        "aluminium",
        "neodymium",
    )
    got = {(round(c.emf_v_per_rpm, 9), round(c.ohm, 9), round(c.henry, 9)) for c in made}
    assert got == {(e, r, h) for e in (0.019, 0.021) for r in (0.4, 0.6) for h in (0.001, 0.005)}
    assert len(made) == 8 and {(c.conductor, c.magnet) for c in made} == {("aluminium", "neodymium")}


def test_a_band_that_reaches_0_is_cut_at_a_tenth_of_its_middle():
    sure = Estimate(value=1.0, plus_minus=0.0, unit="Ω", how="test")
    wide = Estimate(value=0.004, plus_minus=0.009, unit="H", how="test")
    assert {round(c.henry, 9) for c in corners(sure, sure, wide)} == {0.0004, 0.013}
