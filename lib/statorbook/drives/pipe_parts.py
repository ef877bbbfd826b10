"""What a pipe is made of and what sits in it: roughness, stiffness, wall and fittings, with their sources."""

from dataclasses import dataclass

from statorbook.quantities import Fact

WATER_VISCOSITY_CST = Fact(
    value=1.307, unit="cSt", source="kinematic, fresh water at 10 °C; IAPWS tables (from memory)", low=0.8, high=1.8
)
WATER_STIFFNESS_GPA = Fact(
    value=2.1, unit="GPa", source="bulk modulus, fresh water at 10 °C, handbook value (from memory)", low=2.0, high=2.2
)
STRAINER_K = Fact(
    value=2.5, unit="velocity heads", source="clean basket; common practice, no source; dirt doubles it", low=1, high=10
)
_STEEL = Fact(value=207.0, unit="GPa", source="handbook value (from memory)", low=190, high=215)
_STEEL_WALL = Fact(
    value=0.07,
    unit="of the bore",
    source="threaded tube of 1 to 2 inches, common practice, no source",
    low=0.03,
    high=0.15,
)


@dataclass(frozen=True, kw_only=True)
class Material:
    """What a pipe is made of."""

    roughness_mm: Fact  # sand roughness of the inner wall
    stiffness_gpa: Fact  # Young's modulus of the wall, for a sudden pull
    wall_share: Fact  # usual thickness of the wall over the bore, assumed where the wall was not measured


def _rough(value, low, high, source="Moody 1944 (from memory)"):
    return Fact(value=value, unit="mm", source=source, low=low, high=high)


MATERIALS = {
    "PVC": Material(
        roughness_mm=_rough(0.0015, 0.001, 0.01, "drawn tube, Moody 1944 (from memory)"),
        stiffness_gpa=Fact(value=3.0, unit="GPa", source="handbook value (from memory)", low=2.4, high=3.5),
        wall_share=Fact(value=0.05, unit="of the bore", source="common practice, no source", low=0.03, high=0.1),
    ),
    "polyethylene": Material(
        roughness_mm=_rough(0.0015, 0.001, 0.015, "drawn tube, Moody 1944 (from memory)"),
        stiffness_gpa=Fact(value=0.9, unit="GPa", source="short pull, handbook value (from memory)", low=0.6, high=1.4),
        wall_share=Fact(value=0.09, unit="of the bore", source="common practice, no source", low=0.05, high=0.15),
    ),
    "steel": Material(roughness_mm=_rough(0.045, 0.03, 0.1), stiffness_gpa=_STEEL, wall_share=_STEEL_WALL),
    "galvanised steel": Material(roughness_mm=_rough(0.15, 0.07, 0.25), stiffness_gpa=_STEEL, wall_share=_STEEL_WALL),
    "rusty steel": Material(
        roughness_mm=_rough(1.0, 0.3, 3.0, "common practice, no source"), stiffness_gpa=_STEEL, wall_share=_STEEL_WALL
    ),
    "concrete": Material(
        roughness_mm=_rough(1.0, 0.3, 3.0),
        stiffness_gpa=Fact(value=30.0, unit="GPa", source="handbook value (from memory)", low=20, high=40),
        wall_share=Fact(value=0.12, unit="of the bore", source="common practice, no source", low=0.06, high=0.2),
    ),
}
VALVES = ("none", "ball", "gate", "globe")


def fittings_loss(bore_mm, *, bends, valve, strainer):
    """Losses of elbows, a valve as wide as the pipe and fully open, and a clean strainer, in velocity heads [-]."""
    # Multiples of Crane's friction factor, threaded fittings in rough flow: elbow 30, ball 3, gate 8, globe 340.
    # Crane, TP 410 (from memory), by the library `fluids`.
    from fluids import fittings

    bore = bore_mm / 1000.0
    found = STRAINER_K.value if strainer else 0.0
    if bends:
        found += bends * fittings.bend_rounded(bore, 90.0, bend_diameters=1.0, method="Crane standard")
    if valve == "ball":
        found += fittings.K_ball_valve_Crane(bore, bore, 0.0)
    if valve == "gate":
        found += fittings.K_gate_valve_Crane(bore, bore, 0.0)
    if valve == "globe":
        found += fittings.K_globe_valve_Crane(bore, bore)
    return float(found)
