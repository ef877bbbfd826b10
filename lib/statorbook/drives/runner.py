"""The bucket runner: what Euler's equation says of it, how large it should be, and where the water goes."""

from dataclasses import dataclass
from math import cos, pi, radians

from statorbook.drives.water_jet import LEAST_DIAMETER_RATIO, MOST_DIAMETER_RATIO
from statorbook.errors import BadInput
from statorbook.quantities import GRAVITY_M_PER_S2, WATER_KG_PER_M3, Fact, require_number, say

BUCKET_WIDTH_JETS = Fact(
    value=3.0, unit="jet diameters", source="bucket runners, handbooks of hydraulics (from memory)", low=2.8, high=3.6
)
BUCKET_TURN_DEG = Fact(
    value=165.0, unit="°", source="bucket runners, textbooks of turbomachines (from memory)", low=150, high=172
)
TAIL_AIR_SHARE = Fact(
    value=2.0,
    unit="opening over depth of the water",
    source="half for air and splash; common practice, no source",
    low=1.5,
    high=4,
)


def euler_efficiency(speed_ratio, bucket_angle_deg=BUCKET_TURN_DEG.value, kept_share=1.0):
    """Share of the jet's power that the buckets take, without windage, at bucket over jet speed from 0 to 1 [-]."""
    # η = 2 ν (1 − ν) (1 + k cos β'), β' = 180° − turning angle, k the speed of the water along the bucket on leaving
    # it over that on entering, 1 without friction: Euler's turbine equation, any text on turbomachines.
    return 2.0 * speed_ratio * (1.0 - speed_ratio) * _turning(bucket_angle_deg, kept_share)


def euler_torque_nm(
    flow_l_s, jet_m_s, bucket_m_s, pitch_diameter_mm, bucket_angle_deg=BUCKET_TURN_DEG.value, kept_share=1.0
):
    """Torque of a jet on buckets that run before it, bearings and air left out [N·m]."""
    # T = ρ Q (V − U) (1 + k cos β') D / 2: Euler's turbine equation, any text on turbomachines.
    push_n = WATER_KG_PER_M3.value * flow_l_s / 1000.0 * (jet_m_s - bucket_m_s) * _turning(bucket_angle_deg, kept_share)
    return push_n * pitch_diameter_mm / 2000.0


def _turning(bucket_angle_deg, kept_share):
    require_number(bucket_angle_deg, "turning angle of the bucket", "°", at_least=90, at_most=180)
    require_number(kept_share, "speed kept in the bucket", "", above=0, at_most=1)
    return 1.0 - kept_share * cos(radians(bucket_angle_deg))


def pitch_diameter_for_speed_mm(jet, speed_rpm):
    """The runner whose best speed is the one that the generator wants.

    Parameters
    ----------
    jet : WaterJet or PipedJet
        Head and nozzle; its own runner is not used.
    speed_rpm : float
        Speed wanted under load [rpm].

    Returns
    -------
    float
        Pitch diameter [mm].

    Raises
    ------
    BadInput
        When the runner would be under 5 or over 60 jet diameters.

    Notes
    -----
    Equation: D = 60 × speed ratio × V / (π n).
    Valid: generator on the runner's own shaft; D from 5 to 60 jet diameters.
    Source: definition of the speed ratio; limits of `WaterJet`.
    Derivation: `drives.best_jet_speed`.
    """
    require_number(speed_rpm, "wanted speed", "rpm", above=0)
    bucket_mm_per_minute = 60_000.0 * jet.speed_ratio * jet.jet_m_s / pi
    diameter = bucket_mm_per_minute / speed_rpm
    slowest, fastest = (bucket_mm_per_minute / (k * jet.jet_mm) for k in (MOST_DIAMETER_RATIO, LEAST_DIAMETER_RATIO))
    if not slowest <= speed_rpm <= fastest:
        raise BadInput(
            f"{speed_rpm:.4g} rpm was given, a runner of {say(diameter, 'mm', form='.0f')}",
            f"runners that suit this jet have their best speed from {slowest:.0f} to {fastest:.0f} rpm",
            "choose a speed between them, another nozzle, or a belt",
            where="wanted speed",
        )
    return diameter


