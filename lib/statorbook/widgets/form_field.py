"""One field of a form: its label, its control in the reader's units, and what is to be said about it."""

from functools import cached_property
from html import escape

import ipywidgets as W

from statorbook.errors import BadInput
from statorbook.quantities import filled, reader_units, to_shown, usual_units
from statorbook.widgets.controls import NumberField, choice, html, label_with_unit, labelled, side_by_side, tick
from statorbook.widgets.guard import BAD, ODD, QUIET

_LONG_TEXT = 1000
NOT_USED, CARRIED = "typed, not used yet", "from the quick look, not used yet"
_MANY_UNITS = ("m", "mm", "L/s", "m/s")  # where trades and countries differ, so that the reader is told


class FieldLooks:
    """What all fields of a form share, so that each of them is fewer things for the page to make."""

    def __init__(self):
        self.beside = W.Layout(width="auto")
        # Beside the control where there is room for some words, else under it over the whole width.
        self.help = W.Layout(width="auto", flex="1 1 18em", min_width="0")


class FormField:
    """One field of `job.parts.field_facts`: label, control in the reader's units, and what is said about it."""

    def __init__(self, facts, value, *, looks, assumed=False, system="metric"):
        self.facts, self.assumed, self.system, self.waiting = facts, assumed, system, False
        self._carried, self.bad = False, False  # whether a complaint stands beside it
        self.name, self.unit = facts.name_alone, facts.unit_alone
        self.control = _control(self, value)
        self.settled(value)
        self._understood = ""  # a text as the model took it, such as a date in another order
        self._elsewhere, self._looks, self._said = "", looks, ("", "")
        # What was once measured or typed cannot become an assumption again, so most fields need no such button.
        self._was_assumed, self._offered, self.in_sight, self.on_confirm = assumed, assumed, True, None
        with reader_units(system):
            self._say()

    # Most fields of most forms are never looked at: what stands round the control is made when it is first shown.
    @cached_property
    def beside(self):
        """What is said beside the control, short."""
        return html(self._said[0], layout=self._looks.beside)

    @cached_property
    def help(self):
        """What the field is, or what is wrong with what stands in it."""
        return html(self._said[1], layout=self._looks.help)

    @cached_property
    def confirm(self):
        """The button that turns an assumption into a value measured; None for a field that never held one."""
        made = _confirm(self.name, self._offered) if self._was_assumed else None
        if made:
            made.on_click(lambda pressed: self.on_confirm and self.on_confirm(pressed))
        return made

    @cached_property
    def widget(self):
        """The field as it stands in the page."""
        made = side_by_side([self.control, self.beside, *filter(None, [self.confirm]), self.help])
        made.layout.display = None if self.in_sight else "none"
        return made

    def show(self, in_sight):
        """Let it be seen, or not."""
        self.in_sight = in_sight
        if "widget" in vars(self):
            self.widget.layout.display = None if in_sight else "none"

    @property
    def label(self):
        """Its name with the unit, as it stands in front of it."""
        return label_with_unit(self.name, self._shown_unit)

    @property
    def _shown_unit(self):
        return self.control.shown_unit if self.facts.kind == "number" else self.unit

    def in_units(self, system):
        """Show a number in other units, or as typed when it cannot be read; tell whether the control is a new one."""
        if self.facts.kind != "number" or system == self.system:
            return False
        try:
            value = self.read()
        except BadInput:
            value = self.control.value
        changed, self.system = self.changed, system
        self._renew(value)
        # A number that was changed is never taken for the saved one in other units, whatever it reads.
        self._shown = object() if changed else self.control.value
        self.check()
        return True

    def settled(self, value):
        """Take what stands in it for what is saved: the value in the job, in the field's own unit."""
        self._saved, self._saved_assumed, self._shown = value, self.assumed, self.control.value
        self.waiting = False

    @property
    def changed(self):
        """True when something else stands in it, or is known of it, than is saved."""
        return self.control.value != self._shown or self.assumed != self._saved_assumed

    @property
    def was_open(self):
        """True when the job holds nothing of the reader's here: nothing at all, or an assumption."""
        return self._saved_assumed or self._saved in (None, "")

    def bring_back(self, drafts):
        """Put back what was typed and not used: the last of the drafts; those of other pages are told below."""
        now, last = self.system, drafts[-1]
        self.in_units(last.system)
        texts = [draft.text for draft in drafts[:-1] if draft.text != last.text]
        if can_hold(self.control, last.text):
            self.control.value = last.text
        else:  # a word that can no longer be chosen
            texts.append(last.text)
        self.in_units(now)
        self._elsewhere = "".join(f" Another page left here: “{text}”." for text in texts if text is not None)
        self.touched(waits=True)
        self._carried = last.is_carried
        self.check()

    def put_saved(self):
        """Put what is saved in the place of what is typed, and tell whether the control is a new one."""
        renewed = self.facts.kind in ("number", "count")
        self.assumed, self._understood, self._elsewhere = self._saved_assumed, "", ""
        if renewed:
            self._renew(self._saved)
        else:
            self.control.value = _control(self, self._saved).value
        self.settled(self._saved)
        self.check()
        return renewed

    def _renew(self, value):
        self.control = _control(self, value)
        if "widget" in vars(self):
            self.widget.children = (self.control, *self.widget.children[1:])

    @property
    def filled(self):
        """True when the reader's own value stands in it, usable or not; not what is there without them."""
        value = self.control.value
        if value is None or not str(value).strip() or self.assumed:
            return False
        return self.facts.assumed_default or not self.usable or self.read() != self.facts.default

    @property
    def in_words(self):
        """Its name and what stands in it, for a sentence."""
        name = self.name if self.name[:2].isupper() else f"{self.name[:1].lower()}{self.name[1:]}"
        return " ".join(filter(None, (name, str(self.control.value), self._shown_unit)))

    @property
    def usable(self):
        """True when what stands in it can be used; nothing is shown."""
        try:
            self.read()
        except BadInput:
            return False
        return True

    def read(self):
        """The value as the model wants it, in the field's own unit; None when it is empty and may be."""
        value = self.control.value
        if self.facts.may_be_empty and (value is None or not str(value).strip()):
            return None
        if self.facts.kind in ("number", "count"):
            return self.control.read()
        if self.facts.kind == "choice" and value is None:
            raise BadInput("nothing was chosen", self.facts.allowed, "choose one of them", where=self.name)
        return value

    def understand(self, text):
        """Show as what the model took a text, such as a date in another order."""
        if self.facts.kind == "text" and text and text != self._understood:
            self._understood = text
            self.check()

    def touched(self, *, waits=False):
        """Take note that the reader changed it: no assumption any more, and marked while it waits to be used."""
        self.assumed, self._understood, self._carried = False, "", False
        self.waiting = waits and self.changed
        self.check()

    def check(self):
        """Show what is wrong with it, or what was understood, and tell whether it can be used."""
        with reader_units(self.system):
            try:
                self._say(self.read())
            except BadInput as refusal:
                self.complain(str(refusal))
                return False
        return True

    def complain(self, sentence):
        """Show a plain sentence beside the field; it is escaped."""
        self.bad = True
        self._offer_confirm(False)
        self._tell(
            f'<span style="color:{BAD}"><b>✗</b></span>{self._waits()}', _small(f"{sentence}{self._elsewhere}", BAD)
        )

    def _say(self, value=None):
        self.bad, beside = False, ""
        self._offer_confirm(self.assumed)
        if self.assumed:
            beside = f'<span style="color:{ODD}">assumed, not measured</span>'
        elif value is not None and self.facts.kind == "number" and _has_letters(self.control.value):
            beside = f'<span style="color:{QUIET}">= {self._in_words(value)}</span>'
        elif value is not None and self._understood not in ("", value):
            beside = f'<span style="color:{QUIET}">= {escape(self._understood)}</span>'
        described = f"{filled(self.facts.description)}{self._also_understood()}{self._hurts()}{self._elsewhere}"
        self._tell(f"{beside}{self._waits()}", _small(described, QUIET))

    def _tell(self, beside, help_html):
        self._said = beside, help_html
        for name, words in zip(("beside", "help"), self._said, strict=True):
            if name in vars(self):
                getattr(self, name).value = words

    def _offer_confirm(self, wanted):
        self._offered = wanted
        if vars(self).get("confirm"):
            self.confirm.layout.display = None if wanted else "none"

    def _waits(self):
        words = CARRIED if self._carried else NOT_USED
        return f' <span style="color:{ODD}">{words}</span>' if self.waiting else ""

    def _in_words(self, value):
        return escape(f"{to_shown(value, self.unit, self.system, self.name):.4g} {self._shown_unit}")

    def _hurts(self):
        tags = "; ".join(exposure.tag for exposure in self.facts.exposures)
        return f" ⚠ {tags}." if tags else ""

    def _also_understood(self):
        if self.facts.kind != "number" or self.unit not in _MANY_UNITS:
            return ""
        return f" Also understood: {', '.join(usual_units(self.unit, self.name))}."


