"""Rewinding: other turns of other wire in the same slots, what they do, and what goes on the bench for it."""

from dataclasses import dataclass, replace
from math import ceil, log, pi, sqrt

from statorbook.cautions import Exposure, Instruction
from statorbook.choice.verdict import MOST_AMPS_PER_MM2
from statorbook.quantities import COPPER_OHM_MM2_PER_M, Fact, awg_diameter_mm, require_count, require_number, say
from statorbook.winding import resistance_factor, wire_area_mm2

RESISTIVITY_OHM_MM2_PER_M = {
    "copper": COPPER_OHM_MM2_PER_M,
    "aluminium": Fact(
        value=0.02826, unit="Ω·mm²/m", source="IEC 60889, wire at 20 °C (from memory)", low=0.0265, high=0.0288
    ),
}
METAL_KG_PER_M3 = {
    "copper": Fact(value=8960.0, unit="kg/m³", source="handbooks of physics (from memory)", low=8890, high=8960),
    "aluminium": Fact(value=2700.0, unit="kg/m³", source="handbooks of physics (from memory)", low=2690, high=2710),
}
HANDY_WIRE_MM = Fact(
    value=1.6, unit="mm", source="thicker wire is hard to lay round a tooth, common practice, no source", low=1, high=2
)
# Bare diameters of round winding wire, IEC 60317-0-1, the coarse and the fine row (from memory).
WIRE_SIZES_MM = (
    0.2, 0.212, 0.224, 0.236, 0.25, 0.265, 0.28, 0.3, 0.315, 0.335, 0.355, 0.375, 0.4, 0.425, 0.45, 0.475, 0.5, 0.53,
    0.56, 0.6, 0.63, 0.67, 0.71, 0.75, 0.8, 0.85, 0.9, 0.95, 1.0, 1.06, 1.12, 1.18, 1.25, 1.32, 1.4, 1.5, 1.6, 1.7, 1.8,
    1.9, 2.0, 2.12, 2.24, 2.36, 2.5, 2.65, 2.8, 3.0,
)  # fmt: skip
_HAIR = 1e-9  # a size that fits exactly must not be lost by rounding

REWIND_EXPOSES = (Exposure.STANDING, Exposure.SHARP, Exposure.CHEMICALS, Exposure.MAGNETS)
COUNT_TURNS = Instruction("count the turns of one coil while you unwind it, or leave it empty", REWIND_EXPOSES)
REWIND_IT = Instruction("about a weekend", (*REWIND_EXPOSES, Exposure.SOLDER, Exposure.HEAT))


@dataclass(frozen=True, kw_only=True)
class NewWire:
    """The wire for a given cross-section of a coil's turn."""

    wires: int  # in hand
    exact_mm: float  # bare diameter of each that fills the same room
    standard_mm: float | None  # largest standard diameter that is no thicker; None below the thinnest
    awg: int | None  # thickest American wire gauge that is no thicker; None below the thinnest standard diameter

    @property
    def standard_area_mm2(self):
        """Cross-section of all wires of the standard size; not a number when there is none [mm²]."""
        return wire_area_mm2(self.standard_mm, self.wires) if self.standard_mm else float("nan")

    @property
    def words(self):
        """What to buy, in a few words; wire is told in mm and AWG everywhere."""
        hand = "one wire" if self.wires == 1 else f"{self.wires} wires in hand"
        if self.standard_mm is None:
            return f"{hand} of {self.exact_mm:.2g} mm, thinner than any of the usual sizes"
        return f"{hand} of {self.standard_mm:g} mm or AWG {self.awg}, bare"


@dataclass(frozen=True, kw_only=True)
class Rewind:
    """What goes on the bench for a rewinding."""

    turns_ratio: float  # new over present turns of a coil [-]
    turns_before: int | None  # turns counted in one coil; None when not counted
    coil_ohm: float  # of a new coil at 20 °C when its wire fills the same room exactly
    wire: NewWire | None  # None when the present one was not measured
    metal_kg: float | None  # of the whole winding, enamel and leads left out; None when the wire was not measured
    conductor: str  # "copper" or "aluminium"

    @property
    def turns(self):
        """Turns of a new coil; not a number when those of the present one were not counted [-]."""
        return round(self.turns_before * self.turns_ratio) if self.turns_before else float("nan")

    @property
    def change(self):
        """The new turns in a few words."""
        counted = f" ({self.turns} instead of {self.turns_before} in each coil)" if self.turns_before else ""
        return f"{self.turns_ratio:.3g} times the turns{counted}"

    @property
    def standard_ohm(self):
        """Resistance of a new coil of the standard wire at 20 °C; not a number without one [Ω]."""
        if self.wire is None:
            return float("nan")
        return self.coil_ohm * wire_area_mm2(self.wire.exact_mm, self.wire.wires) / self.wire.standard_area_mm2

    def in_words(self, coil_amps_rms):
        """Wire, current density at the amps of one coil, ohms and weight in two sentences, or what to measure."""
        if self.wire is None:
            return Instruction(
                f"A coil would then have {say(self.coil_ohm, 'Ω')} at {say(20, '°C')}. Scrape the enamel off a wire "
                "end, measure the bare wire and count the wires in hand: then size and weight of the new wire stand "
                "here.",
                REWIND_EXPOSES,
            )
        standard = self.wire.standard_mm is not None
        density = coil_amps_rms / self.wire.standard_area_mm2
        amps = f", at {density:.1f} A/mm²" if standard else ""
        amps += f", more than the {MOST_AMPS_PER_MM2:g} that copper stands" if density > MOST_AMPS_PER_MM2 else ""
        ohm = self.standard_ohm if standard else self.coil_ohm
        return (
            f"The same room takes {self.wire.words}{amps}; a coil then has {say(ohm, 'Ω')} at {say(20, '°C')}. The "
            f"whole winding weighs about {say(self.metal_kg, 'kg', figures=2)} of {self.conductor} without enamel and "
            "leads."
        )


