"""The message line of a panel, and the guard that turns every error of a callback into one plain sentence in it."""

import traceback
from functools import wraps
from html import escape

import ipywidgets as W

from statorbook.errors import BadInput
from statorbook.quantities import reader_units, units_now
from statorbook.widgets.controls import html


def _towards_ink(colour, share):
    """The page's colour, mixed with that of its text: its own are too faint to read as words on a light page."""
    return f"color-mix(in srgb, {colour} {share}%, var(--jp-content-font-color0, #000))"


# The page's own colours, with plain ones where the page has none (a stored or printed page).
GOOD = _towards_ink("var(--jp-success-color1, #2e7d32)", 80)
ODD = _towards_ink("var(--jp-warn-color0, #b45f06)", 75)
BAD = _towards_ink("var(--jp-error-color1, #c62828)", 85)
QUIET = "var(--jp-ui-font-color2, #616161)"
_LONGEST_FAULT = 160


class MessageLine:
    """One line that says what happened; its height is reserved, so that the page does not jump.

    Parameters
    ----------
    lines : int
        Lines of text to reserve [-].
    system : str or None
        "metric" or "US": what its callbacks say, they say in these units; those of the page when None.
    """

    def __init__(self, *, lines=2, system=None):
        self.text, self.system = "", system or units_now()
        self.last_fault = ""
        self.widget = html(layout=W.Layout(min_height=f"{1.5 * lines}em")).add_class("statorbook-message")
        self.clear()

    def clear(self):
        """Say nothing."""
        self._show("", QUIET)

    def say(self, text):
        """Tell that something went well.

        Parameters
        ----------
        text : str
            A plain sentence; it is escaped.
        """
        self._show(text, GOOD, "✓")

    def remark(self, text):
        """Tell something that is neither good nor bad.

        Parameters
        ----------
        text : str
            A plain sentence; it is escaped.
        """
        self._show(text, ODD, "•")

    def complain(self, text):
        """Tell that something could not be done.

        Parameters
        ----------
        text : str
            A plain sentence; it is escaped.
        """
        self._show(text, BAD, "✗")

    def guarded(self, call, on_failure=None):
        """Wrap a callback, so that an error becomes a sentence here instead of vanishing.

        Parameters
        ----------
        call : callable
            What a widget's event starts.
        on_failure : callable or None
            Called without arguments after the sentence is shown.

        Returns
        -------
        callable
            For `observe` or `on_click`; returns what `call` returned, or None after an error.
        """

        @wraps(call)
        def safe(*event, **options):
            with reader_units(self.system):
                try:
                    return call(*event, **options)
                except Exception as error:
                    # The reader sees the sentence; whoever mends the workbook reads the rest here.
                    self.last_fault = "" if isinstance(error, BadInput) else traceback.format_exc()
                    self.complain(in_plain_words(error))
                    if on_failure is not None:
                        on_failure()
                    return None

        return safe

    def _show(self, text, colour, sign=""):
        self.text = text
        words = f"<b>{sign}</b> {escape(text)}" if text else "&nbsp;"
        self.widget.value = f'<div role="status" style="line-height:1.4;color:{colour}">{words}</div>'


def in_plain_words(error):
    """Any error in one sentence for the reader, not escaped."""
    if isinstance(error, BadInput):
        return f"Not usable – {error}"
    if isinstance(error, OSError):
        return (
            f"A file could not be read or written ({_short(error.strerror or error)}); what was saved before is "
            "unharmed and what you typed is still on this page; make room, or close the program that holds the "
            "file, then try again."
        )
    return (
        f"This is a fault of the workbook, not of your input: {_short(error) or type(error).__name__}; your "
        "readings are safe; put the last value back to go on."
    )


def _short(error):
    words = " ".join(str(error).split())
    return words if len(words) <= _LONGEST_FAULT else words[:_LONGEST_FAULT] + "…"