def _confirm(name, offered):
    return W.Button(
        description="measured",
        tooltip=f"{name}: the value is right, I have measured it",
        layout=W.Layout(width="auto", display=None if offered else "none"),
    )


def _small(text, colour):
    return f'<div style="line-height:1.3;font-size:0.92em;color:{colour}">{escape(text)}</div>'


def can_hold(control, value):
    """Whether a control can show a value that stood in such a control before."""
    if isinstance(control, W.Dropdown):
        return value in [option for _, option in control.options]
    return isinstance(value, type(control.value))


def number_field(facts, value=None, *, system="metric"):
    """A control for a number or a count, with the limits and the unit of its field.

    Parameters
    ----------
    facts : FieldFacts
        What the model says about it, from `job.parts.fields.field_facts`.
    value : float or str or None
        What stands in it at first, in the field's own unit; None for nothing [unit].
    system : str
        "metric" or "US".

    Returns
    -------
    NumberField
        The control.
    """
    limits = {"above": facts.above, "at_least": facts.least, "at_most": facts.most}
    given = {name: limit for name, limit in limits.items() if limit is not None}
    return NumberField(
        facts.name_alone,
        facts.unit_alone,
        "" if value is None else value,
        whole=facts.kind == "count",
        next_step=facts.next_step,
        system=system,
        **given,
    )


def _control(field, value):
    facts = field.facts
    if facts.kind in ("number", "count"):
        return number_field(facts, value, system=field.system)
    if facts.kind == "choice":
        return choice(field.name, facts.choices, value, empty="(not known)" if facts.may_be_empty else "")
    if facts.kind == "yes or no":
        return tick(field.name, bool(value))
    kind = W.Textarea if (facts.most or 0) >= _LONG_TEXT else W.Text
    return kind(value=value or "", continuous_update=False, **labelled(field.name, kind="text"))


def _has_letters(text):
    return any(letter.isalpha() or letter in "°%\"'/" for letter in text)
