"""The drive of a job: what turns the machine, one kind of several, and what it takes to turn it unloaded."""

from typing import ClassVar, Literal

from pydantic import model_validator

from statorbook.cautions import SPUN, Exposure
from statorbook.errors import BadInput
from statorbook.job.parts.base import AssumingPart
from statorbook.job.parts.drive.engine import EngineKind
from statorbook.job.parts.drive.known_speed import KnownSpeedKind
from statorbook.job.parts.drive.pedals import PedalsKind
from statorbook.job.parts.drive.water_jet import WaterJetKind
from statorbook.job.parts.drive.wind_rotor import WindRotorKind
from statorbook.job.parts.fields import BadField, facts_of, field_facts, labelled

# In the order of the form: the choices of a kind, and the fields after them.
KINDS = {kind.name: kind for kind in (WaterJetKind(), WindRotorKind(), PedalsKind(), EngineKind(), KnownSpeedKind())}
_ALWAYS_ASKED = ("drag_nm", "drag_nm_per_1000rpm", "start_nm")
_LEVER, _MAGNETS = (Exposure.LEVER, Exposure.VOLTS), (Exposure.MAGNETS,)


class ChosenKind:
    """The kind, ahead of all other fields."""

    kind: Literal[tuple(KINDS)] = labelled("Kind of drive", "", "What turns the rotor.")


class UnloadedFields:
    """What it takes to turn the machine without load, after the fields of all kinds."""

    drag_nm: float = labelled(
        "Drag",
        "N·m",
        "Torque that keeps the unloaded rotor turning: bearings, seals, iron.",
        default=0.3,
        assumed=True,
        ge=0,
        le=50,
        next_step="measure the pull on a known lever again",
        exposes=_LEVER,
    )
    drag_nm_per_1000rpm: float = labelled(
        "Rise of the drag",
        "N·m",
        "More torque for each 1000 rpm; a coast-down shows it.",
        default=0.0,
        ge=0,
        le=50,
        next_step="take it from a coast-down, or leave 0",
        exposes=SPUN,
    )
    start_nm: float | None = labelled(
        "Pull that starts it",
        "N·m",
        "Torque at which the standing rotor starts to turn, at its stiffest spot; empty: twice the drag is assumed.",
        default=None,
        ge=0,
        le=200,
        exposes=_LEVER,
        next_step="hang a spring scale on a lever and note the highest pull",
    )
    rotor_kg: float | None = labelled(
        "Rotor mass",
        "kg",
        "Magnet ring and what turns with it, for the coast-down.",
        default=None,
        gt=0,
        le=500,
        next_step="weigh it again",
        exposes=_MAGNETS,
    )
    rotor_ring_mm: float | None = labelled(
        "Rotor diameter, middle of the ring",
        "mm",
        "For the coast-down.",
        default=None,
        gt=10,
        le=3000,
        next_step="measure it again",
    )


# Pydantic lists the fields of the last base first.
class DrivePart(UnloadedFields, *(kind.fields for kind in reversed(KINDS.values())), ChosenKind, AssumingPart):
    """What turns the machine; fields of the kind not chosen may stay filled in and are not used."""

    part_title: ClassVar[str] = "drive"

    @model_validator(mode="after")
    def _check(self):
        needs = self._kind.needs(vars(self))
        self.require_whole(needs, f"nothing was given but {self._kind.noun} needs it", begun=True)
        try:
            self.to_drive()
        except BadInput as refusal:
            raise BadField.mended_in(self._mended_in(refusal.where), refusal) from None
        return self

    @property
    def _kind(self):
        return KINDS[self.kind]

    def _mended_in(self, where):
        """The field that a drive's complaint is about; empty when it is about several."""
        titles = {facts.name_alone.lower(): facts.name for facts in reversed(facts_of(type(self)))}
        return self._kind.mended_in.get(where) or titles.get(where.lower(), "")

    def to_drive(self):
        """The drive of this kind, for the physics."""
        return self._kind.to_drive(self)

    @property
    def assumed_besides(self):
        """What is assumed though no field says so, in words, a tuple of str."""
        start = ("pull that starts it, twice the drag", self.start_nm is None)
        return tuple(words for words, true in (start, *self._kind.assumed_besides(self)) if true)

    def cautions(self, drive):
        """What can hurt with this kind of drive besides running away.

        Parameters
        ----------
        drive : Drive
            The drive that this part makes.

        Returns
        -------
        tuple of str
            Sentences; some may be empty.
        """
        return self._kind.cautions(self, drive)

    @classmethod
    def asked(cls, given):
        """Names of the fields that a kind of drive asks for.

        Parameters
        ----------
        given : dict
            Values by field name, as far as they are known.

        Returns
        -------
        tuple of str
            None before a kind is chosen.
        """
        kinds = [kind for name, kind in KINDS.items() if name == given.get("kind")]
        return (*kinds[0].asks(given), *_ALWAYS_ASKED) if kinds else ()

    @classmethod
    def asked_first(cls, given):
        """The kind, and what that kind cannot do without, a tuple of str.

        Parameters
        ----------
        given : dict
            Values by field name, as far as they are known.

        Returns
        -------
        tuple of str
            The kind alone before one is chosen.
        """
        kind = KINDS.get(given.get("kind"))
        return ("kind", *(kind.first(given) if kind else ()))

    @classmethod
    def subject(cls, given):
        """The kind of drive.

        Parameters
        ----------
        given : dict
            Values by field name, as far as they are known.

        Returns
        -------
        str
            “drive” before one is chosen.
        """
        return given.get("kind") or cls.part_title

    @property
    def assumed_in_use(self):
        """Names of the assumed fields that this kind of drive uses, a tuple of str."""
        asked = self.asked(vars(self))
        return tuple(name for name in self.assumed if name in asked)

    def assumes(self, name):
        """Whether a field holds an assumption; a default that only other kinds use does, while nobody has changed it.

        Parameters
        ----------
        name : str
            The field.

        Returns
        -------
        bool
            True when it does.
        """
        facts = field_facts(type(self), name)
        untouched = facts.assumed_default and getattr(self, name) == facts.default
        return super().assumes(name) or untouched and name not in self.asked(vars(self))

    def as_saved(self):
        """The fields as the job's file holds them; what only another kind of drive asks is left out unless given."""
        asked = ("kind", "assumed", *self.asked(vars(self)))
        defaults = {name: info.default for name, info in type(self).model_fields.items()}
        return {name: value for name, value in super().as_saved().items() if name in asked or value != defaults[name]}

    def with_quantities(self, values):
        """The part with some of its drive's quantities changed.

        Parameters
        ----------
        values : dict of str to float
            By the field of a `drives.quantity.Quantity`, in its unit [unit].

        Returns
        -------
        DrivePart
            A quantity that was said in another way before is now said by these values.
        """
        fields = self.model_dump() | self._kind.fields_for(self, values)
        still = tuple(name for name in self.assumed if fields[name] == getattr(self, name))
        return DrivePart(**{**fields, "assumed": still})

    @classmethod
    def _completed(cls, fields):
        """What the kind does not use is not one of the things assumed unless it was named."""
        filled, asked = super()._completed(fields), cls.asked(fields)
        if not asked or not isinstance(filled["assumed"], tuple):
            return filled
        named = fields.get("assumed", ())
        return filled | {"assumed": tuple(name for name in filled["assumed"] if name in named or name in asked)}
