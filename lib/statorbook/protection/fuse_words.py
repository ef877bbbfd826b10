"""What a reader is told of fuse, switch and bank: what to buy, why, whether the own one fits, and what is dangerous."""

from math import isinf

from statorbook.bank import ventilation
from statorbook.cable import size_name
from statorbook.cautions import Exposure, Instruction, together
from statorbook.protection.fuse import MOST_BROKEN_AMPS, OPENS_SHORT_WITHIN_S, RATED_UP_TO_C, fuse_needs
from statorbook.protection.fuse_label import MISFIT, UNKNOWN, amount, no_less, ratings
from statorbook.quantities import rounded_up, say

FUSE_CODES = (
    "These are computed sizes: the local electrical code, and where it asks for one a licensed electrician, decide on "
    "fuse, switch, poles and earth."
)
_NO_HYDROGEN = (
    "Fresh air: such a bank gives off no hydrogen at work; overcharged or damaged, its cells give off gas that burns, "
    "so it stands where that can leave."
)


def fuse_words(plant, switch=None):
    """What fuse and switch the bank's lead needs and why, whether those at hand fit, and what is dangerous about them.

    Parameters
    ----------
    plant : Plant
        The plant, with the fuse that the reader has, or without.
    switch : Switch or None
        The switch that the reader has.

    Returns
    -------
    Instruction
        A line for each.
    """
    needs = fuse_needs(plant)
    found = ratings(plant, switch)
    own = " ".join(_own(name, found) for name, given in (("Fuse", plant.fuse), ("Switch", switch)) if given)
    lines = _needed(needs, plant), own, _why(needs, plant), _danger(plant), _bank(needs, plant), _air(plant)
    return together(*lines, between="\n")


def _needed(needs, plant):
    rest = (
        f"for at least {no_less(needs.dc_volts, 'V')} DC, that breaks at least {no_less(needs.breaking_amps, 'A')} DC, "
        f"and a switch for both poles, at least {no_less(needs.switch_amps, 'A')} and the same volts DC"
    )
    if needs.amps:
        return f"It needs a fuse of {needs.amps:g} A, {rest}."
    least = no_less(needs.least_amps, "A")
    if needs.cable_amps == 0.0:
        air = say(plant.site.hottest_c, "°C", form=".0f")
        return (
            f"No fuse fits: in air of {air} a cable in {plant.run.insulation} carries nothing. It needs a cooler way, "
            "or an insulation that stands more."
        )
    if needs.next_amps is None or isinf(needs.cable_mm2):
        return (
            f"No single fuse and cable that are sold do for the {least} that it needs: several cables, each with its "
            "own fuse, are an electrician's work."
        )
    return (
        f"No fuse fits this cable: it needs {least} or more, and {size_name(plant.run.area_mm2)} carries only "
        f"{needs.cable_amps:.0f} A. With a cable of at least {size_name(needs.cable_mm2)} it is a fuse of "
        f"{needs.next_amps:g} A, {rest}."
    )


def _own(name, found):
    """Whether the fuse or the switch that the reader has fits, with each reason why not."""
    rows = [row for row in found if row.part == name]
    wrong = [f"{row.has} {row.what}, {_asked(row)}, else {row.danger}" for row in rows if row.verdict == MISFIT]
    unknown = [f"its {row.what} must be known, {_asked(row)}" for row in rows if row.verdict == UNKNOWN]
    yours = f"Your {name.lower()}"
    if wrong:
        return f"{yours} does not fit: {'; '.join([*wrong, *unknown])}."
    return f"Whether your {name.lower()} fits is open: {'; '.join(unknown)}." if unknown else f"{yours} fits."


def _asked(row):
    return f"{row.needed} {'allowed' if row.needed.startswith('at most') else 'needed'}"


def _why(needs, plant):
    if not needs.continuous_amps:
        return "Why: nothing flows into this bank at any speed that the drive reaches, so the smallest size is named."
    hot = plant.site.hottest_c
    share = f" and what {say(hot, '°C', form='.0f')} takes from a label" if hot > RATED_UP_TO_C else ""
    said = (
        f"Why: at most {say(needs.continuous_amps, 'A', figures=2)} can flow for hours; a quarter on top{share} makes "
        f"{no_less(needs.least_amps, 'A')}"
    )
    said += f", and the next size sold is {needs.next_amps:g} A" if needs.next_amps else ""
    if plant.run.is_dc:
        return f"{said}; {size_name(plant.run.area_mm2)} carries {needs.cable_amps:.0f} A, which it must not be above."
    leads = "" if isinf(needs.cable_mm2) else f", at least {size_name(needs.cable_mm2)} thick"
    return f"{said}. The rectifier stands at the bank, so only the short leads between the two lie behind it{leads}."


def _danger(plant):
    volts = no_less(plant.open_volts(plant.runaway_rpm)[1], "V")
    return Instruction(
        "The fuse protects the cable from the bank. It protects neither the machine nor you: when fuse or switch opens "
        f"while the machine runs, the bank is gone, the machine makes up to {volts} DC, and an arc may go on burning "
        "across the gap. Never open either while it charges; stop the machine first.",
        (Exposure.BANK, Exposure.STANDING),
    )


def _bank(needs, plant):
    found, short = needs.bank_amps, needs.short
    likely, least, most = (_about(value) for value in (found.likely_amps, found.least_amps, found.most_amps))
    said = f"Through a spanner this bank drives about {likely}, {least} to {most} by its kind and size, not measured."
    if found.most_amps > MOST_BROKEN_AMPS.value:
        said += (
            f" Hardly a fuse breaks more than {amount(MOST_BROKEN_AMPS.value, 'A')} DC (from memory): then each string "
        )
        said += "of the bank gets a fuse of its own, planned by an electrician."
    if not plant.run.is_dc:
        return said
    said += f" A short circuit at the machine's end of the cable drives {_about(short.far_amps)} or more"
    if isinf(short.opens_far_within_s):
        return f"{said}, which may never open the fuse: a thicker or shorter cable drives more."
    if short.opens_far_within_s > OPENS_SHORT_WITHIN_S:
        seconds = f"{rounded_up(short.opens_far_within_s):.0f} s"
        return f"{said} and may burn for {seconds} until the fuse opens; a thicker cable helps."
    within = say(max(short.opens_far_within_s, 0.01), "s", figures=1)
    return f"{said}, until the fuse opens within {within}."


def _about(amps):
    return amount(float(f"{amps:.2g}"), "A")


def _air(plant):
    """The fresh air that the place of the bank needs, or why it needs none."""
    air = ventilation(plant.bank, plant.most.dc_amps)
    if air is None:
        return _NO_HYDROGEN
    boost, most = (say(value, "m³/h", figures=2) for value in (air.boost_m3_h, air.most_m3_h))
    stuck = f", {most} when its charge control sticks" if air.most_m3_h > air.boost_m3_h else ""
    opening = say(rounded_up(air.opening_cm2), "cm²", figures=2)
    return (
        f"Fresh air against hydrogen: {boost} at its charging limit{stuck}. That asks for two openings to the outdoors "
        f"of {opening} each, one low and one high, and for nothing that sparks above the bank, fuse and switch neither."
    )
