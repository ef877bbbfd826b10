"""What all parts of a job share: checked when made, refused in one sentence, assumptions listed."""

from typing import ClassVar

from pydantic import BaseModel, ConfigDict, ValidationError, field_validator

from statorbook.errors import BadInput
from statorbook.job.parts.fields import BadField, facts_of, field_facts, labelled, shown
from statorbook.quantities import day_of, filled, reader_units


class Part(BaseModel):
    """A part of a job: frozen, checked when made, and refused in one `BadField` sentence."""

    model_config = ConfigDict(strict=True, frozen=True, extra="forbid", allow_inf_nan=False)
    part_title: ClassVar[str] = "part"
    part_noun: ClassVar[str] = ""  # where it is shorter than the title
    says_nothing: ClassVar[bool] = False  # whether a job with it is the same as a job without
    compared: ClassVar[tuple | None] = None  # fields that a choice of grouping hangs on, unless it is all but remarks
    needed_first: ClassVar[tuple | None] = None  # fields that a form keeps in sight, unless it is those without default

    def __init__(self, /, **fields):
        plain = {name: _plain(value) for name, value in fields.items()}
        try:
            super().__init__(**self._completed(plain))
        except ValidationError as error:
            raise _complaint(type(self), error) from None

    def as_saved(self):
        """The fields as the job's file holds them: plain values by field name."""
        return self.model_dump(mode="json")

    def require_whole(self, names, given="nothing was given but its partner was", *, begun=False):
        """Refuse fields of which only some were given; once begun, every one that is empty."""
        empty = [name for name in names if getattr(self, name) is None]
        if empty and (begun or len(empty) < len(names)):
            raise BadField.about(field_facts(type(self), empty[0]), given)

    @classmethod
    def asked_first(cls, given):
        """Names of the fields that a form keeps in sight: those it names, or without a default, or all."""
        if cls.needed_first is not None:
            return cls.needed_first
        facts = facts_of(cls)
        return tuple(f.name for f in facts if f.required) or tuple(f.name for f in facts)

    @classmethod
    def subject(cls, given):
        """What the fields that a form folds are about, in a word or two, for the values given by field name."""
        return cls.part_noun or cls.part_title

    @classmethod
    def __pydantic_init_subclass__(cls, **kwargs):
        """Write the fields into the docstring, so that help() shows them and nobody keeps them twice."""
        with reader_units("metric"):
            lines = [f"    {f.name} : {f.kind}\n        {f.title}. {filled(f.description)}" for f in facts_of(cls)]
        cls.__doc__ = "\n".join([cls.__doc__.rstrip(), "", "    Parameters", "    ----------", *lines, "    "])

    @classmethod
    def _completed(cls, fields):
        """The fields with whatever the part adds of its own; a part that adds nothing returns them as they are."""
        return fields


class AssumingPart(Part):
    """A part that lists which of its values are assumed; an assumed default that was not given is listed by itself."""

    assumed: tuple[str, ...] = labelled(
        "Assumed, not measured",
        "",
        "Fields whose value is an assumption.",
        default=(),
        next_step="correct the list or leave it out",
    )

    @property
    def assumed_in_use(self):
        """Names of the assumed fields that numbers hang on, a tuple of str."""
        return self.assumed

    def assumes(self, name):
        """Whether a field holds an assumption.

        Parameters
        ----------
        name : str
            The field.

        Returns
        -------
        bool
            True when it does.
        """
        return name in self.assumed

    @field_validator("assumed")
    @classmethod
    def _check_names(cls, assumed):
        names = [name for name in cls.model_fields if name != "assumed"]
        strange = [name for name in assumed if name not in names]
        if strange:
            raise BadField(
                f"{shown(strange[0])} was given",
                f"its fields are {', '.join(names)}",
                "correct the list or leave it out",
                where="Assumed, not measured",
                field="assumed",
            )
        return assumed

    @classmethod
    def _completed(cls, fields):
        named = fields.get("assumed", ())
        if not isinstance(named, tuple):
            return fields
        silent = [f.name for f in facts_of(cls) if f.assumed_default and f.name not in fields]
        return fields | {"assumed": (*named, *(name for name in silent if name not in named))}


class DatedPart(Part):
    """A part that says when it was worked out."""

    date: str = labelled(
        "Date",
        "",
        "When it was worked out, year-month-day.",
        default="",
        max_length=10,
        next_step="type the date again",
    )

    @field_validator("date")
    @classmethod
    def _check_date(cls, date):
        if date and (day_of(date) is None or date != date.strip()):
            allowed = "a date as year-month-day, such as 2026-05-31, or nothing is allowed"
            raise BadField(f"{shown(date)} was given", allowed, "type the date again", where="Date", field="date")
        return date


def part_from_fields(model, fields):
    """Make a part from fields as a panel or a file holds them; what cannot be used is refused in one sentence."""
    if not isinstance(fields, dict):
        raise BadField(
            f"{shown(fields)} was given",
            "fields by name are allowed",
            "give a field name with each value",
            where=model.part_title,
        )
    return model(**{str(name): value for name, value in fields.items()})


def _plain(value):
    """Turn numpy's numbers into Python's, and lists into tuples; leave the rest as it is."""
    if isinstance(value, list):
        return tuple(value)
    return value.item() if getattr(value, "ndim", None) == 0 and hasattr(value, "item") else value


def _complaint(model, error):
    """One sentence about the most telling of pydantic's complaints; an unknown field explains a missing one."""
    first = sorted(error.errors(include_url=False), key=lambda found: found["type"] != "extra_forbidden")[0]
    cause = first.get("ctx", {}).get("error")
    if isinstance(cause, BadInput):
        return BadField.mended_in(getattr(cause, "field", ""), cause, where=f"{model.part_title}, {cause.where}")
    name = str(first["loc"][0])
    if name not in model.model_fields:
        return BadField(
            f"there is no field {shown(name)}",
            f"its fields are {', '.join(model.model_fields)}",
            "correct the field's name",
            where=model.part_title,
        )
    facts = field_facts(model, name)
    said = {"missing": "nothing", "string_unicode": "text with a broken character"}.get(first["type"])
    step = "choose one of them" if facts.kind == "choice" else facts.next_step
    if facts.kind in ("number", "count") and isinstance(first["input"], str):
        step = "give a plain number, with a point for decimals and without quotation marks or unit"
    return BadField(
        f"{said or shown(first['input'])} was given",
        facts.allowed,
        step,
        where=f"{model.part_title}, {facts.title}",
        field=name,
    )
