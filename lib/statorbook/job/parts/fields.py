"""What a field of a job is called, what it may hold, and how both are said."""

from dataclasses import dataclass
from typing import Literal, get_args, get_origin

from pydantic import Field
from pydantic_core import PydanticUndefined

from statorbook.cautions import Exposure, Instruction
from statorbook.errors import BadInput
from statorbook.quantities import filled, limits_in_words, shown_unit

_LONGEST_SHOWN = 40


class BadField(BadInput):
    """A field of a job's part that cannot be used, said in one sentence; `field` is empty when it is about several."""

    def __init__(self, given, allowed, next_step, *, where="", field=""):
        super().__init__(given, allowed, filled(next_step), where=where)
        self.field = field

    @classmethod
    def about(cls, facts, given):
        """One field of which something was given, in words, that cannot stay."""
        return cls(given, facts.allowed, facts.next_step, where=facts.title, field=facts.name)

    @classmethod
    def mended_in(cls, field, refusal, *, next_step="", where=""):
        """What was refused elsewhere, with the field in which the reader mends it."""
        return cls(
            refusal.given, refusal.allowed, next_step or refusal.next_step, where=where or refusal.where, field=field
        )


@dataclass(frozen=True, kw_only=True)
class FieldFacts:
    """All that a label, a slider or a sentence needs to know about one field."""

    name: str  # in the model
    name_alone: str  # the label, without the unit
    unit: str  # of the three limits too; empty for text
    description: str  # what it is and how to get it; quantities in it are marked as `filled` takes them
    next_step: str | Instruction  # what to do when it is refused; marked likewise
    exposures: tuple[Exposure, ...]  # what getting the value exposes hands to
    kind: str  # "number", "count", "choice", "yes or no", "text" or "names"
    above: float | None  # lower limit, itself not allowed
    least: float | None  # lower limit
    most: float | None  # upper limit
    choices: tuple[str, ...]  # the words allowed, when it is a choice
    required: bool
    may_be_empty: bool  # whether None is allowed
    default: float | int | str | bool | tuple | None  # taken when none is given
    assumed_default: bool  # whether that is an assumption which the reader should see marked

    @property
    def title(self):
        """The label, with the unit as the reader is shown it."""
        return f"{self.name_alone} [{shown_unit(self.unit, name=self.name_alone)}]" if self.unit else self.name_alone

    @property
    def unit_alone(self):
        """The unit as it stands beside a number; empty for a ratio or a count."""
        return "" if self.unit in ("-", "count") else self.unit

    @property
    def allowed(self):
        """What the field may hold, as words for a sentence."""
        if self.kind == "choice":
            return "allowed are " + ", ".join(self.choices)
        if self.kind == "text":
            return f"text of at most {self.most} characters is allowed"
        if self.kind == "names":
            return "a list of field names of this part is allowed"
        if self.kind == "yes or no":
            return "true or false is allowed"
        noun = "a whole number" if self.kind == "count" else "a number"
        limits = {"above": self.above, "at_least": self.least, "at_most": self.most}
        return limits_in_words(self.unit_alone, **limits, noun=noun, name=self.name_alone)


def labelled(title, unit, description, *, default=..., assumed=False, next_step="type it again", exposes=(), **limits):
    """Declare a field of a part, with its label, unit, limits, and what to do when it is refused."""
    # `unit` is "count" for things counted, "-" for a ratio, empty for a text, a choice or a yes-or-no; limits are gt or
    # ge, and le, in that unit, max_length for a text. `exposes`: what getting the value exposes hands to, shown under
    # the field, and in full when it is refused.
    step = Instruction(next_step, exposes) if exposes else next_step
    extra = {"unit": unit, "next_step": step, "exposures": exposes} | ({"assumed_default": True} if assumed else {})
    title = f"{title} [{unit}]" if unit else title
    return Field(default, title=title, description=description, json_schema_extra=extra, **limits)


def facts_of(model):
    """The facts of every field of a part, in the order of the model."""
    return tuple(field_facts(model, name) for name in model.model_fields)


def field_facts(model, name):
    """The facts of one field, for labels and sentences.

    Parameters
    ----------
    model : type
        A `Part` model.
    name : str
        The field's name.

    Returns
    -------
    FieldFacts
        Title, unit, limits and the rest.
    """
    info = model.model_fields[name]
    extra, limits = info.json_schema_extra, {type(rule).__name__: rule for rule in info.metadata}
    kind, choices = _kind(info.annotation)
    most = getattr(limits.get("Le"), "le", getattr(limits.get("MaxLen"), "max_length", None))
    return FieldFacts(
        name=name,
        name_alone=info.title.removesuffix(f" [{extra['unit']}]"),
        unit=extra["unit"],
        description=info.description,
        kind=kind,
        choices=choices,
        next_step=extra["next_step"],
        exposures=extra["exposures"],
        above=getattr(limits.get("Gt"), "gt", None),
        least=getattr(limits.get("Ge"), "ge", None),
        most=most,
        required=info.is_required(),
        may_be_empty=type(None) in get_args(info.annotation),
        assumed_default=extra.get("assumed_default", False),
        default=None if info.default is PydanticUndefined else info.default,
    )


def shown(value):
    """A value as it may stand in a sentence: on one line, not too long, a text in quotation marks."""
    if value is None:
        return "nothing"
    if isinstance(value, (dict, list, tuple)):
        return "a list or group of values"
    try:
        words = str(value)
    except ValueError:  # Python refuses to print whole numbers of thousands of digits
        return "a number of thousands of digits"
    words = " ".join("".join(c if c.isprintable() else " " for c in words).split())
    words = words if len(words) <= _LONGEST_SHOWN else f"{words[: _LONGEST_SHOWN - 1]}…"
    return f'"{words}"' if isinstance(value, str) else words


def _kind(annotation):
    members = [a for a in get_args(annotation) if a is not type(None)]
    plain = members[0] if type(None) in get_args(annotation) else annotation
    if get_origin(plain) is Literal:
        return "choice", get_args(plain)
    return {float: "number", int: "count", str: "text", bool: "yes or no"}.get(plain, "names"), ()
