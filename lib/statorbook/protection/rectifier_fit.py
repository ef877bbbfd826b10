"""Whether the rectifier on the reader's label fits the plant, how hot it gets, and what to shop for."""

from dataclasses import dataclass
from math import isinf

from statorbook.protection.heat_at_work import degrees
from statorbook.protection.heat_path import CLOSED, OPEN_AIR, plate_cm2
from statorbook.protection.rectifier import AMPS_SPARE, REVERSE_SPARE
from statorbook.protection.rectifier_heat import BASE_C, LEAST_HEAT_SINK, heat_way
from statorbook.protection.rectifier_label import OWN_COILS, SINGLE, Rectifier
from statorbook.quantities import rounded_down, rounded_up, say

_NEAR_V = 0.1  # a drop that differs by less from that of page 04 changes nothing
_SMALLEST_PLATE_K_PER_W = 0.25  # a plate for less is no longer even: its far ends stay cold
_A_HAIR = 1e-9
_NAMES = ("air in the box", "heat sink", "base", "junction")


@dataclass(frozen=True, kw_only=True)
class HeatStep:
    """One place on the way of the heat from the diodes to the air."""

    name: str
    most_c: float  # at the most amps in the hottest air
    working_c: float  # at work in the hottest air
    limit_c: float | None = None


@dataclass(frozen=True, kw_only=True)
class RectifierFit:
    """The rectifier that the reader has, in his plant; before he has one, one that is as it has to be."""

    reasons: tuple  # why it does not fit, in words; empty when it does
    labelled: bool  # whether there is a label
    needed_k_per_w: float  # the heat sink that it needs, at most
    heat_sink_k_per_w: float  # the one that he has, before that the one that it needs
    steps: tuple[HeatStep, ...]  # from the air to the junction; without a label to the base

    @property
    def fits(self):
        """Whether it may be used, a bool."""
        return not self.reasons


def rectifier_fit(plant, needs):
    """Whether the rectifier on the reader's label fits, and his heat sink.

    Parameters
    ----------
    plant : Plant
        The plant with its rectifier.
    needs : RectifierNeeds
        From `rectifier_needs`.

    Returns
    -------
    RectifierFit
        Without a label the heat sink alone is judged.

    Notes
    -----
    Equation: T = T_air + P Σ R from the air through box, heat sink and paste to the junction.
    Valid: steady, no sun on the heat sink; each of six diodes takes a sixth.
    Source: heat as a current through resistances in a row, any power-electronics text.
    Derivation: `protection.heat_in_a_row`.
    """
    given = plant.rectifier or Rectifier()
    rectifier = given if given.labelled else given.bare
    way = heat_way(rectifier, needs.drop_v)
    needed = way.heat_sink_k_per_w(needs.watts, plant.site.hottest_c)
    sink = given.heat_sink_k_per_w or max(needed, LEAST_HEAT_SINK.value)
    steps = _steps(plant, needs, way, sink, labelled=given.labelled)
    of_volts, of_amps = (_of_volts(plant, needs), tuple(_of_amps(plant, needs))) if given.labelled else ((), ())
    # One that is too small asks for more of a heat sink than one that is not: no reason of its own.
    of_heat = () if of_amps and given.heat_sink_k_per_w is None else _of_heat(given, needs, needed, steps)
    return RectifierFit(
        reasons=(*of_volts, *of_amps, *of_heat),
        labelled=given.labelled,
        needed_k_per_w=needed,
        heat_sink_k_per_w=sink,
        steps=steps,
    )


def _steps(plant, needs, way, sink, *, labelled):
    air_c = plant.site.hottest_c
    most, working = (way.steps_c(watts, air_c, sink) for watts in (needs.watts, needs.working_watts))
    rows = zip(_NAMES, most, working, (None, None, BASE_C.value, way.junction_limit_c), strict=True)
    box, *inside = (HeatStep(name=name, most_c=a, working_c=b, limit_c=limit) for name, a, b, limit in rows)
    there = (box,) if way.box_k_per_w else ()
    air = HeatStep(name="air", most_c=air_c, working_c=air_c)
    return (air, *there, *(inside if labelled else inside[:-1]))


def _of_volts(plant, needs):
    label, bank = plant.rectifier.reverse_volts, plant.bank.charging_volts
    if label <= bank:
        own = say(bank, "V", figures=2)
        yield (
            f"the {say(label, 'V')} on its label are not above the bank's own {own}, so it breaks down as soon as the "
            "bank is on: read the label again"
        )
    elif label < needs.reverse_volts * (1.0 - _A_HAIR):
        least, blocked = say(rounded_up(needs.reverse_volts), "V"), say(needs.blocked_volts_peak, "V", figures=2)
        yield (
            f"the {say(label, 'V')} on its label are less than {least}, which is {REVERSE_SPARE.value:g} times the "
            f"{blocked} peak that it has to block"
        )


def _of_amps(plant, needs):
    rectifier = plant.rectifier
    least, single = needs.whole_amps(rectifier.kind), rectifier.kind == SINGLE
    if rectifier.whole_amps < least * (1.0 - _A_HAIR):
        label = f"the {say(rectifier.label_amps, 'A')} on its label"
        if rectifier.side_by_side > 1:
            label = (
                f"{rectifier.side_by_side} of {say(rectifier.label_amps, 'A')} side by side, {rectifier.sharing}, "
                f"count as {say(rectifier.count_that_helps * rectifier.label_amps, 'A')} and"
            )
        each, amps = ("each diode on average", needs.diode_amps) if single else ("DC", needs.block_amps)
        least = say(rounded_up(amps), "A")
        yield f"{label} are less than {least} {each}, which is {AMPS_SPARE.value:g} times the most that flows"
    paths, blocks = plant.grouping.parallel, rectifier.side_by_side
    if rectifier.sharing == OWN_COILS and paths % blocks:
        yield f"{blocks} side by side cannot each have a path of coils alike: the grouping has {paths} in each phase"


