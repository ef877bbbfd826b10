"""The drive of a job: what turns the machine, and what it takes to turn it unloaded."""

from typing import ClassVar, Literal

from pydantic import model_validator

from statorbook.cautions import PIPED, SPUN, Exposure
from statorbook.drives import MATERIALS, POWER_COEFFICIENT, SHEAR_EXPONENT, STORM_M_S, TIP_SPEED_RATIO, VALVES
from statorbook.errors import BadInput
from statorbook.job.parts.base import AssumingPart
from statorbook.job.parts.drive_kinds import HEAD_FROM, KINDS, PIPE, RUNNING, TWO_GAUGES, drive_of, kind_of
from statorbook.job.parts.fields import BadField, field_facts, labelled
from statorbook.quantities import BRAKE_OVERSHOOT, FURLING_OVERSHOOT

# What a drive complains of, and the field where the reader mends it; any other is looked up by the field's title.
_DRIVE_FIELDS = {
    "nozzle or flow": "nozzle_mm",
    "Nozzle bore or Flow": "nozzle_mm",
    "runner and jet": "pitch_diameter_mm",
    "Bucket": "bucket_s",
    "Flow": "flow_l_s",
    "Pulley ratio": "pulley_ratio",
    "Rider's watts": "rider_watts",
    "furling wind": "furls_from_m_s",
    "brake speed": "brake_from_rpm",
}
# A slider of chapter 04 and the fields that say the same in another way, which it replaces.
_SAME_AS = {
    "nozzle_mm": ("flow_l_s", "bucket_l", "bucket_s"),
    "rider_watts": ("ride_hours",),
    "pulley_ratio": ("engine_pulley_mm", "generator_pulley_mm"),
}
_RENAMED = {"working_rpm": "speed_rpm"}
# What getting a value exposes hands to.
_PIPE, _JET = PIPED, (Exposure.WATER,)
_RUNNER, _TOWER = (Exposure.WATER, Exposure.TURNING), (Exposure.HEIGHT,)
_CHAIN, _ENGINE = (Exposure.CHAIN,), (Exposure.ENGINE,)
_LEVER, _SPUN, _MAGNETS = (Exposure.LEVER, Exposure.VOLTS), SPUN, (Exposure.MAGNETS,)


