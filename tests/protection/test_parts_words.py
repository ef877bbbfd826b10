"""Parts of the list in words: what is asked for, why, and what is wrong with the reader's own."""

import pytest

from samples.plant_samples import plant
from sentences import sentences_of
from statorbook.bank.battery import Bank
from statorbook.cable.sizes import size_name
from statorbook.protection.cable_needs import cable_needs
from statorbook.protection.cable_run import AT_BANK, CableRun
from statorbook.protection.fuse import Fuse, Switch, fuse_needs
from statorbook.protection.part_to_buy import at_least
from statorbook.protection.parts_list import parts_to_buy
from statorbook.protection.site import Site

wording = sentences_of("protection")

# NEC 210.20(A) (in a reproduction): a quarter on top of what flows for hours.


def parts_of(made, *own):
    return {part.key: part for part in parts_to_buy(made, *own)}


@pytest.mark.parametrize(("rectifier_at", "wires"), [("at the machine", "two"), (AT_BANK, "three")])
def test_the_cable_in_words(rectifier_at, wires):
    run = CableRun(length_m=30.0) if wires == "two" else CableRun(length_m=30.0, rectifier_at=rectifier_at)
    made = plant(run=run, site=Site(hottest_c=45.0))
    found, part = cable_needs(made), parts_of(made)["cable"]
    size = size_name(found.least_that_will_do.run.area_mm2)
    thick = size_name(fuse_needs(made).cable_mm2)
    leads = "" if run.is_dc else f"; from the rectifier to the bank two short leads of {thick} or more"
    kind = f"({run.insulation}; {run.strands})"
    assert part.brief == f"{wires} wires of {size}, 30 m one way"
    assert part.rating == f"{wires} wires of {size} copper or more {kind}, 30 m one way, {run.laid}{leads}"
    fused = "as much as its fuse, for " if run.is_dc else ""
    assert part.why == (
        f"Each has to carry {found.asked_amps:.0f} A in air of 45 °C: {fused}1.25 × the most amps (NEC 210.20(A), "
        f"read). No more than {run.most_drop_percent:g} % may be lost in it."
    )


def test_a_cable_that_no_size_will_do_for_in_words():
    made = plant(run=CableRun(length_m=1500.0, area_mm2=120.0, most_drop_percent=0.1))
    part, asked = parts_of(made)["cable"], cable_needs(made).asked_amps
    assert part.rating == f"no size that is sold will do for {'1500'} m one way"
    assert part.brief == f"no size will do, {'1500'} m one way"
    assert part.why == (
        f"Each of its two wires has to carry {asked:.0f} A, and to keep the wished drop: shorten the run, lay it "
        "cooler, raise the bank's volts, or wish for less."
    )
    assert f"{cable_needs(made).own.drop_percent:.2g} % is lost in it" in part.yours
    thin = plant(run=CableRun(length_m=1.0, area_mm2=0.5))
    assert f"it carries {cable_needs(thin).own.carries_amps:.0f} A for hours" in parts_of(thin)["cable"].yours


def test_fuse_and_switch_in_words():
    made = plant()
    found, parts = fuse_needs(made), parts_of(made)
    volts, amps = at_least(found.dc_volts, "V"), at_least(found.switch_amps, "A")
    assert parts["switch"].brief == f"DC {volts}, {amps}"
    assert parts["switch"].rating == (
        f"marked for DC, {volts} or more, {amps} or more, parting plus and minus together"
    )
    assert parts["fuse"].brief.startswith(f"{found.size_amps:g} A, DC ")
    assert f"1.25 × the {found.continuous_amps:.0f} A that can flow for hours" in parts["fuse"].why
    own = parts_of(plant(fuse=Fuse(amps=1.0)), Switch(amps=1.0))
    assert own["fuse"].yours.startswith("1 A") and own["switch"].yours.startswith("1 A")
    assert parts["fuse"].yours == parts["switch"].yours == ""


# IEC 62485-2 (from memory): 0.05 m³/h for each cell and ampere, rounded as the standard's 0.0504 gives.
def test_fresh_air_in_words():
    lead = plant(bank=Bank(chemistry="flooded lead-acid", cells=24, capacity_ah=200.0))
    why = parts_of(lead)["air"].why
    boost, stuck = (part.split()[-1] for part in why.split(" m³/h")[:2])
    assert boost == f"{float(boost):.2g}" and stuck == f"{float(stuck):.2g}" and float(boost) < float(stuck)
    assert "air" not in parts_of(plant())


def test_a_dump_load_in_words():
    made = plant()
    part = parts_of(made)["dump load"]
    assert part.rating == f"{part.brief} or more for hours at {made.bank.charging_volts:.0f} V DC, with its own control"
    assert wording("a full bank takes nothing") in part.why


def test_a_heat_sink_that_nothing_is_enough_for_is_told():
    cool, hot = (parts_of(plant(site=Site(hottest_c=hottest)))["heat sink"] for hottest in (20.0, 60.0))
    assert cool.rating.endswith(", fins upright") and cool.brief.endswith(" K/W or less")
    assert cool.why.endswith(wording("heat in air of 20 °C"))
    assert hot.why.endswith(" in air of 60 °C.") and float(hot.brief.split()[0]) < float(cool.brief.split()[0])