def _of_heat(rectifier, needs, needed_k_per_w, steps):
    if rectifier.heat_sink_k_per_w is None:
        if needed_k_per_w < LEAST_HEAT_SINK.value:
            yield f"no heat sink {rectifier.enclosure} takes its {say(needs.watts, 'W', figures=2)} off it"
    elif rectifier.heat_sink_k_per_w > needed_k_per_w * (1.0 + _A_HAIR):
        hot = " and ".join(
            f"{step.name} {degrees(step.most_c)} ({degrees(step.limit_c)} at most)"
            for step in steps
            if step.limit_c is not None and step.most_c > step.limit_c
        )
        yield f"the heat sink lets it get too hot, {hot}"


def shopping_words(plant, needs):
    """What to ask for in a shop, in a sentence rounded to the safe side."""
    block, diode = (say(rounded_up(amps), "A") for amps in (needs.block_amps, needs.diode_amps))
    volts = say(needs.usual_reverse_volts, "V")
    return (
        f"It needs a three-phase bridge of at least {block} DC and {volts} reverse, or six diodes of at least {diode} "
        f"average each, {heat_sink_words(plant, needs.heat_sink_k_per_w)}."
    )


def heat_sink_words(plant, sink):
    """A heat sink in K/W as a phrase, such as "on a heat sink of at most 0.8 K/W in the open air"."""
    rectifier = plant.rectifier or Rectifier()
    if isinf(sink):
        return "and no heat sink, since nothing flows"
    where, air = rectifier.enclosure, degrees(plant.site.hottest_c)
    if sink < LEAST_HEAT_SINK.value:
        out = "a fan, shade, or fewer amps" if where == OPEN_AIR else "a heat sink outside the box, in the open air"
        return f"but no heat sink {where} is enough at {air}: it takes {out}"
    size = ""
    if sink >= _SMALLEST_PLATE_K_PER_W and where != CLOSED:
        size = f", such as an upright aluminium plate of {say(rounded_up(plate_cm2(sink)), 'cm²', figures=2)}"
    return f"on a heat sink of at most {rounded_down(sink):g} K/W {where} at {air}{size}"


def rectifier_words(plant, needs, fit):
    """Verdict, what to shop for, and why, in sentences.

    Parameters
    ----------
    plant : Plant
        The plant.
    needs : RectifierNeeds
        From `rectifier_needs`.
    fit : RectifierFit
        From `rectifier_fit`.

    Returns
    -------
    str
        The verdict on the label first where there is one.
    """
    shopping = "" if fit.labelled and fit.fits else shopping_words(plant, needs)
    sentences = (_verdict(plant, needs, fit), shopping, _why(plant, needs), _drop_words(plant, needs))
    return "\n".join(filter(None, sentences))


def _verdict(plant, needs, fit):
    rectifier = plant.rectifier or Rectifier()
    typed = rectifier.heat_sink_k_per_w is not None
    if not fit.labelled and not typed:
        return ""
    what = "Yours" if fit.labelled else "Your heat sink"
    if not fit.fits:
        return f"{what} does not fit: {'; '.join(fit.reasons)}."
    asked = ""
    if fit.labelled:
        single = rectifier.kind == SINGLE
        amps = say(rounded_up(needs.diode_amps if single else needs.block_amps), "A")
        each = "average for each diode" if single else "DC"
        asked = f" at least {amps} {each} and {say(rounded_up(needs.reverse_volts), 'V')} reverse are needed"
    if not typed:
        return f"{what} fits:{asked}, {heat_sink_words(plant, fit.needed_k_per_w)}."
    hottest = fit.steps[-1]
    hot = f" the {hottest.name} gets to {degrees(hottest.most_c)} at the most amps in the hottest air"
    return f"{what} fits:{asked}{',' if asked else ''}{hot}."


def _why(plant, needs):
    most, at_work = needs.most, needs.working
    each = (most.mean_amps, most.amps_rms, most.amps_peak)
    mean, rms, peak = (say(amps, "A", figures=2) for amps in each)
    amps, amps_at_work = (say(of.dc_amps, "A", figures=2) for of in (most, at_work))
    watts, watts_at_work = (say(loss, "W", figures=2) for loss in (needs.watts, needs.working_watts))
    rpm, volts = say(plant.most.speed_rpm, "rpm", figures=2), say(needs.blocked_volts_peak, "V", figures=2)
    return (
        f"At the most, {amps} at {rpm}, a diode carries {mean} on average, {rms} rms and {peak} peak, and all six lose "
        f"{watts}; at work it is {amps_at_work} and {watts_at_work}. With the bank gone a diode has to block {volts} "
        "peak."
    )


def _drop_words(plant, needs):
    """That the drop was assumed, or that page 04 counts with another one than the label says."""
    if needs.drop_assumed:
        return f"Assumed: {say(needs.drop_v, 'V')} lost in each diode, the most that silicon usually takes."
    if not needs.working.dc_amps:
        return ""
    here, there = needs.working_watts / (2.0 * needs.working.dc_amps), plant.conditions.diode_drop_v
    if abs(here - there) < _NEAR_V:
        return ""
    here, there = (say(volts, "V", figures=2) for volts in (here, there))
    return f"Page 04 counts with {there} lost in each diode, yours takes {here} at work: type {here} there."
