"""Invented wind rotors, the machine that they turn over a year, and a year of wind as a logger writes it."""

import numpy as np

from samples.machine_samples import BANK, COIL, SETTING, STATOR, windings
from statorbook.choice.machine import Machine
from statorbook.drives.wind_rotor import WindRotor

ROTOR = WindRotor(rotor_diameter_m=3.0, wind_m_s=5.0)
FURLING = WindRotor(rotor_diameter_m=3.0, wind_m_s=5.0, hub_height_m=18.0, furls_from_m_s=9.1)
WINDING = windings()[1]


def machine(drive=ROTOR):
    """The invented machine with a rotor on it."""
    return Machine(
        stator=STATOR, found=None, coil=COIL, corners=(), ends=(), drive=drive, bank=BANK, setting=SETTING, assumed=()
    )


HOURLY = np.datetime64("2025-01-01T00:00") + np.arange(8760) * np.timedelta64(1, "h")


def drawn(count=8760, seed=1):
    """Rayleigh winds with a mean of 5 m/s."""
    return 5.0 * np.sqrt(4.0 / np.pi) * np.random.default_rng(seed).weibull(2.0, count)


WINDS = np.round(drawn(), 1)


def stamped(times, order="%Y-%m-%d %H:%M"):
    return [time.strftime(order) for time in times.astype("datetime64[s]").tolist()]


def wind_text(times=HOURLY, winds=WINDS, *, head="Time,Wind [m/s]", mark=",", order="%Y-%m-%d %H:%M", comma="."):
    cells = (f"{wind:.1f}".replace(".", comma) for wind in winds)
    return "\n".join([head, *(mark.join(row) for row in zip(stamped(times, order), cells, strict=True))])
