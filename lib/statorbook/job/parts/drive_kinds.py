"""The kinds of drive: which fields of a job's drive each one uses and needs, and the drive that they make."""

from dataclasses import dataclass

from statorbook.cautions import Exposure, Instruction
from statorbook.errors import BadInput

RUNNING, PIPE, TWO_GAUGES = "gauge at the running nozzle", "drop and pipe", "gauge shut and running"
HEAD_FROM = (RUNNING, PIPE, TWO_GAUGES)
_HEAD_FIELDS = {
    RUNNING: ("head_m",),
    PIPE: (
        "gross_head_m",
        "pipe_length_m",
        "pipe_bore_mm",
        "pipe_material",
        "pipe_bends",
        "pipe_valve",
        "pipe_strainer",
    ),
    TWO_GAUGES: ("gross_head_m", "head_m", "gauge_nozzle_mm"),
}
_HEAD_NEEDS = {
    RUNNING: ("head_m",),
    PIPE: ("gross_head_m", "pipe_length_m", "pipe_bore_mm", "pipe_material"),
    TWO_GAUGES: ("gross_head_m", "head_m"),
}
_EVERY_DRIVE = ("drag_nm", "drag_nm_per_1000rpm", "start_nm")
_WHEEL = (
    "nozzle_mm",
    "largest_nozzle_mm",
    "flow_l_s",
    "bucket_l",
    "bucket_s",
    "jets",
    "pitch_diameter_mm",
    "bucket_width_mm",
    "efficiency",
    "runaway_ratio",
)


@dataclass(frozen=True, kw_only=True)
class Kind:
    """What one kind of drive asks for.

    Parameters
    ----------
    needs : tuple of str
        Fields that must be given.
    asks : tuple of str
        All fields that play a part, in the order of the form.
    """

    needs: tuple
    asks: tuple


def kind_of(part):
    """The fields of the kind of drive that a part describes.

    Parameters
    ----------
    part : object
        Anything with the attributes kind and head_from.

    Returns
    -------
    Kind
        Fields needed and asked for.
    """
    if part.kind == "water jet":
        head = part.head_from if part.head_from in HEAD_FROM else RUNNING
        return Kind(
            needs=(*_HEAD_NEEDS[head], "pitch_diameter_mm"),
            asks=("head_from", *_HEAD_FIELDS[head], *_WHEEL, *_EVERY_DRIVE),
        )
    needs, asks = _OTHERS[part.kind]
    return Kind(needs=needs, asks=(*asks, *_EVERY_DRIVE))


_OTHERS = {
    "known speed": (("speed_rpm",), ("speed_rpm", "runaway_ratio")),
    "wind rotor": (
        ("rotor_diameter_m", "wind_m_s"),
        (
            "rotor_diameter_m",
            "wind_m_s",
            "wind_height_m",
            "hub_height_m",
            "storm_m_s",
            "furls_from_m_s",
            "brake_from_rpm",
            "gear_ratio",
            "power_coefficient",
            "tip_speed_ratio",
            "shear_exponent",
            "altitude_m",
            "air_c",
        ),
    ),
    "pedals": (
        ("gear_ratio",),
        (
            "rider_watts",
            "ride_hours",
            "cadence_rpm",
            "gear_ratio",
            "chain_efficiency",
            "crank_mm",
            "flywheel_kg",
            "flywheel_diameter_mm",
        ),
    ),
    "engine": (
        ("rated_watts", "engine_rpm"),
        (
            "rated_watts",
            "engine_rpm",
            "pulley_ratio",
            "engine_pulley_mm",
            "generator_pulley_mm",
            "droop",
            "belt_efficiency",
            "overspeed_ratio",
        ),
    ),
}
KINDS = ("water jet", *(kind for kind in _OTHERS if kind != "known speed"), "known speed")


def drive_of(part):
    """The drive that a part describes, for the physics.

    Parameters
    ----------
    part : DrivePart
        Complete for its kind.

    Returns
    -------
    Drive
        What turns it.

    Raises
    ------
    BadInput
        When the drive refuses a number, or one of two ways to say the same is missing or given twice.
    """
    return _MAKERS[part.kind](part)


def _known_speed(part):
    from statorbook.drives import KnownSpeed

    return KnownSpeed(working_rpm=part.speed_rpm, runaway_ratio=part.runaway_ratio)