def rewound(machine, turns_ratio):
    """The machine with its turns times a ratio in the same slots: constants, wire and open-corner volts follow."""
    # EMF × k, R × k², L × k², cross-section of a turn / k, so diameter / √k: turns in series of the same room, any text
    # on electrical machines. Same slots, same filling, same metal, same end turns; thin wire has more enamel and fills
    # a little less.
    hint = "divide the new turns of a coil by the present ones"
    k = require_number(turns_ratio, "turns ratio", "", at_least=0.01, at_most=100, next_step=hint)
    setting = machine.setting
    thickness, corner = setting.wire_diameter_mm, setting.open_corner_v_per_rpm
    return replace(
        machine,
        coil=_rewound_coil(machine.coil, k),
        corners=tuple(_rewound_coil(coil, k) for coil in machine.corners),
        ends=tuple(_rewound_coil(coil, k) for coil in machine.ends),
        setting=replace(
            setting,
            wire_diameter_mm=None if thickness is None else thickness / sqrt(k),
            open_corner_v_per_rpm=None if corner is None else corner * k,
        ),
    )


def _rewound_coil(coil, k):
    return replace(coil, emf_v_per_rpm=coil.emf_v_per_rpm * k, ohm=coil.ohm * k**2, henry=coil.henry * k**2)


def rewind_figures(machine, turns_ratio, turns=None):
    """What a rewinding takes, a `Rewind`: in whole turns where they were counted, no wire where none was measured."""
    new = rewound(machine, turns_ratio)
    if turns is not None:
        require_count(turns, "turns counted in one coil", 1, 2000, COUNT_TURNS)
    measured = {"wire": None, "metal_kg": None}
    if machine.setting.wire_diameter_mm is not None:
        in_hand = new.setting.wires_in_hand
        area = wire_area_mm2(new.setting.wire_diameter_mm, in_hand)
        weight = metal_kg(new.coil.ohm, area, machine.stator.slots, new.coil.conductor)
        measured = {"wire": new_wire(area, least_wires=in_hand), "metal_kg": weight}
    made = {"coil_ohm": new.coil.ohm, "conductor": new.coil.conductor}
    return Rewind(turns_ratio=float(turns_ratio), turns_before=turns, **made, **measured)


def new_wire(area_mm2, *, least_wires=1):
    """Standard wire for a turn's bare cross-section, in more wires in hand where it would be too thick to lay."""
    # d = √(4 A / (π N)); the largest size not above d; AWG n = 36 − 39 ln(d / 0.127 mm) / ln 92, rounded up. Bare
    # diameters: enamel adds 5 to 10 %, the more the thinner the wire. Geometry; IEC 60317-0-1 (from memory); ASTM B258.
    require_number(area_mm2, "cross-section of one turn", "mm²", above=0)
    least, most = (area_mm2 / wire_area_mm2(size) for size in (HANDY_WIRE_MM.value, WIRE_SIZES_MM[0]))
    wires = max(1, ceil(least * (1.0 - _HAIR)), min(least_wires, int(most)))
    exact = sqrt(4.0 * area_mm2 / (pi * wires))
    fitting = [size for size in WIRE_SIZES_MM if size <= exact * (1.0 + _HAIR)]
    gauge = ceil(36.0 - 39.0 * log(exact / awg_diameter_mm(36)) / log(92.0) - _HAIR)
    standard, awg = (fitting[-1], gauge) if fitting else (None, None)
    return NewWire(wires=wires, exact_mm=exact, standard_mm=standard, awg=awg)


def metal_kg(coil_ohm, area_mm2, coils, conductor="copper"):
    """Weight of the metal in a winding [kg], from a coil's ohms at 20 °C, a turn's bare area and the count of coils."""
    # Length = R A / ρ of each coil; m = density × A × length × coils. Bare diameter: a tenth too thick by enamel makes
    # it nearly half too heavy. IEC 60028, resistivity of copper; handbooks of physics, densities (from memory).
    resistance_factor(20.0, conductor=conductor)  # refuses what is no conductor here
    length_m = coil_ohm * area_mm2 / RESISTIVITY_OHM_MM2_PER_M[conductor].value
    return METAL_KG_PER_M3[conductor].value * area_mm2 * 1e-6 * length_m * coils
