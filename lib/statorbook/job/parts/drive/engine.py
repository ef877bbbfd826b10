"""A small engine as a kind of drive."""

from statorbook.cautions import Exposure
from statorbook.errors import BadInput
from statorbook.job.parts.drive.kind import Kind
from statorbook.job.parts.fields import labelled

_ENGINE = (Exposure.ENGINE,)


class EngineFields:
    """Plate, governor and belt."""

    rated_watts: float | None = labelled(
        "Rated power of the engine",
        "W",
        "At the governed speed, from its plate.",
        default=None,
        gt=0,
        le=50_000,
        next_step="read the plate; 1 hp is 746 W",
    )
    engine_rpm: float | None = labelled(
        "Governed speed",
        "rpm",
        "Of the engine at full load.",
        default=None,
        gt=0,
        le=20_000,
        next_step="read the plate or measure it",
        exposes=_ENGINE,
    )
    pulley_ratio: float | None = labelled(
        "Pulley ratio",
        "-",
        "Turns of the generator per turn of the engine; leave empty when both pulleys are given.",
        default=None,
        gt=0,
        le=50,
        next_step="divide the engine's pulley by the generator's pulley",
        exposes=_ENGINE,
    )
    engine_pulley_mm: float | None = labelled(
        "Engine pulley",
        "mm",
        "Where the belt runs.",
        default=None,
        gt=0,
        le=2000,
        next_step="measure it again",
        exposes=_ENGINE,
    )
    generator_pulley_mm: float | None = labelled(
        "Generator pulley",
        "mm",
        "Where the belt runs.",
        default=None,
        gt=0,
        le=2000,
        next_step="measure it again",
        exposes=_ENGINE,
    )
    droop: float = labelled(
        "Droop",
        "-",
        "Speed gained from full load to no load ÷ governed speed.",
        default=0.05,
        assumed=True,
        gt=0,
        le=0.3,
        next_step="measure both speeds",
        exposes=_ENGINE,
    )
    belt_efficiency: float = labelled(
        "Belt efficiency",
        "-",
        "Power at the generator ÷ power of the engine.",
        default=0.93,
        assumed=True,
        gt=0.3,
        le=1,
    )
    overspeed_ratio: float = labelled(
        "Overspeed ratio",
        "-",
        "Speed with a stuck governor ÷ no-load speed.",
        default=1.2,
        assumed=True,
        ge=1,
        le=3,
        next_step="keep 1.2 unless the maker says otherwise",
    )


class EngineKind(Kind):
    """An engine with a governor, which drives the generator by a belt."""

    name, noun, fields = "engine", "an engine", EngineFields
    needed = ("rated_watts", "engine_rpm")
    first_too = ("pulley_ratio",)
    said_too_by = {"pulley_ratio": ("engine_pulley_mm", "generator_pulley_mm")}

    def to_drive(self, part):
        """An `Engine`, its ratio from both pulleys when those are given instead."""
        from statorbook.drives import Engine, ratio_of_pulleys

        pulleys = (part.engine_pulley_mm, part.generator_pulley_mm)
        if (part.pulley_ratio is None) == (None in pulleys):
            raise BadInput(
                "both or neither of the pulley ratio and the two pulleys were given",
                "exactly one way is allowed",
                "type the ratio, or the diameters of both pulleys and leave the ratio empty",
                where="Pulley ratio",
            )
        return Engine(
            rated_watts=part.rated_watts,
            engine_rpm=part.engine_rpm,
            pulley_ratio=ratio_of_pulleys(*pulleys) if part.pulley_ratio is None else part.pulley_ratio,
            droop=part.droop,
            belt_efficiency=part.belt_efficiency,
            overspeed_ratio=part.overspeed_ratio,
        )

    def cautions(self, part, drive):
        """A belt that runs too fast, where its pulley is known."""
        from statorbook.drives import belt_caution

        fastest_rpm = drive.runaway_speed_rpm / drive.pulley_ratio
        pulley_mm = part.engine_pulley_mm
        return ("" if pulley_mm is None else belt_caution(pulley_mm, fastest_rpm),)
