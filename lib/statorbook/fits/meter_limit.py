"""At which speed open leads reach what the meter stands, and rows that would go past it, said before they are taken."""

from contextlib import suppress
from dataclasses import dataclass

from statorbook.bench import NAME_PLATE, NAME_PLATE_SHARE, SPIN_LOG, Meter, speed_of, star_emf_v_rms
from statorbook.errors import BadInput
from statorbook.fits.emf import MOST_EMF_V_PER_RPM
from statorbook.quantities import cell_text

_BETWEEN_LEADS = "AC line rms"


@dataclass(frozen=True, kw_only=True)
class VoltsLimit:
    """The speed at which a meter on open leads comes to its limit."""

    speed_rpm: float  # the ± of the volts taken on the safe side, as in the next two
    electrical_hz: float
    shown_v_per_rpm: float  # on the meter
    meter: Meter
    quantity: str = _BETWEEN_LEADS  # what it reads
    known: bool = True  # False when no row tells the volts yet and the strongest machine was assumed

    @property
    def words(self):
        """The limit in a sentence, with what to do."""
        at = f"{self.speed_rpm:.0f} rpm ({self.electrical_hz:.0f} Hz)"
        if not self.known:
            return (
                f"First row below {at}: the strongest machines of this kind reach {self.meter.most_volts_words}, "
                "what meter and probes stand, there."
            )
        where = "between two leads" if self.quantity == _BETWEEN_LEADS else f"in a reading of {self.quantity}"
        return (
            f"What meter and probes stand, {self.meter.most_volts_words}, comes at {at} {where}, the ± taken on "
            "the safe side: stay below it, and stop the rotor before you touch meter or leads."
        )

    def ahead_words(self, reading, stator):
        """Say that a row whose volts are not typed yet would go past the limit; empty when it stays below."""
        row, speed_rpm = reading.raw, 0.0
        if cell_text(row.get("volts")):
            return ""
        with suppress(BadInput):
            speed_rpm = speed_of(SPIN_LOG, row, reading.where, stator)[0].value
        plate = cell_text(row.get("speed_by")) == NAME_PLATE and not cell_text(row.get("electrical_hz"))
        if speed_rpm * (1.0 + NAME_PLATE_SHARE.value if plate else 1.0) <= self.speed_rpm:
            return ""
        volts = self.shown_v_per_rpm * speed_rpm
        go = f"turn slower than {self.speed_rpm:.0f} rpm ({self.electrical_hz:.0f} Hz)"
        if not self.known:
            return (
                f"{reading.where}: do not turn it at {speed_rpm:.0f} rpm yet: no row tells how many volts that "
                f"makes. For a first row {go}, by hand or with the trigger barely pulled."
            )
        trigger = "; a drill with the trigger full may turn faster than its name plate" if plate else ""
        return (
            f"{reading.where}: do not turn it at {speed_rpm:.0f} rpm: up to {volts:.0f} V "
            f"would stand at the meter, and it stands {self.meter.most_volts_words}{trigger}. For this row {go}."
        )


def volts_limit(readings, fit, stator, meter):
    """The speed at which a meter on open leads comes to its limit, from the rows at hand.

    Parameters
    ----------
    readings : sequence of SpinReading
        The spin log.
    fit : Fit or None
        Its fit; None when no row can be used yet.
    stator : Stator
        Slots and poles.
    meter : Meter
        What the volts are read with.

    Returns
    -------
    VoltsLimit
        For line volts, or for readings behind a bridge when some row holds one that shows more.

    Notes
    -----
    Equation: speed = highest volts / (EMF + its ±) / what one volt of star phase shows as, which is linear but for the
        diode drops, left out on the safe side.
    Valid: volts in step with the speed; without a fit the high end of `MOST_EMF_V_PER_RPM`.
    Source: `bench.star_emf_v_rms`.
    """
    emf = MOST_EMF_V_PER_RPM.high if fit is None else fit.estimate.value + fit.estimate.plus_minus
    kinds = {cell_text(r.raw.get("quantity")) for r in readings if r.usable} - {"AC phase rms"}
    quantity = max((_BETWEEN_LEADS, *sorted(kinds)), key=_shown_per_volt)
    per_rpm = emf * _shown_per_volt(quantity)
    speed_rpm = meter.most_volts / per_rpm
    return VoltsLimit(
        speed_rpm=speed_rpm,
        electrical_hz=stator.electrical_hz(speed_rpm),
        shown_v_per_rpm=per_rpm,
        meter=meter,
        quantity=quantity,
        known=fit is not None,
    )


def _shown_per_volt(quantity):
    """What the meter shows for one volt rms of a star phase, diode drops left out."""
    return 1.0 / (star_emf_v_rms(1.0, quantity) - star_emf_v_rms(0.0, quantity))
