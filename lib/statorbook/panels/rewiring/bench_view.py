"""Panel of chapter 05: the bench drawing, step by step, with a zoom that scrolls inside its own box."""

from statorbook.drawings import BenchDrawing
from statorbook.errors import count_of
from statorbook.rewiring import steps
from statorbook.widgets import Answer, Panel, button, slider

_WIDTH_PX, _BOX_PX, _WORDS_EM = 900, 920, 9


class BenchView(Panel):
    """See a plan as a whole and each of its steps."""

    scrolled_picture = "The bench drawing; the arrow keys scroll it"

    def __init__(self, plan, system="metric"):
        self.plan = plan
        self.step = slider("Step (0 shows the whole plan)", 0, 0, len(steps(plan)), step=1)
        self.zoom = slider("Zoom", 100, 100, 400, step=25, unit="%")
        self.back = button("Previous step", self.guarded(lambda pressed: self._move(-1)))
        self.on = button("Next step", self.guarded(lambda pressed: self._move(1)))
        super().__init__(system=system, inputs=[[self.step, self.back, self.on], self.zoom], picture_px=_BOX_PX)
        # Words and picture keep their height whatever the step and the zoom: nothing on the page jumps.
        self.sentence_box.layout.height, self.sentence_box.layout.overflow = f"{_WORDS_EM}em", "auto"

    def show(self, plan):
        """Take another plan; its whole drawing is shown."""
        with self.together():
            self.plan = plan
            self.step.value, self.step.max = 0, len(steps(plan))

    def _move(self, by):
        self.step.value = min(max(self.step.value + by, 0), self.step.max)

    def answer(self):
        """The step at hand, or what there is to do in all, in words and drawn."""
        number = round(self.step.value)  # the page moves it in fractions: step 7 arrives as 6.999…
        drawing = BenchDrawing(plan=self.plan, at_step=number or None)
        made, counts = drawing.steps, self.plan.counts
        if number:
            sentence = made[number - 1].words.within(f"Step {number} of {len(made)}: ")
        else:
            work = f"{count_of(counts['cuts'], 'cut')} and {count_of(counts['joins'], 'jumper')}"
            done = f"{work} in {count_of(len(made), 'step')}"
            sentence = f"The whole plan, {self.plan.grouping.label}: {done}. Press “Next step” for the first one."
        return Answer(sentence=sentence, pictures=(self._picture_of(drawing, number),))

    def _picture_of(self, drawing, number):
        """Zoomed in, a cut or a short jumper is in the middle; what goes far round the ring is scrolled instead."""
        zoom = self.zoom.value / 100
        step = drawing.steps[number - 1] if number else None
        if zoom > 1 and step and step.kind in ("cut", "join"):
            window = drawing.layout.window(step.ends, 1 / zoom)
            if window:
                return _fitted(drawing.svg(_WIDTH_PX, window))
        return _fitted(drawing.svg(_WIDTH_PX)) if zoom == 1 else drawing.svg(_WIDTH_PX * zoom)


def _fitted(svg):
    """As wide as the page where that is narrower."""
    return svg.replace("<svg ", '<svg style="max-width:100%;height:auto" ', 1)
