"""A form built from a part of a job: a field for each of its own, nothing typed is lost, saved when all are good."""

from html import escape

import ipywidgets as W

from statorbook.conversions import usual_units
from statorbook.errors import BadInput
from statorbook.job_fields import field_facts
from statorbook.panels.controls import (NumberField, button, choice, label_ch, label_with_unit, labelled,
                                        side_by_side, stacked, tick)
from statorbook.panels.guard import BAD, ODD, QUIET, MessageLine

_UNSAVED = "Changed and not saved yet."
_LONG_TEXT = 1000
_MANY_UNITS = ("m", "mm", "L/s", "m/s")  # where trades and countries differ, so that the reader is told


class FormField:
    """One field: label, control, and what is to be said about it.

    Parameters
    ----------
    facts : FieldFacts
        What the model says about it, from `job_fields.field_facts`.
    value : object
        What stands in it at first; None for nothing.
    assumed : bool
        True when that value is an assumption.
    """

    def __init__(self, facts, value, *, assumed=False):
        self.facts, self.assumed = facts, assumed
        self.name = facts.title.removesuffix(f" [{facts.unit}]")
        self.unit = "" if facts.unit in ("-", "count") else facts.unit
        self.control = _control(self, value)
        self._beside = W.HTML(layout=W.Layout(width="auto"))
        self.confirm = W.Button(description="measured", tooltip=f"{self.name}: the value is right, I have measured it",
                                layout=W.Layout(width="auto"))
        self._under = W.HTML()
        # What was once measured or typed cannot become an assumption again, so most fields need no such button.
        confirm = [self.confirm] if assumed else []
        self.widget = stacked([side_by_side([self.control, self._beside, *confirm]), self._under])
        self._say()

    @property
    def label(self):
        """Its name with the unit, as it stands in front of it."""
        return label_with_unit(self.name, self.unit)

    @property
    def usable(self):
        """True when what stands in it can be used; nothing is shown."""
        try:
            self.read()
        except BadInput:
            return False
        return True

    def read(self):
        """The value as the model wants it, in the field's own unit [unit].

        Returns
        -------
        object
            A number, a word, True or False, a text, or None when it is empty and may be.

        Raises
        ------
        BadInput
            When what was typed cannot be used, or nothing was chosen.
        """
        value = self.control.value
        if self.facts.may_be_empty and (value is None or not str(value).strip()):
            return None
        if self.facts.kind in ("number", "count"):
            return self.control.read()
        if self.facts.kind == "choice" and value is None:
            raise BadInput("nothing was chosen", self.facts.allowed, "choose one of them", where=self.name)
        return value

    def touched(self):
        """Take note that the reader changed it: it is no assumption any more."""
        self.assumed = False
        self.check()

    def check(self):
        """Show what is wrong with it, or what was understood.

        Returns
        -------
        bool
            True when it can be used.
        """
        try:
            self._say(self.read())
        except BadInput as refusal:
            self.complain(str(refusal))
            return False
        return True

    def complain(self, sentence):
        """Show a sentence under the field.

        Parameters
        ----------
        sentence : str
            What is wrong; it is escaped.
        """
        self._beside.value = f'<span style="color:{BAD}"><b>✗</b></span>'
        self.confirm.layout.display = "none"
        self._under.value = self._small(sentence, BAD)

    def _say(self, value=None):
        self._beside.value, self.confirm.layout.display = "", None if self.assumed else "none"
        if self.assumed:
            self._beside.value = f'<span style="color:{ODD}">assumed, not measured</span>'
        elif value is not None and self.facts.kind == "number" and _has_letters(self.control.value):
            self._beside.value = f'<span style="color:{QUIET}">= {value:.4g} {escape(self.unit)}</span>'
        self._under.value = self._small(f"{self.facts.description}{self._also_understood()}", QUIET)

    def _also_understood(self):
        if self.facts.kind != "number" or self.unit not in _MANY_UNITS:
            return ""
        return f" Also understood: {', '.join(usual_units(self.unit, self.name))}."

    def _small(self, text, colour):
        indent = label_ch("" if self.facts.kind == "yes or no" else self.label) + 1
        return (f'<div style="margin:-2px 0 4px {indent}ch;line-height:1.35;color:{colour}">'
                f'<span style="font-size:0.92em">{escape(text)}</span></div>')


