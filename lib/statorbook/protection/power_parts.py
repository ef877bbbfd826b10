"""The parts that carry the plant's amps, from the rectifier to the bank, each as a shop is asked for it."""

from math import ceil

from statorbook.protection.enclosures import NEVER_OPEN
from statorbook.protection.fuse import fuse_needs
from statorbook.protection.part_to_buy import PartToBuy, at_least
from statorbook.quantities import say


def rectifier(plant):
    """The bridge."""
    amps, volts = plant.most.dc_amps, plant.open_volts(plant.runaway_rpm)[1]
    asked, reverse = at_least(1.25 * amps, "A"), at_least(1.5 * volts, "V")
    return PartToBuy(
        key="rectifier",
        name="Rectifier",
        rating=f"a three-phase bridge for {asked} DC or more, {reverse} reverse or more",
        why=f"{amps:.0f} A DC at most, and {volts:.0f} V DC peak when it runs away cold.",
        brief=f"{asked} DC, {reverse} reverse",
    )


def cable(plant):
    """The run between machine and bank."""
    area = max(fuse_needs(plant).cable_mm2, 1.5)
    return PartToBuy(
        key="cable",
        name="Cable",
        rating=f"{area:g} mm² or more",
        why="It carries what the fuse lets through.",
        brief=f"{area:g} mm², {say(plant.run.length_m, 'm')} one way",
    )


def switch(plant):
    """The switch that parts the bank from the plant."""
    needs = fuse_needs(plant)
    amps, volts = at_least(needs.switch_amps, "A"), at_least(needs.dc_volts, "V")
    return PartToBuy(
        key="switch",
        name="DC switch",
        rating=f"marked for DC, {volts} or more, {amps} or more, parting plus and minus together",
        why=f"For work on a plant that stands: the volts are those across it when it is opened all the same while the "
        f"rotor turns, which lets it run away. {NEVER_OPEN}.",
        brief=f"DC {volts}, {amps}",
    )


def fuse(plant):
    """The fuse in the bank's lead."""
    needs = fuse_needs(plant)
    volts, breaks = at_least(needs.dc_volts, "V"), _kiloamps(needs.breaking_amps)
    size = f"{needs.size_amps:g} A" if needs.size_amps else f"more than {at_least(needs.least_amps, 'A')}"
    made = "" if needs.size_amps else ", which is not sold as one fuse: ask the electrician"
    return PartToBuy(
        key="fuse",
        name="Fuse",
        rating=f"{size}{made}, marked for DC {volts} or more, able to break {breaks} DC or more; at the bank's plus",
        why=f"1.25 × the {needs.continuous_amps:.0f} A that can flow for hours (NEC 210.20(A), read), and no more than "
        f"the cable carries: it protects the cable from the bank, which drives up to {breaks} through a short circuit.",
        brief=f"{size}, DC {volts}, breaks {breaks}",
    )


def _kiloamps(amps):
    """A breaking capacity as labels give it, rounded up."""
    return at_least(amps, "A") if amps < 1000.0 else f"{ceil(amps / 100.0 - 1e-9) / 10.0:g} kA"
