"""The parts that carry the plant's amps, from the rectifier to the bank, each as a shop is asked for it."""

from math import isinf

from statorbook.cable import size_name
from statorbook.protection.enclosures import NEVER_OPEN
from statorbook.protection.fuse_label import MISFIT, UNKNOWN, no_less
from statorbook.protection.part_to_buy import PartToBuy, at_least, at_most, verdict
from statorbook.protection.rectifier import AMPS_SPARE, REVERSE_SPARE
from statorbook.protection.rectifier_fit import LEAST_HEAT_SINK, rectifier_fit
from statorbook.protection.rectifier_label import BLOCK, SINGLE, Rectifier
from statorbook.quantities import say


def rectifier(needs):
    """The bridge, whole or of single diodes."""
    plant, found = needs.plant, needs.rectifier
    kind = plant.rectifier.kind if plant.rectifier else BLOCK
    reverse = say(found.usual_reverse_volts, "V", form=".0f")
    block, single = at_least(found.block_amps, "A"), at_least(found.diode_amps, "A")
    asked = f"six diodes of {single} average" if kind == SINGLE else f"a three-phase bridge for {block} DC"
    one = found.most
    return PartToBuy(
        key="rectifier",
        name="Rectifier",
        rating=f"{asked} or more, {reverse} repetitive peak reverse or more",
        why=f"{AMPS_SPARE.value:g} × the most amps ({one.dc_amps:.0f} A DC; {one.mean_amps:.0f} A mean, "
        f"{one.amps_rms:.0f} A rms, {one.amps_peak:.0f} A peak in each diode) and {REVERSE_SPARE.value:g} × the "
        f"{found.blocked_volts_peak:.0f} V peak of a runaway in the cold; both spares are common practice, no source.",
        brief=f"{f'6 × {single}' if kind == SINGLE else f'{block} DC'}, {reverse} reverse",
        yours=_own_rectifier(needs),
    )


def _own_rectifier(needs):
    found = rectifier_fit(needs.plant, needs.rectifier)
    return verdict("", found.reasons) if found.labelled else ""


def heat_sink(needs):
    """What keeps the bridge cool."""
    rectifier, found = needs.plant.rectifier or Rectifier(), rectifier_fit(needs.plant, needs.rectifier)
    least, own = found.needed_k_per_w, rectifier.heat_sink_k_per_w
    if isinf(least):
        return None
    enough, asked = least >= LEAST_HEAT_SINK.value, at_most(max(least, 0.0), "K/W")
    wrong = [f"{asked} or less is needed" if enough else "none is enough"] if own and own > least * (1.0 + 1e-9) else []
    return PartToBuy(
        key="heat sink",
        name="Heat sink",
        rating=f"{asked} or less {rectifier.enclosure}, fins upright"
        if enough
        else f"none is enough {rectifier.enclosure}: give it a cooler place, or share the amps among several",
        why=f"{needs.rectifier.watts:.0f} W of heat at the most amps in air of "
        f"{say(needs.plant.site.hottest_c, '°C', form='g')}.",
        brief=f"{asked} or less" if enough else "none is enough",
        yours=verdict(say(own, "K/W"), wrong) if own else "",
    )


def cable(needs):
    """The run between machine and bank."""
    found, run = needs.cable, needs.plant.run
    length, wires = say(run.length_m, "m"), ("two", "three")[run.wires - 2]
    given = {"key": "cable", "name": "Cable", "yours": _own_cable(needs)}
    size = needs.cable_mm2
    if size is None:
        return PartToBuy(
            rating=f"no size that is sold will do for {length} one way",
            why=f"Each of its {wires} wires has to carry {found.asked_amps:.0f} A, and to keep the wished drop: "
            "shorten the run, lay it cooler, raise the bank's volts, or wish for less.",
            brief=f"no size will do, {length} one way",
            **given,
        )
    name = size_name(size)
    return PartToBuy(
        rating=f"{wires} wires of {name} copper or more ({run.insulation}; {run.strands}), {length} one way, "
        f"{run.laid}{_short_leads(needs)}",
        why=f"Each has to carry {found.asked_amps:.0f} A in air of {say(found.around_c, '°C', form='g')}: "
        f"{'as much as its fuse, for ' if run.is_dc else ''}1.25 × the most amps (NEC 210.20(A), read). No more than "
        f"{run.most_drop_percent:g} % may be lost in it.",
        brief=f"{wires} wires of {name}, {length} one way",
        **given,
    )


def _short_leads(needs):
    """Behind a rectifier at the bank DC flows in two leads of their own, as thick as the fuse asks for."""
    area = needs.fuse.cable_mm2
    if needs.plant.run.is_dc or isinf(area):
        return ""
    return f"; from the rectifier to the bank two short leads of {size_name(area)} or more"


def _own_cable(needs):
    own, wrong = needs.cable.own, []
    if not own.carries:
        wrong.append(f"it carries {own.carries_amps:.0f} A for hours")
    if not own.keeps_drop:
        wrong.append(f"{own.drop_percent:.2g} % is lost in it")
    return verdict(own.name, wrong)


def switch(needs):
    """The switch that parts the bank from the plant."""
    found = needs.fuse
    amps, volts = at_least(found.switch_amps, "A"), at_least(found.dc_volts, "V")
    return PartToBuy(
        key="switch",
        name="DC switch",
        rating=f"marked for DC, {volts} or more, {amps} or more, parting plus and minus together",
        why=f"For work on a plant that stands: the volts are those across it when it is opened all the same while the "
        f"rotor turns, which lets it run away. {NEVER_OPEN}.",
        brief=f"DC {volts}, {amps}",
        yours=_by_label(needs, "Switch", needs.switch),
    )


def fuse(needs):
    """The fuse in the bank's lead."""
    found = needs.fuse
    volts, breaks = no_less(found.dc_volts, "V"), no_less(found.breaking_amps, "A")
    size = f"{found.size_amps:g} A" if found.size_amps else f"more than {at_least(found.least_amps, 'A')}"
    made = "" if found.size_amps else ", which is not sold as one fuse: ask the electrician"
    return PartToBuy(
        key="fuse",
        name="Fuse",
        rating=f"{size}{made}, marked for DC {volts} or more, able to break {breaks} DC or more; one for each "
        "pole of the bank that is not earthed, as near to it as it goes",
        why=f"1.25 × the {found.continuous_amps:.0f} A that can flow for hours (NEC 210.20(A), read), and no more than "
        f"the cable carries: it protects the cable from the bank, which drives up to {breaks} through a short circuit.",
        brief=f"{size}, DC {volts}, breaks {breaks}",
        yours=_by_label(needs, "Fuse", needs.plant.fuse),
    )


def _by_label(needs, part, own):
    """What the label of fuse or switch says; empty while none is typed."""
    if own is None:
        return ""
    rows = [row for row in needs.labels if row.part == part]
    wrong = [f"{row.has} {row.what}, {row.needed} needed" for row in rows if row.verdict == MISFIT]
    return verdict(say(own.amps, "A"), wrong, [row.what for row in rows if row.verdict == UNKNOWN])
