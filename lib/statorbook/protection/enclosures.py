"""What closes the live parts in, what is written on it, and what only an electrician on the spot can answer."""

from statorbook.bank import ventilation
from statorbook.drives import Engine, Pedals, WindRotor
from statorbook.protection.site import DAMP, DRY, WET
from statorbook.quantities import say

# IEC 60529 by the wettest spot within reach, from memory: the grade, and what it keeps out.
_GRADES = {
    DRY: ("IP40", "keeps out fingers, and a wire of 1 mm that falls in from above"),
    DAMP: ("IP44", "keeps out a wire of 1 mm and splashing water"),
    WET: ("IP65", "keeps out dust, and jets of water from any side"),
}
# ISO 7010, from memory: number of the sign, what it says, where it goes.
_SHOCK = ("W012", "electricity", "on every cover and on the machine")
_STARTS = ("W018", "starts by itself", "on the guard of the rotor")
_CHARGES = ("W026", "a battery is charged here", "at the bank")
_NO_FLAME = ("P003", "no open flame", "at the bank and at its air outlet")
NEVER_OPEN = "Never open while it charges: stop the rotor first"  # on fuse, switch and plugs
_METAL_ABOVE_V = 30.0  # NEC 694.30(A) and (C), 2011, read in a reproduction: raceways in places that people reach


def stops_by_itself(drive):
    """Whether nothing goes on turning it when nobody is there: a rider gets off, an engine is switched off.

    Parameters
    ----------
    drive : Drive
        What turns it.

    Returns
    -------
    bool
        True for pedals and an engine.
    """
    return isinstance(drive, (Engine, Pedals))


def enclosure_grade(place):
    """The grade of an enclosure by IEC 60529, from memory.

    Parameters
    ----------
    place : str
        One of `PLACES`.

    Returns
    -------
    tuple of str
        Such as "IP65", and what it keeps out; a wire stays in mm.
    """
    return _GRADES[place]


def makes_gas(bank):
    """Whether the bank gives off hydrogen while it is charged.

    Parameters
    ----------
    bank : Bank
        The bank.

    Returns
    -------
    bool
        True for lead-acid.
    """
    return ventilation(bank, 0.0) is not None


def signs(plant):
    """The signs that a plant needs: number, words and place of each."""
    by_itself = () if stops_by_itself(plant.drive) else (_STARTS,)
    return (_SHOCK, *by_itself, _CHARGES, *((_NO_FLAME,) if makes_gas(plant.bank) else ()))


def questions(plant):
    """What to ask the electrician about earth, enclosures and the code.

    Parameters
    ----------
    plant : Plant
        The plant.

    Returns
    -------
    tuple of str
        Whole questions.
    """
    line_volts, dc_volts = plant.open_volts(plant.runaway_rpm)
    volts = f"{say(line_volts, 'V', figures=2)} AC and {say(dc_volts, 'V', figures=2)} DC"
    grade, _ = enclosure_grade(plant.site.place)
    return (
        "Is one pole of the bank earthed, which one, and at which single point?",
        f"Frame of the machine, {_metal_around(plant)}, heat sink and metal boxes: are they bonded to each other and "
        "to earth, and by what cross-section?",
        f"Run away with the bank gone it makes up to {volts}. Does the code allow that here, and who may work on it?",
        *_raceway(dc_volts),
        f"Is {grade} enough where each box stands, how do the cables enter it, and how does the rectifier keep cool?",
        *_surges(plant),
        "Behind the inverter: where is its neutral earthed, and does its residual-current breaker still trip?",
        *(("How is the room of the bank aired, and what may stand near it?",) if makes_gas(plant.bank) else ()),
        "Does it have to be announced, inspected or insured, and who signs for it?",
    )


def _metal_around(plant):
    return "tower" if isinstance(plant.drive, WindRotor) else "what it stands on, metal pipes"


def _raceway(dc_volts):
    if dc_volts <= _METAL_ABOVE_V:
        return ()
    return ("Has the run from the machine to lie in conduit or in metal, as some codes ask above 30 V within reach?",)


def _surges(plant):
    outdoors = isinstance(plant.drive, WindRotor) or not plant.run.is_dc or plant.run.length_m > 10.0
    return ("Does the run need arresters against lightning, at which end, for which volts?",) if outdoors else ()