class DrivePart(AssumingPart):
    """What turns the machine; fields of the kind not chosen may stay filled in and are not used."""

    part_title: ClassVar[str] = "drive"
    kind: Literal[KINDS] = labelled("Kind of drive", "", "What turns the rotor.")

    # fmt: off
    # Water
    head_from: Literal[HEAD_FROM] = labelled("Head known from", "",
        "A gauge beside the nozzle while water flows; or the drop and the pipe; or that gauge with the valve shut and "
        "then running.", default=RUNNING)
    gross_head_m: float | None = labelled("Static head", "m",
        "Gauge with the valve shut, or the surveyed drop from intake to nozzle.", default=None, gt=0, le=1000,
        next_step="read the gauge with the valve shut; 1 bar is 10.2 m", exposes=_PIPE)
    head_m: float | None = labelled("Net head", "m", "Pressure at the nozzle while it runs, as metres of water.",
        default=None, gt=0, le=1000, exposes=_PIPE,
        next_step="read the pressure at the running nozzle; 1 bar is 10.2 m")
    pipe_length_m: float | None = labelled("Pipe length", "m", "From the intake to the nozzle.", default=None, gt=0,
        le=20_000, next_step="pace or measure the pipe again")
    pipe_bore_mm: float | None = labelled("Pipe bore", "mm", "Inside the pipe, not outside.", default=None, gt=3,
        le=1000, next_step="measure the bore of a cut end", exposes=_PIPE)
    pipe_material: Literal[tuple(MATERIALS)] | None = (
        labelled("Pipe material", "", "What the pipe is made of decides how rough it is.", default=None))
    pipe_bends: int = labelled("Bends of 90°", "count", "Elbows; two of 45° count as one.", default=0, ge=0, le=200,
        next_step="walk along the pipe and count again")
    pipe_valve: Literal[VALVES] = labelled("Valve in the pipe", "", "Fully open.",
        default="none")
    pipe_strainer: bool = labelled("Strainer at the intake", "", "A basket or screen that keeps leaves out.",
        default=False)
    nozzle_mm: float | None = labelled("Nozzle bore", "mm", "Bore of one nozzle; leave empty when the flow is given.",
        default=None, gt=0, le=500, next_step="measure the bore again", exposes=_PIPE)
    largest_nozzle_mm: float | None = labelled("Largest nozzle bore", "mm",
        "The largest that you may ever fit; wires and fuse are sized for it. Empty when it is the one that runs.",
        default=None, gt=0, le=500, next_step="measure it, or leave it empty", exposes=_JET)
    gauge_nozzle_mm: float | None = labelled("Nozzle bore at the running gauge", "mm",
        "Of the nozzle that ran when the gauge was read; empty when it is the one above.", default=None, gt=0, le=500,
        next_step="measure that bore, or leave it empty", exposes=_PIPE)
    flow_l_s: float | None = labelled("Flow", "L/s", "Of all nozzles together; leave empty when the bore is given.",
        default=None, gt=0, le=1000, next_step="time the filling of a bucket again", exposes=_JET)
    bucket_l: float | None = labelled("Bucket", "L", "Instead of the flow: a bucket under all nozzles.", default=None,
        gt=0, le=10_000, next_step="read how much the bucket holds", exposes=_JET)
    bucket_s: float | None = labelled("Time to fill it", "s", "Of that bucket.", default=None, gt=0, le=3600,
        next_step="time it again", exposes=_JET)
    jets: int = labelled("Jets", "count", "Nozzles on the runner.", default=1, ge=1, le=6,
        next_step="count the nozzles")
    pitch_diameter_mm: float | None = labelled("Pitch diameter", "mm", "Circle on the runner that the jet touches.",
        default=None, gt=0, le=5000, next_step="measure the runner again", exposes=_RUNNER)
    bucket_width_mm: float | None = labelled("Bucket width", "mm", "Across one bucket; leave empty when not measured.",
        default=None, gt=0, le=2000, next_step="measure a bucket from edge to edge", exposes=_RUNNER)
    efficiency: float = labelled("Runner efficiency", "-", "Shaft power ÷ water power at the best speed.",
        default=0.7, assumed=True, gt=0, le=0.95, next_step="keep 0.7 unless you have measured it")

    # Wind
    rotor_diameter_m: float | None = labelled("Rotor diameter", "m", "From blade tip to blade tip.", default=None,
        ge=0.3, le=20, next_step="measure twice the length from the hub's middle to a tip", exposes=_TOWER)
    wind_m_s: float | None = labelled("Wind speed", "m/s", "The wind that you want to know about.", default=None, gt=0,
        le=40, next_step="read it from an anemometer or a weather record")
    wind_height_m: float = labelled("Height of that wind reading", "m", "Weather records are made at 10 m.",
        default=10.0, assumed=True, ge=1, le=200, next_step="ask at what height it was read")
    hub_height_m: float | None = labelled("Hub height", "m", "Above ground; empty when the wind was read there.",
        default=None, ge=1, le=200, next_step="measure the tower", exposes=_TOWER)
    storm_m_s: float = labelled("Strongest gust of wind", "m/s", "At the same height as the wind reading.",
        default=STORM_M_S.value, assumed=True, ge=10, le=90,
        next_step="ask the weather service for the gust of 50 years")
    furls_from_m_s: float | None = labelled("Furls from a wind of", "m/s",
        "At the hub: the wind from which a tail or a hinge turns the rotor away by itself. Empty when nothing does.",
        default=None, ge=3, le=40, exposes=_TOWER,
        next_step="watch it beside an anemometer, or leave it empty when nothing furls")
    brake_from_rpm: float | None = labelled("Brake grips from", "rpm",
        "Rotor speed from which a brake on the shaft grips by itself. Empty without one; a brake pulled by hand or "
        "joined leads do not count.", default=None, gt=0, le=20_000,
        next_step="take it from the brake's maker, or leave it empty when nothing grips by itself")
    power_coefficient: float = labelled("Power coefficient", "-", "Shaft power ÷ wind power at the best speed.",
        default=POWER_COEFFICIENT.value, assumed=True, gt=0.02, le=0.59,
        next_step="keep 0.35 unless you have measured it")
    tip_speed_ratio: float = labelled("Best tip speed ratio", "-",
        "Tip speed ÷ wind at the best speed; 5 to 7 for three slim blades, 1 to 2 for many wide ones.",
        default=TIP_SPEED_RATIO.value, assumed=True, ge=0.8, le=12, next_step="keep 6 for three slim blades")
    shear_exponent: float = labelled("Wind shear exponent", "-", "How the wind grows with height; 0.14 over grass.",
        default=SHEAR_EXPONENT.value, assumed=True, ge=0, le=0.5,
        next_step="keep 0.14 over open ground, 0.25 among trees")
    altitude_m: float = labelled("Altitude", "m", "Above the sea; air thins with height.", default=0.0, assumed=True,
        ge=-400, le=6000, next_step="read it from a map")
    air_c: float = labelled("Air temperature", "°C", "At the rotor.", default=15.0, assumed=True, ge=-50, le=60)

    # Pedals, and the gear of a wind rotor
    rider_watts: float | None = labelled("Rider's watts", "W",
        "What the rider keeps up at the pedals; leave empty when the hours are given.", default=None, gt=0, le=1500,
        next_step="100 W is what a healthy adult keeps up for an hour")
    ride_hours: float | None = labelled("Hours at a stretch", "h",
        "Instead of the watts: how long one rider keeps going.", default=None, gt=0, le=8,
        next_step="type the hours, at most 8")
    cadence_rpm: float = labelled("Cadence", "rpm", "Turns of the crank that feel easy.", default=70.0, assumed=True,
        ge=20, le=150, next_step="count the turns of one foot in a minute", exposes=_CHAIN)
    gear_ratio: float | None = labelled("Gear", "-",
        "Turns of the generator per turn of crank or rotor; empty for a wind rotor on the shaft itself.", default=None,
        gt=0, le=100, next_step="divide the teeth of the driving wheel by those of the driven one", exposes=_CHAIN)
    chain_efficiency: float = labelled("Chain or belt efficiency", "-",
        "Power at the generator ÷ power of the legs.", default=0.95, assumed=True, gt=0.3, le=1,
        next_step="keep 0.95 for a chain, 0.85 for a roller on a tyre")
    crank_mm: float = labelled("Crank length", "mm", "From the axle to the pedal's axle.", default=170.0, assumed=True,
        ge=50, le=300)
    flywheel_kg: float | None = labelled("Flywheel mass", "kg", "Of a wheel on the generator's shaft; empty without.",
        default=None, gt=0, le=500, next_step="weigh it again", exposes=_CHAIN)
    flywheel_diameter_mm: float | None = labelled("Flywheel diameter", "mm", "Outside; empty without.", default=None,
        gt=0, le=3000, next_step="measure it again")

    # Engine
    rated_watts: float | None = labelled("Rated power of the engine", "W", "At the governed speed, from its plate.",
        default=None, gt=0, le=50_000, next_step="read the plate; 1 hp is 746 W")
    engine_rpm: float | None = labelled("Governed speed", "rpm", "Of the engine at full load.", default=None, gt=0,
        le=20_000, next_step="read the plate or measure it", exposes=_ENGINE)
    pulley_ratio: float | None = labelled("Pulley ratio", "-",
        "Turns of the generator per turn of the engine; leave empty when both pulleys are given.", default=None, gt=0,
        le=50, next_step="divide the engine's pulley by the generator's pulley", exposes=_ENGINE)
    engine_pulley_mm: float | None = labelled("Engine pulley", "mm", "Where the belt runs.", default=None, gt=0,
        le=2000, next_step="measure it again", exposes=_ENGINE)
    generator_pulley_mm: float | None = labelled("Generator pulley", "mm", "Where the belt runs.", default=None, gt=0,
        le=2000, next_step="measure it again", exposes=_ENGINE)
    droop: float = labelled("Droop", "-", "Speed gained from full load to no load ÷ governed speed.",
        default=0.05, assumed=True, gt=0, le=0.3, next_step="measure both speeds", exposes=_ENGINE)
    belt_efficiency: float = labelled("Belt efficiency", "-", "Power at the generator ÷ power of the engine.",
        default=0.93, assumed=True, gt=0.3, le=1)
    overspeed_ratio: float = labelled("Overspeed ratio", "-", "Speed with a stuck governor ÷ no-load speed.",
        default=1.2, assumed=True, ge=1, le=3, next_step="keep 1.2 unless the maker says otherwise")

    # Known speed, and what every drive needs
    speed_rpm: float | None = labelled("Working speed", "rpm", "Rotor speed under load, for a known speed.",
        default=None, gt=0, le=20_000, next_step="measure the speed again", exposes=_SPUN)
    runaway_ratio: float = labelled("Runaway ratio", "-", "Speed with the load gone ÷ speed under load.",
        default=1.8, assumed=True, ge=1, le=5, next_step="keep 1.8 unless you have measured it")
    drag_nm: float = labelled("Drag", "N·m", "Torque that keeps the unloaded rotor turning: bearings, seals, iron.",
        default=0.3, assumed=True, ge=0, le=50, next_step="measure the pull on a known lever again", exposes=_LEVER)
    drag_nm_per_1000rpm: float = labelled("Rise of the drag", "N·m",
        "More torque for each 1000 rpm; a coast-down shows it.", default=0.0, ge=0, le=50,
        next_step="take it from a coast-down, or leave 0", exposes=_SPUN)
    start_nm: float | None = labelled("Pull that starts it", "N·m",
        "Torque at which the standing rotor starts to turn, at its stiffest spot; empty: twice the drag is assumed.",
        default=None, ge=0, le=200, exposes=_LEVER,
        next_step="hang a spring scale on a lever and note the highest pull")
    rotor_kg: float | None = labelled("Rotor mass", "kg", "Magnet ring and what turns with it, for the coast-down.",
        default=None, gt=0, le=500, next_step="weigh it again", exposes=_MAGNETS)
    rotor_ring_mm: float | None = labelled("Rotor diameter, middle of the ring", "mm", "For the coast-down.",
        default=None, gt=10, le=3000, next_step="measure it again")
    # fmt: on

    @model_validator(mode="after")
    def _check(self):
        missing = [name for name in kind_of(self).needs if getattr(self, name) is None]
        if missing:
            facts = field_facts(type(self), missing[0])
            raise BadField(
                f"nothing was given but {_kind_in_words(self.kind)} needs it",
                facts.allowed,
                facts.next_step,
                where=facts.title,
                field=missing[0],
            )
        try:
            self.to_drive()
        except BadInput as refusal:
            raise BadField(
                refusal.given, refusal.allowed, refusal.next_step, where=refusal.where, field=_field_of(refusal.where)
            ) from None
        return self

    def to_drive(self):
        """The drive, for the physics.

        Returns
        -------
        Drive
            Of this kind.
        """
        return drive_of(self)

    @property
    def assumed_besides(self):
        """What is assumed though no field says so, in words, a tuple of str."""
        rider = self.kind == "pedals" and self.rider_watts is None
        wind = self.kind == "wind rotor"
        wall = self.kind == "water jet" and self.head_from == PIPE
        said = {
            "pull that starts it, twice the drag": self.start_nm is None,
            "rider's watts, from the hours of a healthy adult": rider,
            "roughness and wall of the pipe, from its material": wall,
            f"gusts of {FURLING_OVERSHOOT.value:g} times the wind that it furls from reach the blades": wind
            and self.furls_from_m_s is not None,
            f"the brake holds at {BRAKE_OVERSHOOT.value:g} times the speed that it grips from": wind
            and self.brake_from_rpm is not None,
        }
        return tuple(words for words, true in said.items() if true)

    @property
    def assumed_in_use(self):
        """Names of the assumed fields that this kind of drive uses, a tuple of str."""
        return tuple(name for name in self.assumed if name in kind_of(self).asks)

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
        return super().assumes(name) or untouched and name not in kind_of(self).asks

    def as_saved(self):
        """The fields as the job's file holds them; what only another kind of drive asks is left out unless given.

        Returns
        -------
        dict
            Plain values by field name.
        """
        asks = ("kind", "assumed", *kind_of(self).asks)
        defaults = {name: info.default for name, info in type(self).model_fields.items()}
        return {name: value for name, value in super().as_saved().items() if name in asks or value != defaults[name]}

    def with_quantities(self, values):
        """The part with some of its drive's quantities turned.

        Parameters
        ----------
        values : dict of str to float
            By the field of a `drives.quantity.Quantity`, in its unit [unit].

        Returns
        -------
        DrivePart
            A quantity that was said in another way before is now said by these values.
        """
        fields = self.model_dump() | self._gauge_reading(values)
        for name, value in values.items():
            fields[_RENAMED.get(name, name)] = value
            fields |= dict.fromkeys(_SAME_AS.get(name, ()))
        still = tuple(name for name in self.assumed if fields[name] == getattr(self, name))
        return DrivePart(**{**fields, "assumed": still})

    def _gauge_reading(self, values):
        """What keeps the loss that two gauge readings showed, when nozzle or static head are turned afterwards."""
        if self.kind != "water jet" or self.head_from != TWO_GAUGES:
            return {}
        kept = {"gauge_nozzle_mm": self.gauge_nozzle_mm or self.to_drive().jet_mm} if "nozzle_mm" in values else {}
        if "gross_head_m" in values:
            kept["head_m"] = self.head_m + values["gross_head_m"] - self.gross_head_m
        return kept

    @classmethod
    def _completed(cls, fields):
        """What the kind does not use is not one of the things assumed unless it was named."""
        filled = super()._completed(fields)
        if fields.get("kind") not in KINDS or not isinstance(filled["assumed"], tuple):
            return filled
        named = fields.get("assumed", ())
        asks = kind_of(cls.model_construct(kind=fields["kind"], head_from=fields.get("head_from", RUNNING))).asks
        return filled | {"assumed": tuple(name for name in filled["assumed"] if name in named or name in asks)}


def _kind_in_words(kind):
    return {"pedals": "a pedal drive", "engine": "an engine"}.get(kind, f"a {kind}")


def _field_of(where):
    """The field that a drive's complaint is about; empty when it is about several."""
    named = {name: field_facts(DrivePart, name).title.split(" [")[0].lower() for name in DrivePart.model_fields}
    return _DRIVE_FIELDS.get(where) or next((name for name, title in named.items() if title == where.lower()), "")
