"""The volts that a step-down converter holds at its input: those of most power, raised where a limit asks for less."""

from dataclasses import dataclass

import numpy as np

from statorbook.errors import BadInput

# Most power lies near half of the volts at no load, wherever between resistance and reactance: the grid of shares.
_SHARES = np.linspace(0.2, 0.9, 9)
_NEAR = 0.02  # of the no-load volts: half the width of the last, narrow look
_STEPS = np.linspace(0.0, 1.0, 9)[1:]  # in which a limit is looked for from no load on, each time closer
_NARROWINGS = 2
_FLAT = 1e-7
_FALL = 0.7  # of the best: a neighbour below it lies beyond an edge
OPEN_VOLTS = 1e9  # stands for an input that takes nothing
_LEAST_VOLTS = 1e-3


@dataclass(frozen=True, kw_only=True)
class Limits:
    """What converters allow and lose, as columns of shape (g, 1)."""

    low_volts: np.ndarray  # of the window, never below the bank's
    high_volts: np.ndarray
    most_input_watts: np.ndarray  # from the limits on output watts and amps; infinite without
    most_input_amps: np.ndarray
    efficiency: np.ndarray
    idle_watts: np.ndarray

    @staticmethod
    def of(converters, banks):
        """The columns of converters on their banks; None when there are none."""
        if all(converter is None for converter in converters):
            return None
        if any(converter is None for converter in converters):
            raise BadInput(
                "some cases with a converter and some without were given",
                "all with or all without are allowed at once",
                "work them out in two calls",
                where="converter",
            )
        rows = [_row(converter, bank) for converter, bank in zip(converters, banks, strict=True)]
        names = ("low_volts", "high_volts", "most_input_watts", "most_input_amps", "efficiency", "idle_watts")
        return Limits(**{name: np.array(column)[:, None] for name, column in zip(names, zip(*rows), strict=True)})

    def only(self, rows):
        """Some of them, by indices."""
        return Limits(**{name: value[rows] for name, value in vars(self).items()})

    def held_at(self, dc_volts):
        """The same with inputs held at given volts, shape (g, 1)."""
        return Limits(**{**vars(self), "low_volts": dc_volts, "high_volts": dc_volts})

    @property
    def holds(self):
        """True when all of them hold given volts and seek none."""
        return bool(np.all(self.low_volts == self.high_volts))

    def exceeded(self, watts, amps):
        """Where more comes in than they take, as an array of bool."""
        return (watts > self.most_input_watts) | (amps > self.most_input_amps)

    def given_watts(self, input_watts):
        """Watts into the bank; below 0 where they draw from it."""
        return self.efficiency * input_watts - self.idle_watts


def _row(converter, bank):
    most = [] if converter.most_output_watts is None else [converter.most_output_watts]
    if converter.most_output_amps is not None:
        most.append(converter.most_output_amps * (bank.volts + bank.ohm * converter.most_output_amps))
    least = lowest_volts(converter, bank)
    return (
        least,
        max(converter.high_volts, least),
        (min(most) + converter.idle_watts) / converter.efficiency if most else np.inf,
        np.inf if converter.most_input_amps is None else converter.most_input_amps,
        converter.efficiency,
        converter.idle_watts,
    )


def lowest_volts(converter, bank):
    """Lowest input volts at which it charges a bank; out of reach where its window lies below the bank's volts."""
    return max(converter.low_volts, bank.volts) if converter.high_volts >= bank.volts else OPEN_VOLTS


def bank_amps(watts, bank_volts, bank_ohm):
    """Mean amps into a bank that takes watts at its terminals; below 0 where it gives them."""
    # The root of r I² + E I = P that is small, without a difference of near alike numbers; the least root when the
    # bank could not even give what is drawn.
    root = np.sqrt(np.maximum(bank_volts**2 + 4.0 * bank_ohm * watts, 0.0))
    return 2.0 * watts / (bank_volts + root)


def best_volts(load, speed_rpm):
    """Input volts within the window that give most watts at each speed, shape (g, n); the held ones where held."""
    limits, shape = load.converter, np.shape(speed_rpm)
    if limits.holds:
        return np.broadcast_to(limits.low_volts, shape).copy()
    rows = np.repeat(np.arange(shape[0]), shape[1])
    every, speed = load.only(rows), np.reshape(speed_rpm, (-1, 1))
    reach = np.maximum(every.open_dc_volts(speed), _LEAST_VOLTS)

    def watts(shares):
        return every.bridged(speed, shares * reach, every.cable_ohm).dc_watts

    share = peak(np.broadcast_to(_SHARES, (len(rows), len(_SHARES))), watts(_SHARES))
    near = share + _NEAR * np.array([-1.0, 0.0, 1.0])
    volts = peak(near, watts(near)) * reach
    return np.clip(volts, every.converter.low_volts, every.converter.high_volts).reshape(shape)


