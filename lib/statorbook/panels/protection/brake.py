"""Panel of chapter 06: what joined leads hold, what they carry, and how long the winding bears them."""

from math import ceil

from statorbook.cautions import Exposure
from statorbook.drives import WindRotor
from statorbook.figures import draw_brake
from statorbook.figures.canvas import KeptFigure
from statorbook.panels.protection.page import ProtectionPanel
from statorbook.protection import (
    JOINED_LEADS_CAUTION,
    brake,
    brake_curves,
    brake_heat,
    duration_words,
    highest_wind_m_s,
    joined_at,
    two_figures,
)
from statorbook.widgets import Answer, slider

_STEPS = 100


class BrakePanel(ProtectionPanel):
    """Leads joined at a speed that the reader moves, and at the worst.

    Parameters
    ----------
    page : ProtectionPage
        The page that it stands on.
    """

    def __init__(self, page):
        self.figure, self._kept = KeptFigure(rows=2, height_in=5.6), (None, ())
        now = page.plant()
        step = max(1.0, float(round(now.runaway_rpm / _STEPS)))
        top = step * ceil(now.runaway_rpm / step)
        start = step * round(now.working.speed_rpm / step)
        self.speed = slider("Leads joined at", start, 0.0, top, step=step, unit="rpm")
        super().__init__(page, inputs=[self.speed], picture_px=self.figure.height_px, sentence_lines=11)

    def answer(self):
        """What joined leads do at the slider's speed and at the worst."""
        plant = self.page.plant()
        found, curves, holds = self._worked_out(plant)
        joined = joined_at(plant, self.speed.value, found.start_c)
        self.figure.draw(draw_brake, curves, joined)
        sentence = "\n".join((holds, found.sentence, joined_words(joined)))
        return Answer(
            sentence=self.whose(sentence),
            headline={
                "steady": two_figures(joined.lead_amps_rms, "A"),
                "first swing": two_figures(joined.first_swing_amps, "A"),
                "limit from warm": duration_words(joined.warm_s),
            },
            pictures=(self.figure.svg(f"Torque and amps of joined leads against speed. {sentence}"),),
            caution=JOINED_LEADS_CAUTION,
            exposures=(Exposure.TURNING, Exposure.HEAT),
        )

    def _worked_out(self, plant):
        """What does not hang on the slider, kept until the plant or the units change."""
        if self._kept[0] != (id(plant), self.system):
            found = brake_heat(plant)
            made = found, brake_curves(plant), "\n".join(_holds_words(plant, found))
            self._kept = (id(plant), self.system), (plant, *made)
        return self._kept[1][1:]


def _holds_words(plant, found):
    """Whether they hold the drive as it stands, at its strongest, and in which wind."""
    now, strongest = plant.drive.unguarded(), plant.drive.unguarded().strongest()
    as_it_is = brake(now, plant.winding, plant.conditions)
    lines = [f"As the source stands: {_small(as_it_is.finding)}"]
    if strongest != now:
        lines.append(f"At its strongest ({now.strongest_words}), its guard failed: {_small(found.brake.finding)}")
    if isinstance(plant.drive, WindRotor):
        lines.append(highest_wind_m_s(plant.drive, plant.winding, plant.conditions).sentence())
    return lines


def joined_words(joined):
    """What flows and how long it may, with the leads joined at the slider's speed."""
    rms, peak = (two_figures(amps, "A") for amps in (joined.lead_amps_rms, joined.first_swing_amps))
    said = f"Joined at {joined.speed_rpm:.0f} rpm: {rms} rms in each lead after a first swing of up to {peak} peak"
    if duration_words(joined.cold_s) == "never":
        return f"{said}; kept at that speed the winding bears it."
    cold, warm = duration_words(joined.cold_s), duration_words(joined.warm_s)
    return f"{said}; kept at that speed the winding reaches its limit after {cold} from cold, {warm} from warm."


def _small(words):
    return f"{words[:1].lower()}{words[1:]}"
