"""Hypothesis strategies for machines and circuits, written once for all tests."""

from math import gcd, log10

from hypothesis import strategies as st

from statorbook.winding.coil import CoilConstants
from statorbook.winding.stator import Stator
from statorbook.winding.winding import Winding

# The rule is written out here again, so that the library's own one is not asked.
BALANCED = [
    (slots, poles) for slots in range(3, 64) for poles in range(2, 86, 2) if slots % (3 * gcd(slots, poles // 2)) == 0
]
UNBALANCED = [
    (slots, poles) for slots in range(3, 64) for poles in range(2, 86, 2) if slots % (3 * gcd(slots, poles // 2))
]


def numbers(least, most):
    """Floats between two limits, spread evenly over the decades."""
    return st.floats(log10(least), log10(most)).map(lambda power: min(max(10.0**power, least), most))


def stators():
    """Balanced stators of any usual size."""
    return st.sampled_from(BALANCED).map(lambda pair: Stator(slots=pair[0], poles=pair[1]))


def coils():
    """Coil constants from a small to a large machine."""
    return st.builds(
        CoilConstants,
        emf_v_per_rpm=numbers(1e-3, 0.2),
        ohm=numbers(0.02, 20.0),
        henry=numbers(1e-5, 0.1),
        conductor=st.sampled_from(("copper", "aluminium")),
        magnet=st.sampled_from(("ferrite", "neodymium")),
    )


@st.composite
def windings(draw, connections=("star", "delta")):
    """A stator, its coil, and one of its legal groupings."""
    stator = draw(stators())
    legal = [g for g in stator.groupings() if g.connection in connections]
    return Winding(stator=stator, coil=draw(coils()), grouping=draw(st.sampled_from(legal)))


@st.composite
def bridges(draw, least_ratio=0.0, most_ratio=0.999, dc_resistance=True):
    """Arguments of `bridge.rectifier.bridge`, from a hand-turned to a large machine."""
    emf, ohm, q = draw(numbers(3.0, 500.0)), draw(numbers(0.02, 50.0)), draw(numbers(0.01, 100.0))
    headroom = 3.0**0.5 * emf
    drop = draw(st.floats(0.0, 1.1)) * min(1.0, 0.02 * headroom)
    volts = max(0.0, draw(st.floats(least_ratio, most_ratio)) * headroom - 2.0 * drop)
    return {
        "emf_peak_v": emf,
        "resistance_ohm": ohm,
        "reactance_ohm": q * ohm,
        "dc_volts": volts,
        "diode_drop_v": drop,
        "dc_resistance_ohm": draw(st.floats(0.0, 0.5)) * ohm if dc_resistance else 0.0,
    }
