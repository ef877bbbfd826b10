"""A picture by itself, with the sentence that says what it shows."""

from statorbook.widgets.answer import Answer
from statorbook.widgets.frame import Panel


class Picture(Panel):
    """One picture under its sentence; a cell that shows a bare picture would leave it without words for the blind.

    Parameters
    ----------
    sentence : str
        What the picture shows, in plain words.
    drawn : KeptFigure or StatorRing
        Anything with an `svg`; a figure gets the sentence as its alternative text, a drawing has its own.
    """

    def __init__(self, sentence, drawn):
        figure = hasattr(drawn, "axes")
        self._shows = Answer(sentence=sentence, pictures=(drawn.svg(sentence) if figure else drawn.svg(),))
        super().__init__(inputs=[], sentence_lines=1)

    def answer(self):
        """The sentence and the picture, always the same."""
        return self._shows
