"""What may be different in a finished machine, how far it may be off without surprise, and what the rows can tell."""

from dataclasses import dataclass, replace

import numpy as np

from statorbook.cautions import Instruction
from statorbook.first_run.flows import Deviation
from statorbook.first_run.misfit import misfit_table
from statorbook.first_run.rows import source_heading
from statorbook.first_run.tells import CABLE, DIODES, OHMS_OF_PAIRS, OHMS_TWICE, Tells
from statorbook.quantities import Fact, say

_TRADE = "common practice, no source"
MAGNET_SHARE = Fact(
    value=0.10, unit="of the EMF, one sigma", source=f"heat, age and knocks, {_TRADE}", low=0.03, high=0.3
)
OHM_SHARE = Fact(
    value=0.15, unit="of the ohms, one sigma", source=f"bad joints, other wire, {_TRADE}", low=0.05, high=0.4
)
COPPER_K = Fact(value=25.0, unit="K, one sigma", source=f"load, air and season, {_TRADE}", low=10, high=50)
HENRY_SHARE = Fact(value=0.10, unit="of the inductance, one sigma", source=f"saturation, {_TRADE}", low=0.05, high=0.3)
DIODE_V = Fact(value=0.4, unit="V each, one sigma", source=f"other diodes, warmth, {_TRADE}", low=0.1, high=0.5)
CABLE_OHM = Fact(value=0.2, unit="Ω, one sigma", source=f"joints and a longer cable, {_TRADE}", low=0.02, high=0.5)
SOURCE_SHARE = Fact(
    value=0.10, unit="of the source, one sigma", source=f"gauge, cup wheel, {_TRADE}", low=0.03, high=0.3
)
_COOLEST_C, _HOTTEST_C = 0.0, 180.0  # of copper at work
# What two sigma of a cause, up or down, must at least do to Σ misfit²: two sigma as a limit of detection, JCGM 100
# (from memory); near the promise.
_TOLD = 4.0
WARMTH, OHMS = "warmth of the copper", "ohms of the coils (a bad joint or crimp)"
DRAG, SOURCE = "drag", "what the source gives"


@dataclass(frozen=True, kw_only=True)
class Cause:
    """One thing that may be different from what was promised."""

    name: str
    field: str  # of `Deviation`, in whose unit the four numbers are
    rest: float  # when nothing is different
    low: float  # lowest and highest value that is plausible
    high: float
    sigma: float  # how far it may be off without surprise
    tell: Instruction  # the one reading that proves or clears it, as a clause
    fewer_paths: bool = False  # ohms and inductance move together, as with an open path

    def said(self, value):
        """The cause with its size, in words."""
        if self.fewer_paths:
            return self.name
        if self.rest == 1.0:
            change = 100.0 * (value - 1.0)
            return f"{self.name}: {abs(change):.0f} % {'more' if change > 0 else 'less'}"
        unit = {"diode_v": "V each", "cable_ohm": "Ω", "drag_nm": "N·m", "copper_k": "K"}[self.field]
        size = say(abs(value), unit, form=".0f" if unit == "K" else ".2g")
        return f"{self.name}: {size} {'more' if value > 0 else 'less'}"

    def deviation(self, value):
        """The difference from the promise when this is what has changed."""
        if self.fewer_paths:
            return Deviation(ohm_share=value, henry_share=value)
        return replace(Deviation(), **{self.field: value})


def causes_for(case, coil_part=None):
    """The causes that can be told from the rows at hand: none that the drive hides or that these rows hardly feel."""
    return tuple(cause for cause in _asked(case, coil_part) if cause.name not in _unfelt(case, coil_part))


def undetectable_causes(case, coil_part=None):
    """Why some causes cannot be told from the rows at hand, and what would tell them.

    Parameters
    ----------
    case : RunCase
        Machine and rows.
    coil_part : CoilPart or None
        Its ± widen what is no surprise.

    Returns
    -------
    str
        A sentence; empty when every cause can be told.
    """
    said, heading = [], source_heading(case.machine.drive)
    if case.charging and not case.driven:
        held = not heading or heading.endswith("[rpm]")
        why = "the drive holds its speed whatever they are" if held else f"type “{heading}” in the rows"
        said.append(f"{DRAG} and {SOURCE} ({why})")
    unfelt = _unfelt(case, coil_part)
    if unfelt:
        said.append(f"{', '.join(unfelt)} (these rows hardly depend on {'it' if len(unfelt) == 1 else 'them'})")
    return f"Cannot be told from these readings: {'; '.join(said)}." if said else ""


