"""Fields that stand outside a form: brought back as they were left, and kept from the moment they are left again."""

from statorbook.quantities import shown_unit
from statorbook.widgets.form_field import can_hold


def keep_fields(fields, drafts, guarded):
    """Bring back what was typed, then keep every change; what stands there from the job needs no draft.

    Parameters
    ----------
    fields : dict of str to ipywidgets.Widget
        `NumberField`s or texts by the name that they are kept under, as the job has them; observed before all others.
    drafts : Drafts
        Keeps them.
    guarded : callable
        Wraps a callback, so that what the disk refuses becomes a sentence.
    """
    usual = {name: field.value for name, field in fields.items()}

    def keep(name, field):
        if field.value == usual[name]:
            drafts.forget([name])
        else:
            drafts.keep(name, field.value, getattr(field, "system", "metric"))

    def bring_back():
        for name, found in drafts.found(fields).items():
            text = _with_unit(found[-1], fields[name])
            if can_hold(fields[name], text):
                fields[name].value = text
                keep(name, fields[name])

    guarded(bring_back)()
    for name, field in fields.items():
        field.observe(guarded(lambda change, name=name, field=field: keep(name, field)), "value")


def _with_unit(draft, field):
    """A bare number that was typed in other units gets its unit, which every such field understands."""
    system, text = getattr(field, "system", draft.system), draft.text
    if system == draft.system or not str(text).strip()[-1:].isdigit():
        return text
    unit = shown_unit(field.unit, draft.system, field.label)
    return f"{text} {unit}" if unit != field.shown_unit else text
