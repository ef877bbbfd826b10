"""What a field of a job is called, what it may hold, and how both are said."""

from dataclasses import dataclass
from typing import Literal, get_args, get_origin

from pydantic import Field
from pydantic_core import PydanticUndefined

from statorbook.cautions import Instruction
from statorbook.errors import BadInput
from statorbook.quantities import limits_in_words

_LONGEST_SHOWN = 40


class BadField(BadInput):
    """A field of a job's part that cannot be used, said in one sentence.

    Parameters
    ----------
    given : str
        What was given, in words.
    allowed : str
        What is allowed.
    next_step : str
        What to type, measure or do next.
    where : str
        Part and field, as the reader knows them.
    field : str
        The field's name in the model; empty when the sentence is about several.
    """

    def __init__(self, given, allowed, next_step, *, where="", field=""):
        super().__init__(given, allowed, next_step, where=where)
        self.field = field


@dataclass(frozen=True, kw_only=True)
class FieldFacts:
    """All that a label, a slider or a sentence needs to know about one field.

    Parameters
    ----------
    name : str
        The field's name in the model.
    title : str
        The label, with the unit.
    unit : str
        The unit; empty for text.
    description : str
        What it is and how to get it, in plain words.
    next_step : str or Instruction
        What to do when it is refused.
    exposures : tuple of Exposure
        What getting the value exposes hands to.
    kind : str
        "number", "count", "choice", "yes or no", "text" or "names".
    above : float or None
        Exclusive lower limit, in the unit named.
    least : float or None
        Inclusive lower limit, in the unit named.
    most : float or None
        Inclusive upper limit, in the unit named.
    choices : tuple of str
        The words allowed, when it is a choice.
    required : bool
        True when it must be given.
    may_be_empty : bool
        True when None is allowed.
    default : object
        The value taken when none is given, None when there is none.
    assumed_default : bool
        True when that value is an assumption which the reader should see marked.
    """

    name: str
    title: str
    unit: str
    description: str
    next_step: str | Instruction
    exposures: tuple
    kind: str
    above: float | None
    least: float | None
    most: float | None
    choices: tuple
    required: bool
    may_be_empty: bool
    default: object
    assumed_default: bool

    @property
    def name_alone(self):
        """The label without the unit."""
        return self.title.removesuffix(f" [{self.unit}]")

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
        return limits_in_words(self.unit_alone, above=self.above, at_least=self.least, at_most=self.most, noun=noun)


def labelled(title, unit, description, *, default=..., assumed=False, next_step="type it again", exposes=(), **limits):
    """Declare a field of a part.

    Parameters
    ----------
    title : str
        The label, without the unit.
    unit : str
        The unit; "count" for things counted, "-" for a ratio, empty for a text, a choice or a yes-or-no.
    description : str
        What it is and how to get it.
    default : object
        Value when none is given; ... when it must be given.
    assumed : bool
        True when the default is an assumption.
    next_step : str
        What to do when it is refused.
    exposes : tuple of Exposure
        What getting the value exposes hands to; shown under the field, and in full when it is refused.
    **limits : float
        gt or ge, and le, in the unit named; max_length for a text.

    Returns
    -------
    FieldInfo
        For the class body of a model.
    """
    step = Instruction(next_step, exposes) if exposes else next_step
    extra = {"unit": unit, "next_step": step, "exposures": exposes} | ({"assumed_default": True} if assumed else {})
    title = f"{title} [{unit}]" if unit else title
    return Field(default, title=title, description=description, json_schema_extra=extra, **limits)


def facts_of(model):
    """The facts of every field of a part.

    Parameters
    ----------
    model : type
        A `Part` model.

    Returns
    -------
    tuple of FieldFacts
        In the order of the model.
    """
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
    most = getattr(limits.get("Le"), "le", None) or getattr(limits.get("MaxLen"), "max_length", None)
    return FieldFacts(
        name=name,
        title=info.title,
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
    """A value as it may stand in a sentence: on one line and not too long.

    Parameters
    ----------
    value : object
        Anything that was given.

    Returns
    -------
    str
        Its text, in quotation marks when it is a text.
    """
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
