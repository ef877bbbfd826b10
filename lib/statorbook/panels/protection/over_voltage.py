"""Panel of chapter 06: the bank comes off, what the volts do then, and the load that holds them."""

from math import inf

from statorbook.assembly import inertia_found
from statorbook.cautions import Exposure, together
from statorbook.errors import BadInput
from statorbook.figures import draw_over_voltage
from statorbook.figures.canvas import KeptFigure
from statorbook.job.parts import GuardPart, RotorPart
from statorbook.panels.protection.page import ProtectionPanel
from statorbook.protection import (
    CONTACTOR_S,
    MOST_UF,
    SWITCH_S,
    OverVoltageLoad,
    duration_words,
    guard_needs,
    judged_guard,
    load_lost,
    two_figures,
)
from statorbook.quantities import say
from statorbook.widgets import Answer, Table

TAKE_OVER = "Take over the inertia that page 03 measured"
LAW = (
    "Local electrical codes decide, and a licensed electrician where they ask for one. A load that acts by itself can "
    "fail: never let the bank come off while it turns, and stop the source first. A capacitor sparks when the "
    "bank goes on, and keeps its volts after the rotor stands: a resistor across it for good, and live until a meter "
    "says otherwise."
)
_COLUMNS = ("case", "leaps to", "passes the limit", "highest on the way", "ends at", "in the load")
_NEVER = "never"
_NEARLY = 0.95


class OverVoltagePanel(ProtectionPanel):
    """Volts and speed after the bank has come off, and the over-voltage load that the plant needs or has.

    Parameters
    ----------
    page : ProtectionPage
        The page that it stands on.
    """

    part_name, save_words = "guard", "Save the over-voltage load"
    table_fold = "Table: with and without a load, with and without the drive's own guard"

    def __init__(self, page):
        self.figure = KeptFigure(rows=2, height_in=4.6, sharex=True, height_ratios=[2, 1])
        self.rotor = self.form_for(page, RotorPart, name="rotor", save_words="Save the rotor")
        self.form = self.form_for(page, GuardPart)
        super().__init__(
            page,
            inputs=[self.rotor, self.form],
            actions={TAKE_OVER: self.take_over},
            picture_px=self.figure.height_px,
            sentence_lines=12,
        )

    def in_units(self, system):
        """Tell everything in other units, both forms too.

        Parameters
        ----------
        system : str
            "metric" or "US".
        """
        self.rotor.in_units(system)
        super().in_units(system)

    def answer(self):
        """What happens, what would hold it, and whether the load as typed does."""
        plant = self.page.plant(rotor=self.rotor.part(), guard=self.form.part())
        needs, free = guard_needs(plant), load_lost(plant)
        yours = judged_guard(plant, plant.guard) if plant.guard else None
        asked = _asked_for(needs)
        held = load_lost(plant, load=asked) if asked else None
        sentence = together(
            _lost_words(plant, free, needs),
            _needs_words(needs, free),
            _guarded_words(plant),
            _yours_words(yours, needs),
            self._inertia_words(plant.rotor),
            between="\n",
        )
        self._draw(free, held, yours, needs)
        return Answer(
            sentence=self.whose(sentence),
            headline={"volts at once": _volts(free.at_once_dc_volts), "volts at the end": _volts(free.ends_dc_volts)},
            pictures=(self.figure.svg(f"Volts and speed after the bank came off. {sentence}"),),
            table=_table(plant, needs, free, held, yours),
            caution=LAW,
            exposures=(Exposure.STANDING, Exposure.BANK, Exposure.VOLTS, Exposure.HEAT),
        )

    def take_over(self):
        """Type the inertia that page 03 measured into the form, its low end, and save it."""
        found = inertia_found(self.page.shown)
        if found is None:
            raise BadInput(
                "page 03 holds neither a weighed ring nor a coast-down beside a drill log",
                "one of them is needed",
                "log one of them there, or type mass and diameter here",
                where="rotor",
            )
        for name in ("mass_kg", "diameter_mm"):
            self.rotor.fields[name].control.value = ""
        self.rotor.fields["inertia_kgm2"].control.value = f"{_low_end(found):.2g}"
        self.rotor.save()

    def _inertia_words(self, rotor):
        inertia = f"{rotor.inertia_kgm2:.2g} kg·m²"
        said = f"It is reckoned with an inertia of {inertia}{', assumed as light' if rotor.assumed else ''}"
        found = inertia_found(self.page.shown) if rotor.assumed else None
        return f"{said}; page 03 has {found} ({found.how})." if found else f"{said}."

    def _draw(self, free, held, yours, needs):
        courses = {"without": ("without a load", free)}
        if held:
            courses["needed"] = f"the load asked for, on from {_volts(needs.set_dc_volts)}", held
        if yours:
            courses["yours"] = "your load", yours.lost
        self.figure.draw(draw_over_voltage, courses, limit_dc_volts=needs.limit_dc_volts)


def _asked_for(needs):
    """The load that is asked for, with a transistor switch, and its capacitor where one helps."""
    if needs.ohm is None:
        return None
    farad = 0.0 if needs.comes_too_late else needs.capacitor_uf(SWITCH_S.value)
    quick = {"acts_within_s": SWITCH_S.value, "capacitor_uf": farad}
    return OverVoltageLoad(set_dc_volts=needs.set_dc_volts, ohm=needs.ohm, watts=needs.watts, **quick)