def _water_jet(part):
    from statorbook.drives import WaterJet

    flow = _flow_l_s(part)
    if part.nozzle_mm is None and flow is None:
        raise BadInput(
            "neither was given but a water jet needs one",
            "a bore, a flow, or a bucket with its seconds is allowed",
            Instruction("measure the bore, or time the filling of a bucket", (Exposure.WATER, Exposure.PRESSURE)),
            where="Nozzle bore or Flow",
        )
    wheel = {
        "pitch_diameter_mm": part.pitch_diameter_mm,
        "jets": part.jets,
        "efficiency": part.efficiency,
        "runaway_ratio": part.runaway_ratio,
        "largest_nozzle_mm": part.largest_nozzle_mm,
    }
    if part.head_from == RUNNING:
        drive = WaterJet(head_m=part.head_m, nozzle_mm=part.nozzle_mm, flow_l_s=flow, **wheel)
    else:
        drive = _piped_jet(part, flow, wheel)
    if part.bucket_width_mm is not None:
        from statorbook.drives import require_bucket_width

        require_bucket_width(drive.jet_mm, part.bucket_width_mm)
    return drive


def _flow_l_s(part):
    """The flow as given, or from the bucket; half a bucket reading is refused."""
    if (part.bucket_l is None) != (part.bucket_s is None):
        raise BadInput(
            "only one of the bucket and its seconds was given",
            "both or neither are allowed",
            "type the bucket's litres and the seconds that it takes to fill",
            where="Bucket",
        )
    if part.bucket_l is None:
        return part.flow_l_s
    if part.flow_l_s is not None:
        raise BadInput(
            "the flow and a timed bucket were given", "one of the two is allowed", "empty the other", where="Flow"
        )
    return part.bucket_l / part.bucket_s


def _piped_jet(part, flow_l_s, wheel):
    from statorbook.drives import MeasuredLoss, Pipe, PipedJet

    if part.head_from == PIPE:
        pipe = Pipe(
            length_m=part.pipe_length_m,
            bore_mm=part.pipe_bore_mm,
            material=part.pipe_material,
            bends=part.pipe_bends,
            valve=part.pipe_valve,
            strainer=part.pipe_strainer,
        )
    else:
        pipe = MeasuredLoss(
            static_m=part.gross_head_m, running_m=part.head_m, flow_l_s=_flow_at_gauge_l_s(part, flow_l_s)
        )
    source = {"gross_head_m": part.gross_head_m, "pipe": pipe, **wheel}
    return PipedJet(**source, nozzle_mm=part.nozzle_mm, flow_l_s=flow_l_s)


def _flow_at_gauge_l_s(part, flow_l_s):
    """Flow while the running gauge was read: of the nozzle that ran then, else the measured one."""
    from statorbook.drives import WaterJet

    nozzle = part.nozzle_mm if part.gauge_nozzle_mm is None else part.gauge_nozzle_mm
    if nozzle is None:
        return flow_l_s
    wheel = {"jets": part.jets, "pitch_diameter_mm": part.pitch_diameter_mm}
    return WaterJet(head_m=part.head_m, nozzle_mm=nozzle, **wheel).total_flow_l_s


def _wind_rotor(part):
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


def _pedals(part):
    from statorbook.drives import Pedals, sustained_watts

    if (part.rider_watts is None) == (part.ride_hours is None):
        raise BadInput(
            "both or neither of the rider's watts and the hours were given",
            "exactly one of the two is allowed",
            "type the watts if you know them, else the hours that one rider keeps going",
            where="Rider's watts",
        )
    flywheel = {
        name: getattr(part, name) for name in ("flywheel_kg", "flywheel_diameter_mm") if getattr(part, name) is not None
    }
    return Pedals(
        rider_watts=sustained_watts(part.ride_hours) if part.rider_watts is None else part.rider_watts,
        cadence_rpm=part.cadence_rpm,
        gear_ratio=part.gear_ratio,
        chain_efficiency=part.chain_efficiency,
        crank_mm=part.crank_mm,
        **flywheel,
    )


def _engine(part):
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


_MAKERS = {"known speed": _known_speed, "water jet": _water_jet, "wind rotor": _wind_rotor, "pedals": _pedals,
           "engine": _engine}  # fmt: skip
