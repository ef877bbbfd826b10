"""The controls that panels are made of: label with unit in front, wide enough, stock look."""

from base64 import b64encode
from functools import cache
from html import escape

import ipywidgets as W
from ipywidgets.widgets.widget_bool import CheckboxStyle
from ipywidgets.widgets.widget_button import ButtonStyle
from ipywidgets.widgets.widget_description import DescriptionStyle
from ipywidgets.widgets.widget_int import SliderStyle
from ipywidgets.widgets.widget_string import HTMLStyle, TextStyle

from statorbook.quantities import from_shown, parse_count, parse_quantity, shown_unit, to_shown, usual_units

_LABEL_CH = 29  # the width of a zero, which is wider than the mean letter
_CONTROL_EM = 24
_TYPED_EM = 11.5
_STYLES = {"list": DescriptionStyle, "slider": SliderStyle, "text": TextStyle, "tick": CheckboxStyle}
WIDEST = "calc(100% - 4px)"  # its own margins would push it over the edge of a small page


def label_with_unit(label, unit=""):
    """A label as every field and axis shows it: "Speed [rpm]".

    Parameters
    ----------
    label : str
        The quantity's name, with rms/peak and line/phase where it is a voltage.
    unit : str
        Its unit; "" or "-" for a plain number.

    Returns
    -------
    str
        The label.
    """
    return label if unit in ("", "-") else f"{label} [{unit}]"


@cache
def shared_look(kind, **look):
    """A style, or a layout that nobody changes later, shared by all that look so: fewer things for the page to make."""
    return kind(**look)


def html(value="", **options):
    """Words on the page.

    Parameters
    ----------
    value : str
        HTML.
    **options : object
        As `ipywidgets.HTML`.

    Returns
    -------
    ipywidgets.HTML
        The words; without a layout of its own it cannot be given another look later.
    """
    return W.HTML(value, style=shared_look(HTMLStyle), **{"layout": shared_look(W.Layout), **options})


def labelled(text, control_em=_CONTROL_EM, kind="list"):
    """Options that give any widget a label that is not cut off.

    Parameters
    ----------
    text : str
        The label.
    control_em : float
        Width of the control itself [em].
    kind : str
        Of the widget: "list", "slider", "text" or "tick".

    Returns
    -------
    dict
        Keywords for an ipywidgets widget.
    """
    return {
        "description": text,
        "style": shared_look(_STYLES[kind], description_width=f"{label_ch(text)}ch"),
        "layout": W.Layout(width=f"calc({label_ch(text)}ch + {control_em}em)", max_width=WIDEST),
    }


def label_ch(text):
    """Room kept for a label, the same for all of usual length, so that controls stand in line [ch]."""
    return max(_LABEL_CH, len(text) + 1)


def stacked(parts):
    """Things below each other, as wide as the page and without scroll bars of their own.

    Parameters
    ----------
    parts : sequence of ipywidgets.Widget
        From top to bottom.

    Returns
    -------
    ipywidgets.VBox
        The box.
    """
    return W.VBox(list(parts), layout=W.Layout(overflow="visible"))


def side_by_side(parts):
    """Things beside each other, wrapped where the page is narrow.

    Parameters
    ----------
    parts : sequence of ipywidgets.Widget
        From left to right.

    Returns
    -------
    ipywidgets.HBox
        The box.
    """
    return W.HBox(list(parts), layout=W.Layout(overflow="visible", flex_flow="row wrap", align_items="center"))


def slider(label, value, low, high, *, step, unit="", digits=0):
    """A slider that moves the picture while it is dragged.

    Parameters
    ----------
    label : str
        The quantity's name.
    value : float
        Where it stands at first, in the unit named.
    low : float
        Left end, in the unit named.
    high : float
        Right end, in the unit named.
    step : float
        One press of an arrow key, in the unit named.
    unit : str
        The unit.
    digits : int
        Decimals shown [-].

    Returns
    -------
    ipywidgets.FloatSlider
        The slider.
    """
    return W.FloatSlider(
        value=value,
        min=low,
        max=high,
        step=step,
        readout_format=f".{digits}f",
        **labelled(label_with_unit(label, unit), kind="slider"),
    )


