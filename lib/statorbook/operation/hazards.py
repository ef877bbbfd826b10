"""How dangerous the open-circuit volts are, and which limit says so."""

from dataclasses import dataclass
from math import inf

import numpy as np

from statorbook.quantities import (
    DRY_AC_VOLTS,
    DRY_DC_VOLTS,
    ELV_AC_VOLTS,
    ELV_DC_VOLTS,
    LV_AC_VOLTS,
    LV_DC_VOLTS,
    WET_AC_VOLTS,
    WET_DC_VOLTS,
    require_number,
    rounded_down,
)

# From harmless to worst: (AC limit, DC limit, word, what to do), each limit inclusive.
_STEPS = (
    (WET_AC_VOLTS, WET_DC_VOLTS, "touchable even wet", "usual care; a short circuit still burns"),
    (DRY_AC_VOLTS, DRY_DC_VOLTS, "touchable only dry", "cover live parts wherever it can be wet, as at a water wheel"),
    (ELV_AC_VOLTS, ELV_DC_VOLTS, "cover all live parts", "enclose every joint; nobody reaches in while it can turn"),
    (
        LV_AC_VOLTS,
        LV_DC_VOLTS,
        "can kill",
        "enclose, earth and protect as a mains installation, by a licensed person where the law asks",
    ),
)
_BEYOND = ("beyond low voltage", "do not build it")
DEVICE, CONVERTER = "device", "converter"
_COVERED, _KILLS = 2, 3  # levels from which on a guard against touch is named


@dataclass(frozen=True, kw_only=True)
class Hazard:
    """The grade of an open-circuit voltage.

    Parameters
    ----------
    level : int
        0 harmless to 4 worst [-].
    word : str
        The grade in words.
    limit : str
        The limit that sets the grade, with its standard.
    advice : str
        What follows.
    line_volts_rms : float
        AC between two leads, rms [V].
    dc_volts_peak : float
        DC after the bridge, peak [V].
    device_max_volts : float or None
        Highest DC input of what stands on these volts, None when not known [V].
    device : str
        What that is: "device" for inverter or controller on the bank, "converter" between rectifier and bank.
    """

    level: int
    word: str
    limit: str
    advice: str
    line_volts_rms: float
    dc_volts_peak: float
    device_max_volts: float | None = None
    device: str = DEVICE

    @property
    def destroys_device(self):
        """True when these volts are above what the named device stands."""
        return self.device_max_volts is not None and self.dc_volts_peak > self.device_max_volts

    @property
    def device_exceeded(self):
        """A sentence when a connected device would be destroyed, else empty."""
        if not self.destroys_device:
            return ""
        if self.device == CONVERTER:
            return (
                f"A converter that survives {self.device_max_volts:g} V would be destroyed within milliseconds, and it "
                "lets go of the rotor whenever the bank is full or gone: fit protection that acts by itself."
            )
        return (
            f"A device that stands {self.device_max_volts:g} V would be destroyed: "
            "never let the bank come off while it turns, "
            "and fit protection that acts by itself."
        )

    @property
    def guard(self):
        """What must stand between these volts and device and hand, as words; empty when nothing must."""
        needs = []
        if self.destroys_device:
            at_once = ", within milliseconds," if self.device == CONVERTER else ""
            load = f"an over-voltage load at the rectifier that acts by itself{at_once}"
            needs.append(f"{load} below {self.device_max_volts:g} V DC")
        if self.level >= _KILLS:
            needs.append("every live part closed in and earthed like mains, by a licensed person where the law asks")
        elif self.level >= _COVERED:
            needs.append("all live parts covered")
        return " and ".join(needs)

    @property
    def sentence(self):
        """The grade in one sentence, with the numbers."""
        text = (
            f"{self.line_volts_rms:.0f} V AC line rms, {self.dc_volts_peak:.0f} V DC peak: {self.word} "
            f"({self.limit}); {self.advice}."
        )
        return f"{text} {self.device_exceeded}".strip()


def open_circuit_volts(winding, speed_rpm, magnet_c):
    """Volts with nothing connected to take current.

    Parameters
    ----------
    winding : Winding
        The winding.
    speed_rpm : float or ndarray
        Speed [rpm].
    magnet_c : float
        Magnet temperature; cold magnets are stronger [°C].

    Returns
    -------
    tuple of float or ndarray
        AC line rms and DC peak after the bridge [V].

    Notes
    -----
    Equation: line rms as the winding gives; DC peak = √2 × line rms, diode drops left out to be safe.
    Valid: sinusoidal EMF.
    Source: six-diode bridge, any power-electronics text.
    """
    line = winding.line_volts_rms(speed_rpm, magnet_c)
    return line, np.sqrt(2.0) * line