def _asked(case, coil_part):
    """Every cause that the rows at hand could show, if it were large enough."""
    at = case.machine.setting.conditions
    tells = Tells(case=case)
    found = _of_the_coil(coil_part, tells)
    if any(np.isnan(row.copper_c) for row in case.charging):
        low, high = _COOLEST_C - at.copper_c, _HOTTEST_C - at.copper_c
        found.insert(2, _added(WARMTH, "copper_k", low, high, COPPER_K.value, OHMS_TWICE))
    found += _beyond_the_coil(at)
    if case.grouping.parallel > 1:
        found.append(_open_path(case.grouping.parallel))
    return [*found, *(_of_the_drive(at, tells) if case.driven else ())]


def _unfelt(case, coil_part):
    """Names of the causes that these rows hardly feel."""
    return case.kept(("unfelt", coil_part), lambda case: _weak(case, _asked(case, coil_part)))


def _weak(case, causes):
    ends = [np.clip((c.rest - 2.0 * c.sigma, c.rest + 2.0 * c.sigma), c.low, c.high) for c in causes]
    deviations = [Deviation(), *(c.deviation(float(end)) for c, pair in zip(causes, ends, strict=True) for end in pair)]
    table = misfit_table(case, deviations)
    felt = np.sum((table[1:] - table[0]) ** 2, axis=1).reshape(-1, 2).max(axis=1)
    return tuple(c.name for c, change in zip(causes, felt, strict=True) if change < _TOLD)


def _of_the_coil(coil_part, tells):
    wide = (0.0, 0.0, 0.0)
    if coil_part is not None:
        wide = [constant.sigma_share for constant in (coil_part.emf, coil_part.resistance, coil_part.inductance)]
    facts = (MAGNET_SHARE, OHM_SHARE, HENRY_SHARE)
    magnets, ohms, henries = (float(np.hypot(fact.value, share)) for fact, share in zip(facts, wide, strict=True))
    return [
        _share("EMF of the magnets", "emf_share", magnets, tells.open_leads),
        _share(OHMS, "ohm_share", ohms, OHMS_TWICE),
        _share("inductance of the coils", "henry_share", henries, tells.joined_leads),
    ]


def _beyond_the_coil(at):
    return [
        _added("drop of the diodes", "diode_v", -at.diode_drop_v, 1.5, DIODE_V.value, DIODES),
        _added("ohms of the cable", "cable_ohm", -at.cable_ohm, 1.0, CABLE_OHM.value, CABLE),
    ]


def _open_path(paths):
    """One phase of three has one path less: a/(a − 1) times the ohms and henries, averaged over the phases."""
    share = 1.0 + 1.0 / (3.0 * (paths - 1))
    name = "one path of one phase open"
    # An open path either is or is not; before any reading it is taken to be rare, as two sigma are.
    same = {"low": share, "high": share, "rest": 1.0, "sigma": 0.5 * (share - 1.0)}
    return Cause(name=name, field="ohm_share", tell=OHMS_OF_PAIRS, fewer_paths=True, **same)


def _of_the_drive(at, tells):
    sigma_nm = 2.0 * max(at.drag_nm, 0.1)  # common practice, no source
    return [
        _added(DRAG, "drag_nm", -at.drag_nm, 10.0 * sigma_nm, sigma_nm, tells.coast),
        _share(SOURCE, "source_share", SOURCE_SHARE.value, tells.source),
    ]


def _share(name, field, sigma, tell):
    return Cause(name=name, field=field, rest=1.0, low=0.4, high=1.8, sigma=sigma, tell=tell)


def _added(name, field, low, high, sigma, tell):
    return Cause(name=name, field=field, rest=0.0, low=low, high=high, sigma=sigma, tell=tell)