def least_bucket_width_mm(jet_mm):
    """Width that a bucket needs to turn the whole jet.

    Parameters
    ----------
    jet_mm : float or ndarray
        Diameter of one jet [mm].

    Returns
    -------
    float or ndarray
        Width across one bucket, same shape [mm].

    Notes
    -----
    Equation: 3 jet diameters.
    Valid: bucket runners with a splitter; 2.8 to 3.6 are found.
    Source: handbooks of hydraulics (from memory).
    """
    return BUCKET_WIDTH_JETS.value * jet_mm


def require_bucket_width(jet_mm, bucket_width_mm):
    """Refuse a jet that is wider than the bucket.

    Parameters
    ----------
    jet_mm : float
        Diameter of one jet [mm].
    bucket_width_mm : float
        Width across one bucket [mm].

    Raises
    ------
    BadInput
        When the jet is wider than the bucket.
    """
    require_number(bucket_width_mm, "bucket width", "mm", above=0, at_most=2000)
    if jet_mm > bucket_width_mm:
        widths = (jet_mm, bucket_width_mm, least_bucket_width_mm(jet_mm))
        jet, bucket, least = (say(width, "mm", form=".3g") for width in widths)
        raise BadInput(
            f"a jet of {jet} was given, wider than the bucket of {bucket}",
            f"a bucket about three jets wide, {least}, is allowed",
            "use a smaller nozzle or measure across the bucket again",
            where="bucket width",
        )


def bucket_caution(jet_mm, bucket_width_mm):
    """What to say of a bucket that is narrow for its jet.

    Parameters
    ----------
    jet_mm : float
        Diameter of one jet [mm].
    bucket_width_mm : float
        Width across one bucket [mm].

    Returns
    -------
    str
        A sentence, empty when the bucket is wide enough.
    """
    if bucket_width_mm >= BUCKET_WIDTH_JETS.low * jet_mm:
        return ""
    wide, jet, best = (say(mm, "mm") for mm in (bucket_width_mm, jet_mm, least_bucket_width_mm(jet_mm)))
    return (
        f"The bucket is {wide} wide, narrow for a jet of {jet}: about {best} is usual, "
        "so water will spill over the edges and the power will fall short."
    )


def bucket_count(pitch_diameter_mm, jet_mm):
    """How many buckets a runner usually has.

    Parameters
    ----------
    pitch_diameter_mm : float
        Diameter of the circle that the jet touches [mm].
    jet_mm : float
        Diameter of one jet [mm].

    Returns
    -------
    int
        Buckets, rounded [-].

    Notes
    -----
    Equation: 15 + D / (2 d).
    Valid: D from 6 to 35 jet diameters.
    Source: a rule of the handbooks (from memory).
    """
    return round(15.0 + pitch_diameter_mm / (2.0 * jet_mm))


@dataclass(frozen=True, kw_only=True)
class TailWater:
    """The opening through which the used water leaves the casing."""

    depth_mm: float  # of the water behind the sill while it runs out
    opening_height_mm: float  # with room for air and splash
    opening_cm2: float


def tail_water_opening(flow_l_s, opening_width_mm):
    """How high the opening below the runner has to be, so that the water does not back up to the buckets.

    Parameters
    ----------
    flow_l_s : float
        Flow of all jets [L/s].
    opening_width_mm : float
        Width of the opening [mm].

    Returns
    -------
    TailWater
        Depth, height and area; the lowest bucket has to run clear above the depth.

    Notes
    -----
    Equation: depth = 1.5 (q² / g)^(1/3), q = flow over width; the opening is twice as high.
    Valid: level sill, free fall behind it, no grating.
    Source: broad sill at critical flow, any hydraulics text; the factor two is common practice, no source.
    """
    require_number(flow_l_s, "flow", "L/s", above=0, at_most=1000)
    require_number(opening_width_mm, "width of the opening", "mm", above=0, at_most=10_000)
    depth_mm = 1500.0 * ((flow_l_s / opening_width_mm) ** 2 / GRAVITY_M_PER_S2.value) ** (1.0 / 3.0)
    height_mm = TAIL_AIR_SHARE.value * depth_mm
    return TailWater(depth_mm=depth_mm, opening_height_mm=height_mm, opening_cm2=height_mm * opening_width_mm / 100.0)
