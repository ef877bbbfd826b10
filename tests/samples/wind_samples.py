"""Invented wind rotors, and the machine that they turn over a year."""

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
