"""What is said of the cable, from needs given by hand, and the distance from which another way wins."""

from dataclasses import replace
from math import inf
from types import SimpleNamespace

import numpy as np
import pytest

from samples.plant_samples import plant
from sentences import sentences_of
from statorbook.bank.battery import Bank
from statorbook.protection.cable_distances import Distances, WayAcross, cable_distances
from statorbook.protection.cable_needs import CableNeeds, CableSize
from statorbook.protection.cable_run import AT_BANK, CableRun
from statorbook.protection.cable_words import cable_words, distance_words, ohms_words, year_words
from statorbook.winding.grouping import Grouping

wording = sentences_of("protection_cable")

RUN = CableRun(length_m=30.0, area_mm2=16.0)  # wished: 3 % at most


def size(area_mm2, drop_percent, carries=True):
    run = replace(RUN, area_mm2=area_mm2)
    return CableSize(
        run=run, carries_amps=50.0, carries=carries, drop_percent=drop_percent, lost_watts=12.3, bank_watts=400.0
    )


THIN, MIDDLE, THICK = size(6.0, 5.0), size(10.0, 4.0), size(16.0, 2.0)


def lines(own, *sold):
    needs = CableNeeds(amps=41.2, asked_amps=62.3, around_c=40.0, own=own, sold=sold)
    return cable_words(needs).split("\n")


@pytest.mark.parametrize(
    ("own", "sold", "said"),
    [
        (THICK, (size(4.0, 6.0, carries=False), THIN, MIDDLE, THICK), (wording("yours carries"), wording("two sizes"))),
        (replace(THICK, carries=False), (THICK,), (wording("yours is too thin"), wording("one size"))),
        (replace(THICK, drop_percent=0.0), (size(16.0, 3.0),), (wording("yours at rest"), wording("one size"))),
        (THICK, (size(4.0, 1.0, carries=False),), (wording("yours carries"), wording("no size carries"))),
        (THICK, (THIN, MIDDLE), (wording("yours carries"), wording("no size keeps"))),
    ],
)
def test_the_cable_and_the_sizes_that_will_do(own, sold, said):
    assert lines(own, *sold) == [wording("DC amps"), *said]


def test_a_run_of_ac():
    assert lines(replace(THICK, run=replace(RUN, rectifier_at=AT_BANK)), THICK)[0] == wording("AC amps")


# A hundredth of the ohms is not seen.
def test_whether_the_pages_reckon_with_the_ohms_of_the_run():
    wire = RUN.run_ohm
    for times, said in (
        (1.0, wording("pages agree")),
        (1.004, wording("pages agree")),
        (1.02, wording("pages differ")),
    ):
        assert ohms_words(RUN, plant(cable_ohm=wire * times).conditions, "save") == said
    behind, around = replace(RUN, rectifier_at=AT_BANK), plant(cable_ohm=0.1, ac_cable_ohm=0.2).conditions
    assert ohms_words(behind, around, "save") == wording("AC and DC differ")


def test_from_which_distance_another_way_wins_in_words():
    lengths = np.geomspace(1.0, 300.0, 14)
    grouping = Grouping(series=4, parallel=3)
    bank = WayAcross(words="a bank of 52 V", watts=lengths, wins_from_m=43.0, bank_volts=52.0, grouping=grouping)
    near = WayAcross(words="rectifier at the bank", watts=lengths, wins_from_m=1.99)
    never = replace(near, wins_from_m=inf)

    def said(*ways):
        return distance_words(Distances(length_m=lengths, watts=lengths, others=ways))

    assert said(bank, near, never) == wording("two ways win")
    assert "from 2 m one way on" in said(replace(near, wins_from_m=2.0))
    assert said(never) == wording("one way never wins")
    assert said(never, never) == wording("no way wins")


def test_a_year_of_losses():
    years = SimpleNamespace(loss_kwh=np.array([1.0, 25.5]), kwh=np.array([2.0, 1234.4]))
    assert year_words(years, 1, 0.5) == wording("a year with money")
    assert year_words(years, 1, None) == wording("a year")


# The same cells twice or four times in series: as many times the volts, half or a quarter of the ampere-hours, and
# ohms that rise with the square. Up to 60 V: 13 V make 26 and 52 V, 20 V make 40 V.
def test_the_other_banks_have_the_same_cells():
    bank = Bank(chemistry="LiFePO4", cells=4, capacity_ah=800.0, inner_ohm=0.002)
    low = plant(bank=bank, grouping=Grouping(series=1, parallel=12), run=CableRun(length_m=43.0, area_mm2=25.0))
    found = cable_distances(low)
    assert [way.words for way in found.others] == ["rectifier at the bank", "a bank of 26 V", "a bank of 52 V"]
    # With two diodes of 0.9 V: (26.24 + 1.8) / (13.12 + 1.8) = 1.88 and 3.64 times the volts; 2 in star make 2, 3 in
    # delta 1.73, and 4 in star make 4, 6 in delta 6 / √3 = 3.46. The nearer by its ratio is taken.
    doubled, fourfold = (way.grouping for way in found.others[1:])
    assert (doubled.series, doubled.connection) == (2, "star") and (fourfold.series, fourfold.connection) == (
        6,
        "delta",
    )
    # 300 m at the most, four times the run where that is more.
    assert (found.length_m[0], found.length_m[-1]) == pytest.approx((1.0, 300.0))
    longer = cable_distances(replace(low, run=CableRun(length_m=100.0, area_mm2=25.0)))
    assert longer.length_m[-1] == pytest.approx(400.0)
    # 10 Ω is the most that a run may have.
    thin = cable_distances(replace(low, run=CableRun(length_m=100.0, area_mm2=1.0)))
    assert CableRun(length_m=0.99 * thin.length_m[-1], area_mm2=1.0).run_ohm == pytest.approx(9.9, rel=0.02)