def _lost_words(plant, free, needs):
    failed = f"; {plant.drive.guard_words} failed" if plant.drive.guard_words else ""
    took = free.seconds_to(free.at_once_dc_volts + _NEARLY * (free.ends_dc_volts - free.at_once_dc_volts))
    on = f"runs away to {free.ends_rpm:.0f} rpm and {_volts(free.ends_dc_volts)} in about {_time(took)}"
    passed = free.seconds_to(needs.limit_dc_volts)
    limit = f"{_volts(needs.limit_dc_volts)}, {needs.limit_words},"
    met = {0.0: "is passed at once", inf: "is never passed"}.get(passed, f"is passed after {_time(passed)}")
    return (
        f"When the bank comes off at {free.starts_rpm:.0f} rpm ({plant.drive.strongest_words}{failed}), the "
        f"rectifier leaps from {_volts(free.bank_dc_volts)} to {_volts(free.at_once_dc_volts)} DC peak at once, and it "
        f"{on}. {limit} {met}."
    )


def _needs_words(needs, free):
    if not needs.is_needed:
        return "An over-voltage load is not needed for that."
    if not needs.has_room:
        return (
            f"No set-point fits: in everyday work the rectifier has up to {_volts(needs.everyday_dc_volts)} already. "
            "Choose another grouping, or a device that stands more."
        )
    load = (
        f"on by itself from {_volts(needs.set_dc_volts)}, {needs.ohm:.2g} Ω or less, {needs.watts:g} W or more for "
        f"hours, its switch and wires for {needs.amps:g} A DC"
    )
    if needs.comes_too_late:
        return (
            f"No load across the rectifier is quick enough: even a transistor switch, {_time(SWITCH_S.value)}, comes "
            f"too late whatever the capacitor. Choose a device that stands more, or another grouping. What ends the "
            f"volts afterwards: {load}."
        )
    stands = _volts(free.ends_dc_volts)
    rated = (
        f" The capacitor must stand {stands} DC, for the load may fail." if needs.within_s < CONTACTOR_S.value else ""
    )
    switch, contactor = (_quick_words(needs, acts.value) for acts in (SWITCH_S, CONTACTOR_S))
    return (
        f"A load across the rectifier that holds it: {load}. A transistor switch, {_time(SWITCH_S.value)}, {switch}; a "
        f"contactor, {_time(CONTACTOR_S.value)}, {contactor}.{rated}"
    )


def _guarded_words(plant):
    """What is enough while the drive's own guard works; empty without one."""
    if not plant.drive.guard_words:
        return ""
    needs, lost = guard_needs(plant, drives_guard=True), load_lost(plant, drives_guard=True)
    ends = f"It ends at {_volts(lost.ends_dc_volts)} with {plant.drive.guard_words} at work"
    if not needs.is_needed:
        return f"{ends}, and needs no load as long as that never fails."
    return f"{ends}; {needs.ohm:.2g} Ω and {needs.watts:g} W are enough then." if needs.ohm else f"{ends}."


def _quick_words(needs, acts_within_s):
    farad = needs.capacitor_uf(acts_within_s)
    if farad == 0.0:
        return "is quick enough"
    if farad > MOST_UF:
        return "comes too late whatever the capacitor"
    return f"is quick enough only with {farad:.0f} µF or more at the rectifier"


def _yours_words(yours, needs):
    if yours is None or not (needs.is_needed or yours.lost.acts_s < inf):
        return ""
    if yours.fits:
        at = f"{_volts(yours.lost.ends_dc_volts)} and {yours.lost.ends_rpm:.0f} rpm"
        takes = two_figures(yours.lost.load_watts, "W")
        return f"Yours does: it holds the machine at {at}, and takes {takes} until the source is shut."
    return f"Yours does not do. It is {'; '.join(yours.faults)}."


def _table(plant, needs, free, held, yours):
    guard = plant.drive.guard_words
    cases = [(f"no load, {guard} failed" if guard else "no load", free)]
    if guard:
        cases.append((f"no load, {guard} at work", load_lost(plant, drives_guard=True)))
    cases += [(words, lost) for words, lost in (("load as asked for", held), ("yours", yours and yours.lost)) if lost]
    rows = tuple(
        (
            words,
            _volts(lost.dc_volts[0]),
            _limit_words(lost.seconds_to(needs.limit_dc_volts)),
            _volts(lost.highest_dc_volts),
            f"{lost.ends_rpm:.0f} rpm, {_volts(lost.ends_dc_volts)}",
            two_figures(lost.load_watts, "W") if lost.load_watts else "–",
        )
        for words, lost in cases
    )
    marks = tuple("chosen" if lost.highest_dc_volts > needs.limit_dc_volts else "" for _, lost in cases)
    caption = (
        "Volts DC peak at the bare rectifier, coldest magnets, source at its strongest, drag left out; the contact "
        "that opens adds an arc, and a spike that only a capacitor or a load there takes up."
    )
    return Table(columns=_COLUMNS, rows=rows, marks=marks, caption=caption)


def _limit_words(seconds):
    return {0.0: "at once", inf: _NEVER}.get(seconds, f"after {_time(seconds)}")


def _low_end(found):
    """The light end of an inertia, which is the worse, but not below a tenth of it."""
    return max(found.low, 0.1 * found.value)


def _volts(dc_volts):
    return say(dc_volts, "V", form=".0f")


def _time(seconds):
    return f"{1000.0 * seconds:.2g} ms" if seconds < 0.0995 else duration_words(seconds)