def peak(places, heights):
    """Where rows of evenly spaced places, shape (m, j), are highest, by a parabola round the best, shape (m, 1)."""
    rows, best = np.arange(len(heights))[:, None], np.argmax(heights, axis=1)[:, None]
    middle = np.clip(best, 1, heights.shape[1] - 2)
    before, at, after = (heights[rows, middle + side] for side in (-1, 0, 1))
    bend = before - 2.0 * at + after
    # Beside a fall to nothing, where a rotor stalls, and on the flat of a limit a parabola says nothing.
    fair = (np.minimum(before, after) > _FALL * at) & (np.maximum(before, after) < (1.0 - _FLAT) * at)
    fair |= (bend < 0.0) & (best != middle)
    step = np.divide(0.5 * (before - after), bend, out=(best - middle).astype(float), where=fair)
    return places[rows, middle] + np.clip(step, -1.0, 1.0) * (places[rows, middle + 1] - places[rows, middle])


def trial_volts(load, top_rpm, count):
    """Volts through each converter's window, up to those at no load at a top speed, shape (g, count)."""
    limits = load.converter
    most = np.clip(load.open_dc_volts(top_rpm), limits.low_volts, limits.high_volts)
    return between(limits.low_volts, most, count)


def between(low_volts, high_volts, count):
    """Volts from one column of shape (g, 1) to another in equal ratios, shape (g, count)."""
    volts = low_volts * (high_volts / low_volts) ** np.linspace(0.0, 1.0, count)
    return np.clip(volts, low_volts, high_volts)


def raised_volts(load, speed_rpm, volts, over, *, tries):
    """The same volts, raised at the places of a mask so far that a limit holds, shape (g, n)."""
    # Raised and not lowered: a step-down converter that closes its switch for less of the time takes less current in,
    # and the volts of the machine rise. They are the highest at which the limit is just met, as reached from no load,
    # whatever was held, so the tries of one winding share them.
    once = over.reshape(-1, tries, over.shape[1])
    rows, columns = np.nonzero(once.any(axis=1))
    every, speed = load.only(rows * tries), np.asarray(speed_rpm)[rows * tries, columns][:, None]
    lowest = np.where(once, volts.reshape(once.shape), np.inf).min(axis=1)[rows, columns][:, None]
    drop = 2.0 * every.diode_drop_v
    reach = every.open_dc_volts(speed) + drop
    held = np.arccos(np.clip((lowest + drop) / reach, 0.0, 1.0))

    def volts_at(share):
        return np.maximum(reach * np.cos(share * held) - drop, 0.0)

    def beyond(share):
        got = every.bridged(speed, volts_at(share), every.cable_ohm)
        limits = every.converter
        return np.maximum(got.dc_watts / limits.most_input_watts, got.dc_amps / limits.most_input_amps) - 1.0

    raised = np.zeros((len(once), over.shape[1]))
    raised[rows, columns] = volts_at(_first_root(beyond, len(rows)))[:, 0]
    return np.where(over, np.repeat(raised, tries, axis=0), volts)


def _first_root(beyond, count):
    """Where functions on 0 to 1, below 0 at 0 and above at 1, first pass 0, shape (count, 1)."""
    # By narrowing grids: a root finder that is called at each speed of a sweep takes several times as long.
    low, high, below, above = np.zeros((count, 1)), np.ones((count, 1)), np.full((count, 1), -1.0), None
    for _ in range(_NARROWINGS):
        grid = low + (high - low) * _STEPS
        values = beyond(grid)
        first = np.argmax(values >= 0.0, axis=1)[:, None]
        below = np.where(first > 0, np.take_along_axis(values, np.maximum(first - 1, 0), axis=1), below)
        above = np.take_along_axis(values, first, axis=1)
        low = np.where(first > 0, np.take_along_axis(grid, np.maximum(first - 1, 0), axis=1), low)
        high = np.take_along_axis(grid, first, axis=1)
    return low - below * np.divide(high - low, above - below, out=np.zeros_like(low), where=above > below)
