"""A known speed as a kind of drive."""

from statorbook.cautions import SPUN
from statorbook.job.parts.drive.kind import Kind
from statorbook.job.parts.fields import labelled


class KnownSpeedFields:
    """Speed with the load on and with the load gone; the ratio of both is a water jet's too."""

    speed_rpm: float | None = labelled(
        "Working speed",
        "rpm",
        "Rotor speed under load, for a known speed.",
        default=None,
        gt=0,
        le=20_000,
        next_step="measure the speed again",
        exposes=SPUN,
    )
    runaway_ratio: float = labelled(
        "Runaway ratio",
        "-",
        "Speed with the load gone ÷ speed under load.",
        default=1.8,
        assumed=True,
        ge=1,
        le=5,
        next_step="keep 1.8 unless you have measured it",
    )


class KnownSpeedKind(Kind):
    """A speed that holds whatever the load."""

    name, noun, fields = "known speed", "a known speed", KnownSpeedFields
    needed = ("speed_rpm",)

    def to_drive(self, part):
        """A `KnownSpeed`."""
        from statorbook.drives import KnownSpeed

        return KnownSpeed(working_rpm=part.speed_rpm, runaway_ratio=part.runaway_ratio)

    def fields_for(self, part, values):
        """Its speed under the name that the job's file has for it."""
        return {"speed_rpm": values["working_rpm"]} if values else {}
