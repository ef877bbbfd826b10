"""What pulls at the shaft at worst, and the rotor's way from one speed to another."""

from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from statorbook.operation import operating_points
from statorbook.quantities import RAD_S_PER_RPM

_SPEEDS = 400  # points of the drive's torque, from rest to the worst speed
_POINTS = 300  # of a way, closer together at its start
_LEFT_SHARE = 0.003  # of the way, which counts as its end
_LONGEST_S = 1e5
_CLOSE_RPM = 1e-6


@dataclass(frozen=True, kw_only=True, eq=False)
class Pull:
    """The drive's torque at each speed, in that of its states which pulls hardest; None where it keeps its speed."""

    drives: tuple
    top_rpm: float
    torque_nm: Callable | None

    def settled_rpm(self, plant):
        """The fastest speed at which any state of the bank holds it [rpm]."""
        if self.torque_nm is None:
            return self.top_rpm
        each = [plant.winding] * len(plant.bank.states)
        found = (operating_points(drive, each, plant.bank.states, plant.conditions) for drive in self.drives)
        return max(float(one.speed_rpm.max()) for one in found)

    def way(self, inertia_kgm2, start_rpm, end_rpm, against_nm=None):
        """Times and speeds from one speed to another, against a torque that hangs on the speed."""
        if self.torque_nm is None:
            return spun(None, inertia_kgm2, end_rpm, end_rpm)

        def net_nm(rpm):
            return self.torque_nm(rpm) - (against_nm(rpm) if against_nm else 0.0)

        return spun(net_nm, inertia_kgm2, start_rpm, end_rpm)

    def balance_rpm(self, start_rpm, against_nm):
        """The speed to which it goes from a given one against a torque that hangs on the speed [rpm]."""
        if self.torque_nm is None:
            return self.top_rpm
        from scipy.optimize import brentq

        def net_nm(rpm):
            return float(self.torque_nm(rpm) - against_nm(rpm))

        speeds = np.linspace(start_rpm, self.top_rpm if net_nm(start_rpm) > 0.0 else 0.0, _SPEEDS)
        ahead = self.torque_nm(speeds) > against_nm(speeds)
        changed = np.flatnonzero(ahead != ahead[0])
        return float(brentq(net_nm, *speeds[changed[0] - 1 : changed[0] + 1]) if changed.size else speeds[-1])


@lru_cache(maxsize=32)
def pull_of(drive, *, guarded, strongest):
    """A drive with its own guard at work or not, its source at its strongest or as it is described, as a Pull."""
    drives = (drive,) if guarded else (drive, drive.unguarded())
    drives = tuple(dict.fromkeys((*drives, *(one.strongest() for one in drives)) if strongest else drives))
    if any(np.isinf(one.torque_nm(0.0)) for one in drives):
        return Pull(drives=drives, top_rpm=float(max(one.runaway_speed_rpm for one in drives)), torque_nm=None)
    top = float(max(one.free_speed_rpm for one in drives))
    speeds = np.linspace(0.0, top, _SPEEDS)
    pulls = np.max([one.torque_nm(speeds) for one in drives], axis=0)
    return Pull(drives=drives, top_rpm=top, torque_nm=lambda rpm: np.interp(rpm, speeds, pulls))


def spun(net_nm, inertia_kgm2, start_rpm, end_rpm):
    """Times and speeds of a rotor on its way from one speed to its last one; the last step is taken at once."""
    # J dΩ/dt = T, Newton's second law for rotation.
    from scipy.integrate import solve_ivp

    way_rpm = end_rpm - start_rpm
    if abs(way_rpm) < _CLOSE_RPM:
        return np.array([0.0, 1.0]), np.array([start_rpm, start_rpm])

    def arrived(time_s, rpm):
        return (end_rpm - rpm[0]) / way_rpm - _LEFT_SHARE

    arrived.terminal = True
    per_nm = 1.0 / (inertia_kgm2 * RAD_S_PER_RPM)
    close = {"rtol": 1e-7, "atol": 1e-6 * abs(way_rpm), "dense_output": True}
    run = solve_ivp(lambda _, rpm: per_nm * net_nm(rpm), (0.0, _LONGEST_S), [start_rpm], events=arrived, **close)
    time_s = run.t[-1] * np.linspace(0.0, 1.0, _POINTS) ** 2
    return time_s, np.append(run.sol(time_s[:-1])[0], end_rpm)
