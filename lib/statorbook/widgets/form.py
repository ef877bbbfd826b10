"""A form built from a part of a job: each field is kept as it is left, all are saved together when good."""

from contextlib import suppress

from statorbook.errors import BadInput
from statorbook.job.parts import AssumingPart, field_facts
from statorbook.widgets.controls import button, stacked
from statorbook.widgets.form_field import FieldLooks, FormField
from statorbook.widgets.form_order import FormOrder
from statorbook.widgets.guard import MessageLine

_UNSAVED = "Changed and not saved yet."
DISCARD, BRING_BACK = "Discard what is typed", "Bring back what was discarded"


class Form:
    """Fields for one part of a job, with a button that saves them together.

    Parameters
    ----------
    model : type
        The part's model, such as `job.parts.registry.StatorPart`.
    part : Part or None
        The part as saved; None for a new one, which starts from the model's defaults.
    save : callable or None
        Called with the new part when the button is pressed and all fields are good; without it there is no button.
    on_change : callable or None
        Called with this form after each committed change, such as `lambda form: panel.redraw()`.
    groups : dict of str to sequence of str or None
        Heading to field names, in order; fields left out follow at the end.
    skip : sequence of str
        Fields that are not shown: they keep the value that the job has now, that of `part` without `now`, or the
        model's default. The list "assumed" is never shown; it receives the names of the fields that still hold an
        assumption.
    save_words : str
        Words on the button.
    system : str
        "metric" or "US": the units shown and taken for bare numbers.
    now : callable or None
        Reads the part as it is in the job; with it the form saves by itself what overwrites nothing of the reader's: a
        part that was empty when the form was opened, a field that was empty or assumed.
    drafts : Drafts or None
        Keeps each field as it is left until the form is saved; without it only the page holds what is typed.
    shown : sequence of str or None
        Fields to be seen until `show` says others; all of them when None.
    """

    def __init__(
        self,
        model,
        part=None,
        *,
        save=None,
        on_change=None,
        groups=None,
        skip=(),
        save_words="Save",
        system="metric",
        now=None,
        drafts=None,
        shown=None,
    ):
        self.model, self._part, self._save, self._on_change, self._system = model, part, save, on_change, system
        self._drafts, self._discarded, self._save_words, self._quiet = drafts, {}, save_words, False
        self._now, self._new = now, part is None
        self.message, self._refused, self._looks = MessageLine(system=system), None, FieldLooks()
        self.fields = {name: self._field(name) for name in model.model_fields if name not in (*skip, "assumed")}
        self.order = FormOrder(
            model, self.fields, groups or {}, self.message.guarded, self.fields if shown is None else shown
        )
        self.message.guarded(self._bring_back)()
        for field in self.fields.values():
            self._watch(field)
            field.on_confirm = self.message.guarded(lambda pressed, field=field: self._changed(field))
        saving = [button(save_words, self.message.guarded(lambda pressed: self.save()), main=True)] if save else []
        self.discard = button(DISCARD, self.message.guarded(lambda pressed: self._discard()))
        self._offer_discard()
        self.widget = stacked([self.order.widget, *saving, *([self.discard] if drafts else []), self.message.widget])

    def in_units(self, system):
        """Show all numbers in other units; nothing typed is lost and nothing counts as changed.

        Parameters
        ----------
        system : str
            "metric" or "US".
        """
        self._system = self.message.system = system
        for field in self.fields.values():
            if field.in_units(system):
                self._watch(field)
        self.order.follow()

    def _watch(self, field):
        field.control.observe(self.message.guarded(lambda change: self._changed(field)), "value")

    def part(self):
        """The part as typed, an instance of the model; when fields cannot be used, a refusal names them all."""
        bad = [field.label for field in self.fields.values() if not field.check()]
        if bad:
            shown = sum(field.in_sight for field in self.fields.values())
            self.order.follow()
            raise BadInput(
                f"{len(bad)} of {shown} {'field' if shown == 1 else 'fields'} cannot be used yet",
                "every field must be good",
                f"look at {', '.join(bad)}",
                where=self.model.part_title,
            )
        return self._modelled()

    def show(self, names):
        """Show some of the fields, and any other that has to be mended; the sentences count only those.

        Parameters
        ----------
        names : collection of str
            Names of the fields.
        """
        self.order.show(names)

    def assumed(self):
        """Names of the fields that still hold an assumption; first as saved, so that saving again changes nothing."""
        saved = list(getattr(self._there(), "assumed", ()))
        now = [name for name, field in self.fields.items() if field.assumed]
        now += [name for name in saved if name not in self.fields]
        return tuple(sorted(now, key=lambda name: saved.index(name) if name in saved else len(saved)))

    def save(self):
        """Give the part to the save callback when every field is good; else nothing is saved, and it says why."""
        self._take(self.part())
        left = ", ".join(
            self.fields[name].name for name in getattr(self._part, "assumed_in_use", ()) if name in self.fields
        )
        self.message.say(f"Saved. Still assumed, not measured: {left}." if left else "Saved.")

    def _take(self, part):
        self._save(part)
        self._part, self._discarded = part, {}
        for name, field in self.fields.items():
            field.settled(getattr(part, name))
            field.check()
        self.order.follow()
        if self._drafts:
            self._drafts.forget(self.fields)  # last: until it is in the job, what was typed stays on the disk
        self._offer_discard()

    def _save_what_overwrites_nothing(self, part):
        """Save without a press when nothing that the reader saved is changed by it, here or on another page."""
        changed = [field for field in self.fields.values() if field.changed]
        if part is None or not changed or not (self._new or all(field.was_open for field in changed)):
            return
        there = self._now()
        if (there or not self._part) and self._own(there) == self._own(self._part):
            self._take(part)
            self.message.say(f"Saved as typed, without “{self._save_words}”: it overwrote nothing of yours.")

    def _field(self, name):
        facts = field_facts(self.model, name)
        if self._part is None:
            return FormField(
                facts, facts.default, looks=self._looks, assumed=facts.assumed_default, system=self._system
            )
        assumed = isinstance(self._part, AssumingPart) and self._part.assumes(name)
        return FormField(facts, getattr(self._part, name), looks=self._looks, assumed=assumed, system=self._system)

    def _changed(self, field):
        if self._quiet:
            return
        field.touched(waits=bool(self._drafts))
        part = self._mark_refused()
        if self._save:
            self.message.remark(_UNSAVED)
        try:
            if self._drafts:
                self._keep(field)
        finally:  # a disk that refuses must not stop the answer, nor the other way round
            if self._on_change:
                self._on_change(self)
        if self._now:
            self._save_what_overwrites_nothing(part)

    def _keep(self, field):
        """Put a field as it was left on the disk, or take it off when it is again as saved."""
        name = field.facts.name
        if field.changed:
            self._drafts.keep(name, field.control.value, field.system)
        else:
            self._drafts.forget([name])
        self._discarded = {}
        self._offer_discard()
        if self._save and self._waiting():
            waits = f"press “{self._save_words}” to use it"
            if self._now and self._new:
                waits = "it is saved by itself once every field that is needed is good"
            self.message.remark(f"Kept as typed, not used yet: {waits}.")

    def _waiting(self):
        return [field for field in self.fields.values() if field.waiting]

    def _bring_back(self):
        """Show what was typed on this page or another one and is not used yet."""
        found = self._drafts.found(self.fields) if self._drafts else {}
        if not found:
            return
        for name, drafts in found.items():
            self.fields[name].bring_back(drafts)
        used = [name for name in found if not self.fields[name].changed]
        if used:
            self._drafts.forget(used)
        self._mark_refused()
        self.order.arrange()
        if self._waiting():
            names = ", ".join(field.name for field in self.fields.values() if field.waiting)
            self.message.remark(
                f"Brought back as you left it, not used yet: {names}. Press “{self._save_words}” to "
                f"use it, or “{DISCARD}”."
            )

    def _discard(self):
        """Go back to what is saved, or take that back."""
        if self._discarded:
            self._undo_discard(self._discarded)
            return
        waiting = self._waiting()
        texts = {field.facts.name: field.control.value for field in waiting}
        self._drafts.forget(texts)
        self._quiet = True
        try:
            for field in waiting:
                if field.put_saved():
                    self._watch(field)
        finally:
            self._quiet = False
        self._discarded = texts
        self._offer_discard()
        self._mark_refused()
        self.message.remark(f"Back to what is saved; until you change something, “{BRING_BACK}” is offered.")
        if self._on_change:
            self._on_change(self)

    def _undo_discard(self, texts):
        for name, text in texts.items():
            field = self.fields[name]
            self._quiet = True
            field.control.value = text
            self._quiet = False
            self._changed(field)

    def _offer_discard(self):
        self.discard.description = BRING_BACK if self._discarded else DISCARD
        self.discard.layout.display = None if self._discarded or self._waiting() else "none"

    def _mark_refused(self):
        """Show at its field what the model refuses, once every field can be used by itself; the part when it can."""
        if self._refused:
            self._refused.check()
        part = None
        if all(field.usable for field in self.fields.values()):
            with suppress(BadInput):  # it stands at its field; saving says it again
                part = self._modelled()
                for name, field in self.fields.items():
                    field.understand(getattr(part, name))
        self.order.follow()
        return part

    def _modelled(self):
        values = {**self._kept(), **{name: field.read() for name, field in self.fields.items()}}
        self._refused = None
        try:
            if not issubclass(self.model, AssumingPart):
                return self.model(**values)
            assumed = self.assumed()
            made = self.model(**values | {"assumed": assumed})
            kept = (*values.get("assumed", ()), *made.assumed_in_use)
            return self.model(**values | {"assumed": tuple(name for name in assumed if name in kept)})
        except BadInput as refusal:
            self._refused = self.fields.get(getattr(refusal, "field", ""))
            if self._refused:
                self._refused.complain(str(refusal))
            raise

    def _kept(self):
        there = self._there()
        return {} if there is None else {name: getattr(there, name) for name in self.model.model_fields}

    def _there(self):
        """The part that holds what this form leaves out: another form of the page may have saved it since."""
        whole = len(self.fields) == len(self.model.model_fields) - issubclass(self.model, AssumingPart)
        return self._part if whole or not self._now else self._now() or self._part

    def _own(self, part):
        """What a part holds of the fields of this form, with those of them that are assumed."""
        values = {name: getattr(part, name) if part else field.facts.default for name, field in self.fields.items()}
        assumed = getattr(part, "assumed", None)
        if assumed is None:
            assumed = [name for name, field in self.fields.items() if field.facts.assumed_default]
        return values, {name for name in assumed if name in self.fields}