class Form:
    """Fields for one part of a job, with a button that saves them together.

    Parameters
    ----------
    model : type
        The part's model, such as `job_parts.StatorPart`.
    part : Part or None
        The part as saved; None for a new one, which starts from the model's defaults.
    save : callable or None
        Called with the new part when the button is pressed and all fields are good; without it there is no button.
    on_change : callable or None
        Called with this form after each committed change, such as `lambda form: panel.redraw()`.
    groups : dict of str to sequence of str or None
        Heading to field names, in order; fields left out follow at the end.
    skip : sequence of str
        Fields that are not shown: they keep the value of `part`, or the model's default. The list "assumed" is never
        shown; it receives the names of the fields that still hold an assumption.
    save_words : str
        Words on the button.
    """

    def __init__(self, model, part=None, *, save=None, on_change=None, groups=None, skip=(), save_words="Save"):
        self.model, self._part, self._save, self._on_change = model, part, save, on_change
        self.message, self._refused = MessageLine(), None
        self.fields = {name: self._field(name) for name in model.model_fields if name not in (*skip, "assumed")}
        for field in self.fields.values():
            field.control.observe(self.message.guarded(lambda change, field=field: self._changed(field)), "value")
            field.confirm.on_click(self.message.guarded(lambda pressed, field=field: self._changed(field)))
        boxes = [box for heading, names in self._grouped(groups or {}) for box in _section(heading, names, self.fields)]
        saving = [button(save_words, self.message.guarded(lambda pressed: self.save()), main=True)] if save else []
        self.widget = stacked([*boxes, *saving, self.message.widget])

    def part(self):
        """The part as typed.

        Returns
        -------
        Part
            An instance of the model.

        Raises
        ------
        BadInput
            When a field cannot be used; all such fields are named and marked.
        """
        bad = [field.label for field in self.fields.values() if not field.check()]
        if bad:
            raise BadInput(f"{len(bad)} of {len(self.fields)} fields cannot be used yet", "every field must be good",
                           f"look at {', '.join(bad)}", where=self.model.part_title)
        return self._modelled()

    def assumed(self):
        """Names of the fields that still hold an assumption.

        Returns
        -------
        tuple of str
            Field names, those of the saved part first and in its order, so that saving it unchanged changes nothing.
        """
        saved = list(getattr(self._part, "assumed", ()))
        now = [name for name, field in self.fields.items() if field.assumed]
        return tuple(sorted(now, key=lambda name: saved.index(name) if name in saved else len(saved)))

    def save(self):
        """Give the part to the save callback when every field is good.

        Raises
        ------
        BadInput
            When a field cannot be used; nothing is saved then.
        """
        part = self.part()
        self._save(part)
        self._part = part
        left = ", ".join(self.fields[name].name for name in self.assumed())
        self.message.say(f"Saved. Still assumed, not measured: {left}." if left else "Saved.")

    def _field(self, name):
        facts = field_facts(self.model, name)
        if self._part is None:
            return FormField(facts, facts.default, assumed=facts.assumed_default)
        return FormField(facts, getattr(self._part, name), assumed=name in getattr(self._part, "assumed", ()))

    def _changed(self, field):
        field.touched()
        self._mark_refused()
        if self._save:
            self.message.remark(_UNSAVED)
        if self._on_change:
            self._on_change(self)

    def _mark_refused(self):
        """Show at its field what the model refuses, once every field can be used by itself."""
        if self._refused:
            self._refused.check()
        if all(field.usable for field in self.fields.values()):
            try:
                self._modelled()
            except BadInput:
                pass  # it stands at its field; saving says it again

    def _modelled(self):
        values = {**self._kept(), **{name: field.read() for name, field in self.fields.items()}}
        if "assumed" in self.model.model_fields:
            values["assumed"] = self.assumed()
        self._refused = None
        try:
            return self.model(**values)
        except BadInput as refusal:
            self._refused = self.fields.get(getattr(refusal, "field", ""))
            if self._refused:
                self._refused.complain(str(refusal))
            raise

    def _grouped(self, groups):
        named = {name for names in groups.values() for name in names}
        rest = [name for name in self.fields if name not in named]
        return [*groups.items(), *([("More" if groups else "", rest)] if rest else [])]

    def _kept(self):
        return {} if self._part is None else {name: getattr(self._part, name) for name in self.model.model_fields}


def _section(heading, names, fields):
    title = [W.HTML(f'<b style="font-size:1.05em">{escape(heading)}</b>')] if heading else []
    return [*title, *(fields[name].widget for name in names if name in fields)]


def _control(field, value):
    facts = field.facts
    if facts.kind in ("number", "count"):
        limits = {"above": facts.above, "at_least": facts.least, "at_most": facts.most}
        given = {name: limit for name, limit in limits.items() if limit is not None}
        return NumberField(field.name, field.unit, "" if value is None else value, whole=facts.kind == "count",
                           next_step=facts.next_step, **given)
    if facts.kind == "choice":
        return choice(field.name, facts.choices, value, empty="(not known)" if facts.may_be_empty else "")
    if facts.kind == "yes or no":
        return tick(field.name, bool(value))
    kind = W.Textarea if (facts.most or 0) >= _LONG_TEXT else W.Text
    return kind(value=value or "", continuous_update=False, **labelled(field.name))


def _has_letters(text):
    return any(letter.isalpha() or letter in "°%\"'/" for letter in text)
