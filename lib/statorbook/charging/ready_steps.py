"""The volts at which ready rules take hold one after the other, between absorption, high alarm and volts relay."""

from dataclasses import dataclass, replace

from statorbook.charging.dump_loads import usual_guard
from statorbook.charging.set_points import volts_at

_MOST_STEP = 0.01  # of the absorption volts, between two steps; a hand rule, assumed
_TOP = "_top"


@dataclass(frozen=True, kw_only=True)
class Steps:
    """Steps for heaters, dump loads and stop, as volts at 25 °C and as they are."""

    absorption_volts: float
    float_volts: float
    width_volts: float  # between two steps as at 25 °C
    relay_volts: float  # at which the volts relay acts, whatever the temperature
    top_width_volts: float  # between two steps below it
    count: int  # steps below the volts relay
    has_tops: bool  # whether warm or cold cells shift the steps against the volts relay

    def at(self, step):
        """Volts as at 25 °C of a step, from 0 at absorption."""
        return _volts(self.absorption_volts + step * self.width_volts)

    def between(self, share):
        """Volts on the way from float to absorption."""
        return _volts(self.float_volts + share * (self.absorption_volts - self.float_volts))

    def with_tops(self, rules, step):
        """The rules of a step, each with another one on the volts as they are, below those of the volts relay."""
        if not self.has_tops:
            return tuple(rules)
        volts = _volts(self.relay_volts - (self.count - step) * self.top_width_volts)
        note = "In the cold: below the volts relay, which knows no temperature."
        tops = [replace(r, name=r.name + _TOP, input="bank_volts", on_at=volts, note=note) for r in rules]
        return tuple(each for pair in zip(rules, tops, strict=True) for each in pair)


def steps_of(points, dumps, cell_c):
    """The steps of a bank with so many dump loads, its cells usually that warm: heaters, each load, the stop."""
    relay_volts, count = usual_guard(points, cell_c=cell_c).high_on_volts, dumps + 2
    charged, floated = (volts_at(v, points, cell_c) for v in (points.absorption_volts, points.float_volts))
    # With a band that heat nearly closes the volts relay is as low as absorption; then the steps below it come first.
    has_room = relay_volts > charged
    relay_at_25 = points.absorption_volts + relay_volts - charged
    top = min(points.alarm_high_volts, relay_at_25) if has_room else points.alarm_high_volts
    below = (relay_volts - charged) / (count + 1) if has_room else 0.5 * max(relay_volts - floated, 0.0) / count
    most = _MOST_STEP * points.absorption_volts
    return Steps(
        absorption_volts=points.absorption_volts,
        float_volts=points.float_volts,
        width_volts=min(max(top - points.absorption_volts, 0.0) / (count + 1), most),
        relay_volts=relay_volts,
        top_width_volts=min(below, most),
        count=count,
        has_tops=points.compensation_v_per_k != 0.0,
    )


def _volts(value):
    return round(float(value), 2)
