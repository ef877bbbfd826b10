"""Panel of chapter 05: the bench drawing, step by step, with a zoom that scrolls inside its own box."""

from statorbook.drawings import BenchDrawing
from statorbook.errors import count_of
from statorbook.rewiring import steps
from statorbook.widgets import Answer, Panel, ScrollTo, button, slider

# With its controls and words above it the box is on one screen of 900 px; at 100 % the whole plan is in it.
_BOX_PX, _WHOLE_PX, _WORDS_EM = 480, 460, 14
_WHOLE, _READABLE, _CLOSEST = 100, 225, 400


class BenchView(Panel):
    """See a plan as a whole and each of its steps."""

    scrolled_picture = "The bench drawing; the arrow keys scroll it"
    inputs_beside = True

    def __init__(self, plan, system="metric"):
        self.plan = plan
        self.step = slider("Step (0 shows the whole plan)", 0, 0, len(steps(plan)), step=1)
        self.zoom = slider("Zoom", _WHOLE, _WHOLE, _CLOSEST, step=25, unit="%")
        self.place, self._number = ScrollTo(), 0
        self.back = button("Previous step", self.guarded(lambda pressed: self._move(-1)))
        self.on = button("Next step", self.guarded(lambda pressed: self._move(1)))
        inputs = [[self.step, self.back, self.on], self.zoom, self.place]
        super().__init__(system=system, inputs=inputs, picture_px=_BOX_PX)
        self.picture_box.add_class(self.place.picture_class)
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
        """The picture in its size, and its box scrolled to the place of the step."""
        if number and not self._number and self.zoom.value == _WHOLE:
            self.zoom.value = _READABLE  # letters of the whole plan are too small to work by
        self._number, zoom = number, self.zoom.value / _WHOLE
        self.place.show(*drawing.layout.place_of(drawing.steps[number - 1].ends if number else (), 1 / zoom))
        look = f"width:calc(min(100%, {_WHOLE_PX}px) * {zoom:g});max-width:none;height:auto;display:block;margin:0 auto"
        return drawing.svg(_WHOLE_PX).replace("<svg ", f'<svg style="{look}" ', 1)
