"""A rider on pedals as a kind of drive."""

from statorbook.cautions import Exposure
from statorbook.errors import BadInput
from statorbook.job.parts.drive.kind import Kind
from statorbook.job.parts.fields import labelled

_CHAIN = (Exposure.CHAIN,)


class PedalsFields:
    """Rider, gear and flywheel; the gear is a wind rotor's too."""

    rider_watts: float | None = labelled(
        "Rider's watts",
        "W",
        "What the rider keeps up at the pedals; leave empty when the hours are given.",
        default=None,
        gt=0,
        le=1500,
        next_step="100 W is what a healthy adult keeps up for an hour",
    )
    ride_hours: float | None = labelled(
        "Hours at a stretch",
        "h",
        "Instead of the watts: how long one rider keeps going.",
        default=None,
        gt=0,
        le=8,
        next_step="type the hours, at most 8",
    )
    cadence_rpm: float = labelled(
        "Cadence",
        "rpm",
        "Turns of the crank that feel easy.",
        default=70.0,
        assumed=True,
        ge=20,
        le=150,
        next_step="count the turns of one foot in a minute",
        exposes=_CHAIN,
    )
    gear_ratio: float | None = labelled(
        "Gear",
        "-",
        "Turns of the generator per turn of crank or rotor; empty for a wind rotor on the shaft itself.",
        default=None,
        gt=0,
        le=100,
        next_step="divide the teeth of the driving wheel by those of the driven one",
        exposes=_CHAIN,
    )
    chain_efficiency: float = labelled(
        "Chain or belt efficiency",
        "-",
        "Power at the generator ÷ power of the legs.",
        default=0.95,
        assumed=True,
        gt=0.3,
        le=1,
        next_step="keep 0.95 for a chain, 0.85 for a roller on a tyre",
    )
    crank_mm: float = labelled(
        "Crank length", "mm", "From the axle to the pedal's axle.", default=170.0, assumed=True, ge=50, le=300
    )
    flywheel_kg: float | None = labelled(
        "Flywheel mass",
        "kg",
        "Of a wheel on the generator's shaft; empty without.",
        default=None,
        gt=0,
        le=500,
        next_step="weigh it again",
        exposes=_CHAIN,
    )
    flywheel_diameter_mm: float | None = labelled(
        "Flywheel diameter", "mm", "Outside; empty without.", default=None, gt=0, le=3000, next_step="measure it again"
    )


class PedalsKind(Kind):
    """Legs, a chain or belt, and a flywheel when there is one."""

    name, noun, fields = "pedals", "a pedal drive", PedalsFields
    needed = ("gear_ratio",)
    first_too = ("rider_watts", "ride_hours")
    said_too_by = {"rider_watts": ("ride_hours",)}

    def to_drive(self, part):
        """`Pedals`, the rider's watts from the hours when those are given instead."""
        from statorbook.drives import Pedals, sustained_watts

        if (part.rider_watts is None) == (part.ride_hours is None):
            raise BadInput(
                "both or neither of the rider's watts and the hours were given",
                "exactly one of the two is allowed",
                "type the watts if you know them, else the hours that one rider keeps going",
                where="Rider's watts",
            )
        return Pedals(
            rider_watts=sustained_watts(part.ride_hours) if part.rider_watts is None else part.rider_watts,
            cadence_rpm=part.cadence_rpm,
            gear_ratio=part.gear_ratio,
            chain_efficiency=part.chain_efficiency,
            crank_mm=part.crank_mm,
            flywheel_kg=part.flywheel_kg or 0.0,
            flywheel_diameter_mm=part.flywheel_diameter_mm or 0.0,
        )

    def assumed_besides(self, part):
        """What legs keep up."""
        return (("rider's watts, from the hours of a healthy adult", part.rider_watts is None),)
