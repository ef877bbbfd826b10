"""Set-points of a bank: usual ones for its chemistry, and what may not cross."""

from statorbook.charging.plan import SetPoints


def usual_points(bank):
    """Usual set-points of a bank, as at 25 °C."""
    at_25 = bank.cells
    high = bank.highest_volts
    return SetPoints(
        absorption_volts=bank.charging_volts,
        float_volts=0.95 * bank.charging_volts,
        equalise_volts=None,
        alarm_high_volts=0.99 * high,
        alarm_low_volts=bank.empty_volts,
        cut_off_volts=0.5 * (bank.empty_volts + bank.lowest_volts),
        return_volts=bank.half_volts,
        most_volts=high,
        least_volts=bank.lowest_volts,
        compensation_v_per_k=0.0 * at_25,
        least_charging_c=0.0,
        most_charging_c=45.0,
    )
