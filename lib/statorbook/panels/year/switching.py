"""Panel of chapter 04b: two groupings and a contactor, beside the groupings without one."""

from functools import lru_cache

from statorbook.assembly import machine_from, source_year_from, units_for, with_year
from statorbook.bench import ring_inertia_kgm2
from statorbook.figures import draw_switching
from statorbook.figures.canvas import KeptFigure
from statorbook.quantities import reader_units
from statorbook.widgets import Answer, MadeAnew, Panel, Table, choice, job_prefix
from statorbook.year import (
    building_words,
    gain_plus_minus_kwh,
    grouping_years,
    is_worth_it,
    switch_contacts,
    switch_words,
    switchings,
    verdict_words,
)

_COLUMNS = {
    "below": lambda found, at: found.pair.low.label,
    "above": lambda found, at: found.pair.high.label,
    "verdict": lambda found, at: _verdict(found),
    # Danger stands before the numbers: on a small page what follows is reached by scrolling sideways.
    "danger": lambda found, at: f"{at.runaway.word}{'' if at.is_accepted else ', above what you accept'}",
    "bank gone, run away [V DC peak]": lambda found, at: round(at.runaway.dc_volts_peak),
    "a year [kWh]": lambda found, at: round(found.kwh) if found.is_stable else "",
    "gain [kWh]": lambda found, at: f"{found.gain_kwh:+.0f} ({found.gain_share:+.0%})" if found.is_stable else "",
    "up / back [rpm]": lambda found, at: f"{found.up_rpm:.0f} / {found.down_rpm:.0f}" if found.is_stable else "",
    "control": lambda found, at: _control(found),
    "most amps broken [A AC rms]": lambda found, at: _broken(found, at),
    "contacts, leads": lambda found, at: f"{found.pair.low_poles} + {found.pair.high_poles}, {found.pair.leads}",
}


class SwitchingPanel(Panel):
    """See what a contactor between two groupings gains over a year; all of the job, its year too, is filled in."""

    inputs_beside, table_fold = True, "Table: all pairs that a contactor could change between"

    def __init__(self, job):
        now = job.read()
        self.job, system = job, units_for(now)
        with reader_units(system):
            self.machine, self.source = machine_from(now), source_year_from(now)
            self.found = switchings(self.machine, self.source, grouping_years(self.machine, self.source))
            self.at = {found.pair: self._contacts(found, _inertia_of(now)) for found in self.found}
        self._by_pair = {found.pair: found for found in self.found}
        self.curves = KeptFigure(rows=2, height_in=6.4, sharex=True)
        self._plus_minus = lru_cache(self._gain_plus_minus)
        self.pair = choice("Pair", [(_option(found), found.pair) for found in self.found], self.found[0].pair)
        super().__init__(system=system, inputs=[self.pair], picture_px=self.curves.height_px, sentence_lines=14)
        self.contacts = _ContactsPanel(self)
        self.pair.observe(self.contacts.redraw, "value")
        self.widget.children = (*self.widget.children, self.contacts.widget)

    def _contacts(self, found, inertia_kgm2):
        return switch_contacts(self.machine, self.source, found, inertia_kgm2=inertia_kgm2)

    @property
    def picked(self):
        """The pair that is looked at: its year, and its contacts."""
        return self._by_pair[self.pair.value], self.at[self.pair.value]

    def _gain_plus_minus(self, pair):
        return gain_plus_minus_kwh(self.machine, self.source, self._by_pair[pair])

    def answer(self):
        """The pair in words, dangers first, its curves, and all pairs in a table."""
        found, at = self.picked
        self.curves.draw(draw_switching, self.source, found)
        return Answer(
            sentence=f"{job_prefix(self.job)}{switch_words(found, at, self._plus_minus(found.pair))}",
            headline={"gain": f"{found.gain_kwh:.0f} kWh", "bank gone": f"{at.runaway.dc_volts_peak:.0f} V DC peak"},
            pictures=(self.curves.svg("Watts and speed of both groupings over the source. " + verdict_words(found)),),
            table=self._table(found),
        )

    def _table(self, picked):
        rows = tuple(tuple(cell(each, self.at[each.pair]) for cell in _COLUMNS.values()) for each in self.found)
        marks = tuple(_mark(each, picked) for each in self.found)
        words = "All pairs, most kilowatt-hours first; gain over the best single grouping, whatever its volts."
        return Table(columns=tuple(_COLUMNS), rows=rows, marks=marks, caption=words)


class _ContactsPanel(Panel):
    """What the contacts of the pair picked above break and carry, and what follows when they stick."""

    def __init__(self, above):
        self._above = above
        super().__init__(system=above.system, inputs=[], sentence_lines=10)

    def answer(self):
        """In words, with what building it exposes hands to."""
        corner = self._above.machine.setting.open_corner_v_per_rpm is not None
        return Answer(sentence=building_words(*self._above.picked, corner_measured=corner))


class SwitchingOverYear(MadeAnew):
    """The panel of two groupings and a contactor, made anew when the year is saved above.

    Parameters
    ----------
    job : Job
        The reader's job; the example is shown while a part of it, or its year, is missing.
    source : YearSourcePanel
        The panel in which its year is said.
    """

    def __init__(self, job, source):
        super().__init__(lambda: SwitchingPanel(with_year(job)), source)


def _inertia_of(job):
    """The magnet ring alone, from what was weighed for the coast-down; None before that [kg·m²]."""
    if job.drive.rotor_kg is None or job.drive.rotor_ring_mm is None:
        return None
    return ring_inertia_kgm2(job.drive.rotor_kg, job.drive.rotor_ring_mm)


def _option(found):
    gain = f"{found.gain_kwh:+.0f} kWh" if found.is_stable else _verdict(found)
    return f"{found.pair.label}: {gain}"


def _verdict(found):
    if not found.is_stable:
        return "not stable: do not build it" if found.could_be_worth_it else "nothing to gain"
    return "may be worth it" if is_worth_it(found) else "not worth a contactor"


def _control(found):
    if not found.is_stable:
        return ""
    return "waits after each change" if found.waits else "speed switch alone"


def _broken(found, at):
    return f"{max(at.up_breaks_amps_rms, at.down_breaks_amps_rms):.2g}" if found.is_stable else ""


def _mark(found, picked):
    return "chosen" if found is picked else "" if found.is_stable else "quiet"