def choice(label, options, value=None, *, unit="", empty=""):
    """A list to choose one thing from.

    Parameters
    ----------
    label : str
        What is chosen.
    options : sequence
        Words, or pairs of words and value.
    value : object
        Chosen at first; None when nothing is chosen yet.
    unit : str
        Unit of the options, when they are numbers.
    empty : str
        Words for "nothing", which then can always be chosen; "choose …" is offered when the value is None.

    Returns
    -------
    ipywidgets.Dropdown
        The list.
    """
    pairs = [o if isinstance(o, tuple) else (str(o), o) for o in options]
    if empty or value is None:
        pairs = [(empty or "choose …", None), *pairs]
    chosen = {"index": 0} if value is None else {"value": value}
    return W.Dropdown(options=pairs, **chosen, **labelled(label_with_unit(label, unit)))


def tick(label, value=False):
    """A box to tick.

    Parameters
    ----------
    label : str
        What is true when it is ticked.
    value : bool
        Ticked at first.

    Returns
    -------
    ipywidgets.Checkbox
        The box.
    """
    return W.Checkbox(value=value, **{**labelled("", kind="tick"), "description": label})


def button(label, call, *, main=False):
    """A button; give it a guarded callback.

    Parameters
    ----------
    label : str
        What it does, as a verb.
    call : callable
        Called with the button; wrap it with `Panel.guarded` or `MessageLine.guarded`.
    main : bool
        True for the one button that the reader came for.

    Returns
    -------
    ipywidgets.Button
        The button.
    """
    made = W.Button(
        description=label,
        button_style="primary" if main else "",
        style=shared_look(ButtonStyle),
        layout=W.Layout(width="auto", align_self="flex-start"),
    )
    made.on_click(call)
    return made


def download_link(name, data, mime, verb="Save"):
    """A link that carries a file inside itself, so that it works wherever the page is shown.

    Parameters
    ----------
    name : str
        Name of the file.
    data : bytes
        What is in it.
    mime : str
        Its media type, such as "text/csv".
    verb : str
        What is done with it.

    Returns
    -------
    str
        HTML.
    """
    name, look = escape(name), "color:var(--jp-content-link-color, #0b5cad);text-decoration:underline"  # Lab shows none
    file = f"data:{mime};base64,{b64encode(data).decode()}"
    return f'<a download="{name}" href="{file}" style="{look}">{verb} {name}</a>'


class NumberField(W.Text):
    """A field for one number, typed in its own unit or any usual one; what was typed stays as typed.

    Parameters
    ----------
    label : str
        The quantity's name; "head" in it lets pressure in, "wire" lets AWG in.
    unit : str
        The field's own unit.
    value : str or float
        What stands in it at first, a number with few figures; `read` gives all of them until something is typed.
    whole : bool
        True for a count.
    next_step : str
        What to do when it is outside the limits; a general hint when empty.
    system : str
        "metric" or "US": the unit shown and taken for a bare number.
    **limits : float
        `above`, `at_least`, `at_most`, in the field's unit.
    """

    def __init__(self, label, unit="", value="", *, whole=False, next_step="", system="metric", **limits):
        self.label, self.unit, self.whole, self.system = label, unit, whole, system
        self.shown_unit = unit if whole else shown_unit(unit, system, label)
        self.limits = {name: self._shown(limit) for name, limit in limits.items()} | {"next_step": next_step}
        self._kept = None if isinstance(value, str) else value
        others = [] if whole else usual_units(unit, label)
        hint = f"A number in {self.shown_unit}, or with its unit: {', '.join(others)}." if others else ""
        text = value if isinstance(value, str) else _few_figures(self._shown(value))
        super().__init__(
            value=text,
            continuous_update=False,
            tooltip=hint,
            **labelled(label_with_unit(label, self.shown_unit), _TYPED_EM, "text"),
        )
        self.observe(self._typed_over, "value")

    def read(self):
        """What stands in the field, an int for a count; refused when it is no such number or beyond limits [unit]."""
        if self.whole:
            return parse_count(self.value if self._kept is None else repr(self._kept), self.label, **self.limits)
        kept = self._kept
        if kept is not None:
            parse_quantity(repr(float(self._shown(kept))), self.shown_unit, self.label, **self.limits)
            return float(kept)
        typed = parse_quantity(self.value, self.shown_unit, self.label, **self.limits)
        return float(from_shown(typed, self.unit, self.system, self.label))

    def _shown(self, value):
        return value if self.whole else to_shown(value, self.unit, self.system, self.label)

    def _typed_over(self, change):
        self._kept = None


def _few_figures(value):
    """A number with six figures at most if that is all of it, else with four and every figure before the point."""
    if float(f"{value:.6g}") == value:
        return f"{value:.10g}"
    return f"{value:.0f}" if 1000 <= abs(value) < 1e10 else f"{value:.4g}"