def grade(line_volts_rms, *, device_max_volts=None, device=DEVICE):
    """Grade an open-circuit voltage by the limits of IEC 60364-4-41.

    Parameters
    ----------
    line_volts_rms : float
        AC between two leads, rms [V].
    device_max_volts : float or None
        Highest DC input of what stands on these volts, when known [V].
    device : str
        What that is, as in `Hazard`.

    Returns
    -------
    Hazard
        The worse of the AC and the DC grade, with the limit that sets it.

    Raises
    ------
    BadInput
        When the volts are not a number of at least 0.

    Notes
    -----
    Equation: first step whose AC and DC limits both hold; limits are inclusive.
    Valid: healthy adults; no limit makes a live part safe in water.
    Source: IEC 60364-4-41 and its reg. 414.4.5, read in reproductions.
    """
    ac = require_number(line_volts_rms, "open-circuit line volts", "V rms", at_least=0)
    dc = float(np.sqrt(2.0) * ac)
    if device_max_volts is not None:
        require_number(device_max_volts, "DC limit of the device", "V", above=0)
    given = {"device_max_volts": device_max_volts, "device": device}
    return Hazard(**_step_of(ac, dc), line_volts_rms=ac, dc_volts_peak=dc, **given)


def grade_dc(dc_volts):
    """Grade a DC voltage without ripple, such as the bank's own, by the same limits.

    Parameters
    ----------
    dc_volts : float
        Between plus and minus [V].

    Returns
    -------
    Hazard
        The DC grade; its AC volts are 0.

    Raises
    ------
    BadInput
        When the volts are not a number of at least 0.

    Notes
    -----
    Equation: first step whose DC limit holds; limits are inclusive.
    Valid: as `grade`; says nothing of burns by a short circuit.
    Source: IEC 60364-4-41 and its reg. 414.4.5, read in reproductions.
    """
    dc = require_number(dc_volts, "DC volts", "V", at_least=0)
    return Hazard(**_step_of(0.0, dc), line_volts_rms=0.0, dc_volts_peak=dc)


def _step_of(ac_volts_rms, dc_volts):
    """Level, word, limit and advice of the first step that both voltages keep."""
    level, broken = first_kept([step[:2] for step in _STEPS], ac_volts_rms, dc_volts)
    word, advice = (*(step[2:] for step in _STEPS), _BEYOND)[level]
    limit = f"above {broken.value:g} {broken.unit}, {broken.source}" if broken else f"within {_STEPS[0][0].source}"
    return {"level": level, "word": word, "limit": limit, "advice": advice}


def first_kept(limits, ac_volts_rms, dc_volts):
    """The first step of a ladder of limits that both voltages keep.

    Parameters
    ----------
    limits : sequence of tuple of Fact
        AC and DC limit of each step, rising, each inclusive.
    ac_volts_rms : float
        AC between two leads, rms [V].
    dc_volts : float
        DC [V].

    Returns
    -------
    tuple of int and Fact or None
        Its place, the number of steps when none is kept, and the last limit that is passed, the AC one first.

    Notes
    -----
    Equation: V ≤ limit, as the standard says "does not exceed".
    Valid: as the limits.
    Source: as the limits.
    """
    broken = None
    for level, (ac_limit, dc_limit) in enumerate(limits):
        if ac_volts_rms <= ac_limit.value and dc_volts <= dc_limit.value:
            return level, broken
        broken = ac_limit if ac_volts_rms > ac_limit.value else dc_limit
    return len(limits), broken


def highest_touch_rpm(open_v_per_rpm, limit=DRY_AC_VOLTS):
    """Highest speed at which open ends stay within a touch limit, for a procedure that lets them stand open.

    Parameters
    ----------
    open_v_per_rpm : float
        The most AC volts that any two of them can make, line or phase, rms [V/rpm].
    limit : Fact
        The limit, rms [V].

    Returns
    -------
    float
        Rounded down to two figures; infinite when they make no volts [rpm].

    Raises
    ------
    BadInput
        When the volts are not a number of at least 0.

    Notes
    -----
    Equation: n = limit / volts per rpm.
    Valid: volts in step with speed.
    Source: induction; limits of IEC 60364-4-41.
    """
    per_rpm = require_number(open_v_per_rpm, "volts for each rpm", "V/rpm", at_least=0)
    if per_rpm == 0.0:
        return inf
    return rounded_down(limit.value / per_rpm)
