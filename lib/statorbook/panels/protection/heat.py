"""Panel of chapter 06: how hot the winding gets, and the temperature that all pages reckon with."""

from math import isinf, isnan

from statorbook.errors import BadInput
from statorbook.figures import draw_heat
from statorbook.figures.canvas import KeptFigure
from statorbook.job import inputs_fingerprint
from statorbook.job.parts import HeatPart
from statorbook.panels.protection.page import ProtectionPanel
from statorbook.protection import degrees, duration_words, heat_of, overload, two_figures
from statorbook.quantities import to_shown
from statorbook.widgets import Answer, Table, slider

TAKE_OVER = "Let all pages reckon with the temperature at work"
_GROUPS = {
    "Its class, and what all pages reckon with": ("thermal_class", "copper_c"),
    "A long run, measured (after the first run)": (
        "cold_ohm",
        "cold_c",
        "hot_ohm",
        "hot_air_c",
        "run_dc_amps",
        "magnet_c",
    ),
    "How fast": ("k_per_w", "time_constant_min"),
}
_OLDER = "The grouping was chosen for another temperature: look at page 04 once more."
_COLUMNS = (
    "state",
    "A in a coil, rms",
    "A/mm²",
    "W in a coil",
    "W in all coils",
    "settles at",
    "limit from cold",
    "from warm",
)


class HeatPanel(ProtectionPanel):
    """Heat of the winding at work and beyond, from a measured run or an assumed rise.

    Parameters
    ----------
    page : ProtectionPage
        The page that it stands on.
    """

    part_name, save_words = "heat", "Save the heat of the winding"

    def __init__(self, page):
        self.figure = KeptFigure(height_in=4.3)
        self.form = self.form_for(page, HeatPart, groups=_GROUPS)
        self.times = slider("Overload: times the amps at work", 1.5, 1.0, 4.0, step=0.1, digits=1)
        super().__init__(
            page,
            inputs=[self.times, self.form],
            actions={TAKE_OVER: self.take_over},
            picture_px=self.figure.height_px,
            sentence_lines=8,
        )

    def answer(self):
        """Where the winding settles in each state, for the fields as typed."""
        part = self.form.part()
        plant = self.page.plant(heat=part)
        found = heat_of(plant)
        over = overload(plant, found, self.times.value)
        self.figure.draw(draw_heat, found, over, counted_c=part.copper_c)
        beyond = _most_words(found, over, f"With {self.times.value:.1f} times the amps at work")
        said = _loss_words(found), _settles_words(found, plant), beyond, _counted(found, part), self._older_choice()
        sentence = "\n".join(filter(None, said))
        return Answer(
            sentence=self.whose(sentence),
            headline={"winding at work": degrees(found.at_work.settles_c), "loss": _watts(found.at_work.copper_watts)},
            pictures=(self.figure.svg(f"Temperature of the winding against time. {sentence}"),),
            table=_table(found, over),
            caution=_caution(found, plant.heat),
        )

    def _older_choice(self):
        """That page 04 has to be looked at again, where its grouping was chosen for another temperature."""
        now = self.page.now
        if not now.choice or not now.choice.worked_out_for:
            return ""
        then, today = (
            {mark for mark in marks.split() if mark.startswith("heat=")}
            for marks in (now.choice.worked_out_for, inputs_fingerprint(now))
        )
        return "" if then == today else _OLDER

    def take_over(self):
        """Save the temperature at work as the one that all pages reckon with."""
        settles = heat_of(self.page.plant(heat=self.form.part())).at_work.settles_c
        if isinf(settles):
            raise BadInput(
                "the winding does not settle at work",
                f"a temperature up to {degrees(200.0)} can be taken over",
                "choose another grouping on page 04, or measure how fast its heat leaves",
                where=TAKE_OVER,
            )
        self.form.fields["copper_c"].control.value = f"{to_shown(settles, '°C', self.system):.0f}"
        self.form.save()


def _watts(watts):
    return two_figures(watts, "W")


def _loss_words(found):
    now = found.at_work
    density = "" if isnan(now.amps_per_mm2) else f" ({now.amps_per_mm2:.1f} A/mm²)"
    amps = two_figures(now.coil_amps_rms, "A")
    each, both = _watts(now.coil_watts), _watts(now.copper_watts)
    return f"At work {amps} rms in each coil{density} lose {each} there, {both} in all coils together."


def _settles_words(found, plant):
    heat = plant.heat
    source = "assumed" if heat.assumed else "measured" if heat.run else "as typed"
    rise, air = f"{found.k_per_w:.2g} K/W ({source})", degrees(plant.site.hottest_c)
    allowed = f"class {heat.thermal_class} allows {degrees(heat.limit_c)}"
    if isinf(found.at_work.settles_c):
        return f"With {rise} in air of {air} the winding does not settle: hotter copper loses more; {allowed}."
    verdict = "below its limit" if found.at_work.settles_c <= heat.limit_c else "too hot"
    return (
        f"With {rise} in air of {air} the winding settles at {degrees(found.at_work.settles_c)}, {verdict}: {allowed} "
        f"as its mean, {degrees(heat.hot_spot_c)} at its hottest spot."
    )


def _most_words(found, over, over_words):
    _, strong, most = found.states
    said = []
    for state, words in (
        (strong, "With the source at its strongest"),
        (most, "With the most amps that can flow"),
        (over, over_words),
    ):
        if state.settles_c <= found.limit_c:
            said.append(f"{words} it settles at {degrees(state.settles_c)}.")
        else:
            said.append(f"{words} it reaches its limit after {_times(state)}.")
    return " ".join(said)


def _times(state):
    cold = f"{duration_words(state.cold_s)} from cold"
    return f"{cold}, {duration_words(state.warm_s)} from warm" if state.warm_s else cold


def _counted(found, part):
    counted = degrees(part.copper_c)
    assumed = " (assumed)" if part.copper_assumed else ""
    if isinf(found.at_work.settles_c) or abs(found.at_work.settles_c - part.copper_c) < 1.0:
        return f"All pages reckon with {counted}{assumed}."
    return f"All pages reckon with {counted}{assumed}; the button below takes over {degrees(found.at_work.settles_c)}."


def _caution(found, heat):
    if found.stays_below:
        return ""
    too_hot = "at work" if found.at_work.settles_c > found.limit_c else "with the source at its strongest"
    return (
        f"The winding gets too hot {too_hot}: choose a grouping with fewer amps in a coil, let less through, or let "
        "more air past it; enamel that is too hot fails and puts the coils' volts on the iron."
    )


def _table(found, over):
    rows = tuple(
        (
            state.name,
            two_figures(state.coil_amps_rms, "A"),
            "wire not measured" if isnan(state.amps_per_mm2) else f"{state.amps_per_mm2:.1f}",
            _watts(state.coil_watts),
            _watts(state.copper_watts),
            degrees(state.settles_c),
            duration_words(state.cold_s),
            duration_words(state.warm_s) if state.warm_s else "over it",
        )
        for state in (*found.states, over)
    )
    marks = tuple("" if state.settles_c <= found.limit_c else "chosen" for state in (*found.states, over))
    caption = (
        "In the hottest air; source at its strongest with its guard at work, most that can flow with it failed. "
        "Limit: time until the class's limit, from the hottest air, and from where the winding is at work."
    )
    return Table(columns=_COLUMNS, rows=rows, marks=marks, caption=caption)
