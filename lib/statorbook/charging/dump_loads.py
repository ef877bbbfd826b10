"""Dump loads on the bank: what they have to be, and the volts relay that guards them."""

from statorbook.charging.plan import DumpElement, VoltsRelay
from statorbook.protection import dump_watts


def usual_dumps(plant, points):
    """Two elements that together take what the plant can make with its margin, each half of it."""
    watts = 0.5 * dump_watts(plant)
    ohm = points.absorption_volts**2 / watts
    names = ("dump_1", "dump_2")
    return tuple(DumpElement(output=name, ohm=ohm, cold_ohm=ohm, standing_watts=watts) for name in names)


def usual_guard(points):
    """A volts relay between alarm and limit, above and below."""
    return VoltsRelay(
        high_on_volts=0.5 * (points.alarm_high_volts + points.most_volts),
        high_off_volts=points.float_volts,
        low_off_volts=points.cut_off_volts,
        low_on_volts=points.return_volts,
    )
