"""An invented wind machine whose choice at its mean wind is not the choice of its year."""

from dataclasses import replace

import numpy as np

from samples.year_samples import machine, windy
from statorbook.bank.battery import Bank
from statorbook.choice.machine import ends
from statorbook.drives.wind_rotor import WindRotor
from statorbook.job.job import Job
from statorbook.job.parts.registry import BankPart, CoilPart, DrivePart, StatorPart
from statorbook.quantities.estimate import Estimate
from statorbook.winding.coil import CoilConstants
from statorbook.winding.stator import Stator

MEAN_M_S = 5.5
ROTOR = WindRotor(rotor_diameter_m=3.0, wind_m_s=MEAN_M_S, furls_from_m_s=11.0)
WINDS_M_S = np.arange(0.5, 25.1, 0.5)
# Rayleigh's distribution: the share of the time below v is 1 - exp(-π/4 (v / mean)²); each wind has half a step to
# both sides.
_BELOW = 1.0 - np.exp(-np.pi / 4.0 * (np.append(np.append(0.0, WINDS_M_S[:-1] + 0.25), 99.0) / MEAN_M_S) ** 2)
HOURS = 8760.0 * np.diff(_BELOW)


def wind_machine(**setting):
    """14 coils a phase, so 1, 2, 7 or 14 paths; volts accepted far above all."""
    return machine(
        stator=Stator(slots=42, poles=56),
        coil=CoilConstants(emf_v_per_rpm=0.03, ohm=0.36, henry=0.0045),
        drive=ROTOR,
        bank=Bank(chemistry="LiFePO4", cells=8, capacity_ah=200.0),
        **{"accepted_dc_volts": 1000.0, "wire_diameter_mm": None} | setting,
    )


def rayleigh_year():
    """Its year."""
    return windy(WINDS_M_S, HOURS, ROTOR)


def doubtful_machine(**setting):
    """The same with a ± on each constant of its coil, and things about its rotor that nobody measured."""
    now = wind_machine(**setting)
    assumed = {"power_coefficient", "tip_speed_ratio", "storm_m_s", "drag_nm", "diode_drop_v"}
    return replace(now, ends=ends(*BANDS), assumed_fields=frozenset(assumed))


def _band(value, plus_minus, unit):
    return Estimate(value=value, plus_minus=plus_minus, unit=unit, how="invented")


BANDS = (_band(0.03, 0.0009, "V/rpm"), _band(0.36, 0.012, "Ω"), _band(0.0045, 0.0003, "H"))


def wind_job(folder):
    """The same as a job: stator, coil, drive and bank filled in, no year."""
    job = Job.create("hill", folder)
    coil = {f"{name}{end}": value for name, value, end in _coil_fields()}
    job.save_part("stator", StatorPart(slots=42, poles=56, found_connection="star"))
    job.save_part("coil", CoilPart(**coil))
    rotor = {"rotor_diameter_m": 3.0, "wind_m_s": MEAN_M_S, "furls_from_m_s": 11.0, "drag_nm": 0.0}
    job.save_part("drive", DrivePart(kind="wind rotor", **rotor))
    job.save_part("bank", BankPart(chemistry="LiFePO4", cells=8, capacity_ah=200.0, accepted_volts=1000.0))
    return job


def _coil_fields():
    names = (("emf", "_v_per_rpm"), ("ohm", ""), ("henry", ""))
    for (name, unit), band in zip(names, BANDS, strict=True):
        yield f"{name}", band.value, unit
        yield f"{name}_plus_minus", band.plus_minus, unit
