"""A wind rotor as a kind of drive."""

from statorbook.cautions import Exposure
from statorbook.drives import POWER_COEFFICIENT, SHEAR_EXPONENT, STORM_M_S, TIP_SPEED_RATIO
from statorbook.job.parts.drive.kind import Kind
from statorbook.job.parts.fields import labelled
from statorbook.quantities import BRAKE_OVERSHOOT, FURLING_OVERSHOOT

_TOWER = (Exposure.HEIGHT,)
_ASK_FOR_GUARD = (
    "What turns this rotor out of the wind, or brakes it, by itself? Fill in “Furls from a wind of” or “Brake grips "
    "from”: until then speed and volts with the load gone are those of the strongest gust."
)


class WindRotorFields:
    """Wind, blades, guard and air."""

    rotor_diameter_m: float | None = labelled(
        "Rotor diameter",
        "m",
        "From blade tip to blade tip.",
        default=None,
        ge=0.3,
        le=20,
        next_step="measure twice the length from the hub's middle to a tip",
        exposes=_TOWER,
    )
    wind_m_s: float | None = labelled(
        "Wind speed",
        "m/s",
        "The wind that you want to know about.",
        default=None,
        gt=0,
        le=40,
        next_step="read it from an anemometer or a weather record",
    )
    wind_height_m: float = labelled(
        "Height of that wind reading",
        "m",
        "Weather records are made at {10 m}.",
        default=10.0,
        assumed=True,
        ge=1,
        le=200,
        next_step="ask at what height it was read",
    )
    hub_height_m: float | None = labelled(
        "Hub height",
        "m",
        "Above ground; empty when the wind was read there.",
        default=None,
        ge=1,
        le=200,
        next_step="measure the tower",
        exposes=_TOWER,
    )
    storm_m_s: float = labelled(
        "Strongest gust of wind",
        "m/s",
        "At the same height as the wind reading.",
        default=STORM_M_S.value,
        assumed=True,
        ge=10,
        le=90,
        next_step="ask the weather service for the gust of 50 years",
    )
    furls_from_m_s: float | None = labelled(
        "Furls from a wind of",
        "m/s",
        "At the hub: the wind from which a tail or a hinge turns the rotor away by itself. Empty when nothing does.",
        default=None,
        ge=3,
        le=40,
        exposes=_TOWER,
        next_step="watch it beside an anemometer, or leave it empty when nothing furls",
    )
    brake_from_rpm: float | None = labelled(
        "Brake grips from",
        "rpm",
        "Rotor speed from which a brake on the shaft grips by itself. Empty without one; a brake pulled by hand or "
        "joined leads do not count.",
        default=None,
        gt=0,
        le=20_000,
        next_step="take it from the brake's maker, or leave it empty when nothing grips by itself",
    )
    power_coefficient: float = labelled(
        "Power coefficient",
        "-",
        "Shaft power ÷ wind power at the best speed.",
        default=POWER_COEFFICIENT.value,
        assumed=True,
        gt=0.02,
        le=0.59,
        next_step="keep 0.35 unless you have measured it",
    )
    tip_speed_ratio: float = labelled(
        "Best tip speed ratio",
        "-",
        "Tip speed ÷ wind at the best speed; 5 to 7 for three slim blades, 1 to 2 for many wide ones.",
        default=TIP_SPEED_RATIO.value,
        assumed=True,
        ge=0.8,
        le=12,
        next_step="keep 6 for three slim blades",
    )
    shear_exponent: float = labelled(
        "Wind shear exponent",
        "-",
        "How the wind grows with height; 0.14 over grass.",
        default=SHEAR_EXPONENT.value,
        assumed=True,
        ge=0,
        le=0.5,
        next_step="keep 0.14 over open ground, 0.25 among trees",
    )
    altitude_m: float = labelled(
        "Altitude",
        "m",
        "Above the sea; air thins with height.",
        default=0.0,
        assumed=True,
        ge=-400,
        le=6000,
        next_step="read it from a map",
    )
    air_c: float = labelled("Air temperature", "°C", "At the rotor.", default=15.0, assumed=True, ge=-50, le=60)


class WindRotorKind(Kind):
    """A rotor with fixed blades, on the generator's shaft or geared to it."""

    name, noun, fields = "wind rotor", "a wind rotor", WindRotorFields
    needed = ("rotor_diameter_m", "wind_m_s")
    first_too = ("furls_from_m_s", "brake_from_rpm")
    borrowed = ("gear_ratio",)
    mended_in = {"furling wind": "furls_from_m_s", "brake speed": "brake_from_rpm"}

    def to_drive(self, part):
        """A `WindRotor`; its hub stands where the wind was read, and it has no gear, unless that was given."""
        from statorbook.drives import WindRotor, air_kg_per_m3

        return WindRotor(
            rotor_diameter_m=part.rotor_diameter_m,
            wind_m_s=part.wind_m_s,
            wind_height_m=part.wind_height_m,
            hub_height_m=part.wind_height_m if part.hub_height_m is None else part.hub_height_m,
            air_kg_m3=air_kg_per_m3(part.altitude_m, part.air_c),
            power_coefficient=part.power_coefficient,
            tip_speed_ratio=part.tip_speed_ratio,
            shear_exponent=part.shear_exponent,
            storm_m_s=part.storm_m_s,
            furls_from_m_s=part.furls_from_m_s,
            brake_from_rpm=part.brake_from_rpm,
            gear_ratio=1.0 if part.gear_ratio is None else part.gear_ratio,
        )

    def cautions(self, part, drive):
        """A guard that is not given, and tips that are too fast."""
        from statorbook.drives import tip_caution

        return ("" if drive.guard_words else _ASK_FOR_GUARD, tip_caution(drive))

    def assumed_besides(self, part):
        """How far its guard lets it overshoot."""
        gusts = f"gusts of {FURLING_OVERSHOOT.value:g} times the wind that it furls from reach the blades"
        brake = f"the brake holds at {BRAKE_OVERSHOOT.value:g} times the speed that it grips from"
        return ((gusts, part.furls_from_m_s is not None), (brake, part.brake_from_rpm is not None))
