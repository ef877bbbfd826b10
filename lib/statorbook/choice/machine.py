"""All that a comparison needs: the stator, its coils with the ends of their bands, drive, bank and setting."""

from dataclasses import dataclass, replace
from itertools import product

from statorbook.bank import Bank
from statorbook.choice.comparison import compare
from statorbook.choice.setting import Setting
from statorbook.drives import Drive
from statorbook.winding import CoilConstants, Grouping, Stator


@dataclass(frozen=True, kw_only=True)
class Machine:
    """Everything a comparison needs.

    Parameters
    ----------
    stator : Stator
        Slots and poles.
    found : Grouping
        The wiring as found.
    coil : CoilConstants
        Best values of one coil.
    corners : tuple of CoilConstants
        The coil with all constants at ends of their 95 % bands, eight of them.
    ends : tuple of CoilConstants
        The coil with one constant at an end: EMF low, high, ohms low, high, henries low, high.
    drive : Drive
        What turns it.
    bank : Bank
        The bank.
    setting : Setting
        Temperatures, drag, rectifier, cable, wire, device limit.
    assumed : tuple of str
        What was assumed, in words.
    assumed_fields : frozenset of str
        The fields of drive and bank whose values were assumed.
    measured : frozenset of str
        Temperatures at work that were measured, "copper_c" or "magnet_c", so that they are known more closely.
    start_nm : float or None
        Torque that lets the standing rotor go; None when not measured [N·m].
    doubt : str
        A sentence when the open-corner reading looks like something else than a third harmonic, else empty.
    """

    stator: Stator
    found: Grouping
    coil: CoilConstants
    corners: tuple
    ends: tuple
    drive: Drive
    bank: Bank
    setting: Setting
    assumed: tuple
    assumed_fields: frozenset = frozenset()
    measured: frozenset = frozenset()
    start_nm: float | None = None
    doubt: str = ""

    def compared(self):
        """All its legal groupings side by side, a `Comparison`."""
        return compare(self.stator, self.coil, self.drive, self.bank, self.setting)


def corners(emf, ohm, henry, conductor="copper", magnet="ferrite"):
    """Coil constants at the ends of the 95 % bands.

    Parameters
    ----------
    emf : Estimate
        EMF of one coil, rms per rpm [V/rpm].
    ohm : Estimate
        Resistance of one coil [Ω].
    henry : Estimate
        Inductance of one coil [H].
    conductor : str
        "copper" or "aluminium".
    magnet : str
        "ferrite" or "neodymium".

    Returns
    -------
    tuple of CoilConstants
        Eight corners; a band that reaches 0 is cut at a tenth of its middle.
    """
    return tuple(
        CoilConstants(emf_v_per_rpm=e, ohm=r, henry=h, conductor=conductor, magnet=magnet)
        for e, r, h in product(*map(_ends_of, (emf, ohm, henry)))
    )


def ends(emf, ohm, henry, conductor="copper", magnet="ferrite"):
    """Coil constants with one of them at an end of its 95 % band and the others at their best value.

    Parameters
    ----------
    emf : Estimate
        EMF of one coil, rms per rpm [V/rpm].
    ohm : Estimate
        Resistance of one coil [Ω].
    henry : Estimate
        Inductance of one coil [H].
    conductor : str
        "copper" or "aluminium".
    magnet : str
        "ferrite" or "neodymium".

    Returns
    -------
    tuple of CoilConstants
        EMF low, high, ohms low, high, henries low, high; a band that reaches 0 is cut at a tenth of its middle. With
        EMF and ohms go the henries that were worked out from them; the henries alone have what is left of their ±.
    """
    best = {"emf_v_per_rpm": emf.value, "ohm": ohm.value, "henry": henry.value}
    made = []
    for name, cause, band in (("emf_v_per_rpm", "emf", emf), ("ohm", "ohm", ohm)):
        moved = henry.moved_by.get(cause, 0.0)
        for end, with_it in zip(_ends_of(band), (henry.value - moved, henry.value + moved), strict=True):
            made.append({**best, name: end, "henry": max(with_it, 0.1 * henry.value)})
    alone = replace(henry, plus_minus=henry.own_plus_minus)
    made += [{**best, "henry": end} for end in _ends_of(alone)]
    return tuple(CoilConstants(**each, conductor=conductor, magnet=magnet) for each in made)


def _ends_of(band):
    return max(band.low, 0.1 * band.value), band.high
