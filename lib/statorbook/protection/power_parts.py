"""The parts that carry the plant's amps, from the rectifier to the bank, each as a shop is asked for it."""

from math import ceil, isinf

from statorbook.protection.enclosures import NEVER_OPEN
from statorbook.protection.fuse import fuse_needs
from statorbook.protection.part_to_buy import PartToBuy, at_least, at_most
from statorbook.protection.rectifier import AMPS_SPARE, REVERSE_SPARE, rectifier_needs
from statorbook.protection.rectifier_label import BLOCK, SINGLE
from statorbook.quantities import say


def rectifier(plant):
    """The bridge, whole or of single diodes."""
    needs, kind = rectifier_needs(plant), plant.rectifier.kind if plant.rectifier else BLOCK
    reverse = say(needs.usual_reverse_volts, "V", form=".0f")
    block, single = at_least(needs.block_amps, "A"), at_least(needs.diode_amps, "A")
    asked = f"six diodes of {single} average" if kind == SINGLE else f"a three-phase bridge for {block} DC"
    one = needs.most
    return PartToBuy(
        key="rectifier",
        name="Rectifier",
        rating=f"{asked} or more, {reverse} repetitive peak reverse or more",
        why=f"{AMPS_SPARE.value:g} × the most amps ({one.dc_amps:.0f} A DC; {one.mean_amps:.0f} A mean, "
        f"{one.amps_rms:.0f} A rms, {one.amps_peak:.0f} A peak in each diode) and {REVERSE_SPARE.value:g} × the "
        f"{needs.blocked_volts_peak:.0f} V peak of a runaway in the cold; both spares are common practice, no source.",
        brief=f"{f'6 × {single}' if kind == SINGLE else f'{block} DC'}, {reverse} reverse",
    )


def heat_sink(plant):
    """What keeps the bridge cool."""
    needs, air = rectifier_needs(plant), say(plant.site.hottest_c, "°C", form="g")
    if isinf(needs.heat_sink_k_per_w):
        return None
    enough = needs.heat_sink_k_per_w > 0.0
    asked = at_most(needs.heat_sink_k_per_w, "K/W") if enough else ""
    return PartToBuy(
        key="heat sink",
        name="Heat sink",
        rating=f"{asked} or less, fins upright in free air"
        if enough
        else "none is enough where it is mounted: give the rectifier another place, or share the amps among several",
        why=f"{needs.watts:.0f} W of heat at the most amps in air of {air}.",
        brief=f"{asked} or less" if enough else "none is enough",
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
