"""One invented machine for the tests of comparison, verdict, one curve and figures."""

from dataclasses import replace

from statorbook.bank.battery import Bank
from statorbook.choice.comparison import Setting, compare
from statorbook.choice.machine import Machine
from statorbook.drives.known_speed import KnownSpeed
from statorbook.drives.water_jet import WaterJet
from statorbook.winding.coil import CoilConstants
from statorbook.winding.grouping import Grouping
from statorbook.winding.stator import Stator
from statorbook.winding.winding import Winding

STATOR = Stator(slots=36, poles=48)
COIL = CoilConstants(emf_v_per_rpm=0.0193, ohm=0.56, henry=0.0031)
BANK = Bank(chemistry="LiFePO4", cells=16, capacity_ah=200.0)
JET = WaterJet(head_m=28.0, nozzle_mm=14.0, pitch_diameter_mm=260.0)
SETTING = Setting(wire_diameter_mm=0.8)


def windings(stator=STATOR, coil=COIL):
    """Every legal winding of a stator."""
    return [Winding(stator=stator, coil=coil, grouping=grouping) for grouping in stator.groupings()]


def compared(*, stator=STATOR, coil=COIL, drive=JET, bank=BANK, **setting):
    """The comparison of the invented machine, with some things changed."""
    return compare(stator, coil, drive, bank, replace(SETTING, **setting))


def at_speed(working_rpm, **changes):
    """The comparison at a known speed."""
    return compared(drive=KnownSpeed(working_rpm=working_rpm), **changes)


def machine(stator=STATOR, found=None, coil=COIL, drive=JET, bank=BANK, setting=SETTING, **more):
    """An invented machine, all coils of a phase in series as found, its constants without a ±."""
    found = found or Grouping(series=stator.coils_per_phase, parallel=1)
    return Machine(
        stator=stator, found=found, coil=coil, corners=(coil,), ends=(coil,) * 6, drive=drive, bank=bank,
        setting=setting, assumed=(), **more,
    )  # fmt: skip
