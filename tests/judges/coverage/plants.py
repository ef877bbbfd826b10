"""A machine as it is promised, from what the library made of the logs, and the same as it truly is."""

from contextlib import suppress
from dataclasses import dataclass, replace

import numpy as np

from samples.year_samples import year_of
from statorbook.bank.battery import Bank
from statorbook.choice.assumed_ranges import variations
from statorbook.choice.machine import Machine
from statorbook.choice.setting import Setting
from statorbook.drives.engine import Engine
from statorbook.drives.known_speed import KnownSpeed
from statorbook.drives.pedals import Pedals
from statorbook.drives.quantity import with_quantities
from statorbook.drives.water_jet import WaterJet
from statorbook.drives.wind_rotor import WindRotor
from statorbook.errors import BadInput
from statorbook.operation.speed_sweep import Conditions
from statorbook.year.weibull import RAYLEIGH_SHAPE
from statorbook.year.wind import year_of_mean_wind

SIGMAS_95 = 1.96
_OF_CONDITIONS = ("copper_c", "magnet_c", "diode_drop_v", "cable_ohm", "ac_cable_ohm", "drag_nm")
_MAY_BE_ASSUMED = (
    "efficiency", "runaway_ratio", "power_coefficient", "tip_speed_ratio", "shear_exponent", "storm_m_s",
    "chain_efficiency", "cadence_rpm", "droop", "belt_efficiency", "overspeed_ratio", "drag_nm", "diode_drop_v",
    "cable_ohm",
)  # fmt: skip
_BANKS = (("LiFePO4", 4), ("LiFePO4", 8), ("LiFePO4", 16), ("flooded lead-acid", 6), ("flooded lead-acid", 12))
_TRIES = 20
_FACTORS = (0.6, 0.8, 1.0, 1.2, 1.4)  # of the source as read, over the year


@dataclass(frozen=True, kw_only=True)
class Hours:
    """The hours of a year: of a wind of which the mean is `wind_factor` times the drive's own, or at settings."""

    wind_factor: float
    shape: float
    shape_assumed: bool
    shares: tuple  # of the year, at `_FACTORS` of the source

    def year_of(self, drive):
        """The year of a drive."""
        source = drive.quantities[0]
        if isinstance(drive, WindRotor):
            mean = self.wind_factor * source.value
            return year_of_mean_wind(drive, mean, self.shape, shape_assumed=self.shape_assumed)
        settings = [factor * source.value for factor in _FACTORS]
        drives = [with_quantities(drive, {source.field: setting}) for setting in settings]
        return year_of(drives, [8760.0 * share for share in self.shares], settings)


@dataclass(frozen=True, kw_only=True)
class Plant:
    """A machine with the hours of its year."""

    machine: Machine
    hours: Hours

    @property
    def year(self):
        """The source over the year."""
        return self.hours.year_of(self.machine.drive)


def promised(rng, stator, found, coil, bands):
    """A machine of estimated constants on a random drive and bank, and its year."""
    assumed = frozenset(name for name in _MAY_BE_ASSUMED if rng.random() < 0.5)
    chemistry, cells = _BANKS[rng.integers(len(_BANKS))]
    at_work = Conditions(
        drag_nm=float(rng.uniform(0.05, 0.4)),
        drag_nm_per_1000rpm=float(rng.uniform(0.0, 0.3)),
        cable_ohm=float(rng.uniform(0.01, 0.1)),
    )
    machine = Machine(
        stator=stator,
        found=found,
        coil=coil,
        corners=(),
        ends=bands,
        drive=_drive(rng),
        bank=Bank(chemistry=chemistry, cells=cells, capacity_ah=float(rng.uniform(100, 400))),
        setting=Setting(
            conditions=at_work,
            cold_c=float(rng.integers(-15, 10)),
            accepted_dc_volts=float(rng.choice((60.0, 120.0, 400.0))),
        ),
        assumed=(),
        assumed_fields=assumed,
        measured=frozenset(name for name in ("copper_c", "magnet_c") if rng.random() < 0.3),
    )
    hours = Hours(
        wind_factor=float(rng.uniform(0.6, 0.9)),
        shape=2.0,
        shape_assumed=bool(rng.integers(2)),
        shares=tuple(rng.dirichlet(np.ones(len(_FACTORS))).tolist()),
    )
    return Plant(machine=machine, hours=hours)


def _drive(rng):
    kind = rng.integers(5)
    if kind == 0:
        return WaterJet(
            head_m=float(rng.uniform(10, 50)),
            nozzle_mm=float(rng.uniform(8, 20)),
            pitch_diameter_mm=float(rng.uniform(180, 350)),
        )
    if kind == 1:
        return WindRotor(
            rotor_diameter_m=float(rng.uniform(2.0, 4.0)),
            wind_m_s=float(rng.uniform(5.0, 9.0)),
            hub_height_m=float(rng.uniform(10.0, 20.0)),
            furls_from_m_s=float(rng.uniform(9.0, 12.0)),
        )
    if kind == 2:
        return Pedals(rider_watts=float(rng.uniform(70, 150)), gear_ratio=float(rng.uniform(4.0, 8.0)))
    if kind == 3:
        return Engine(
            rated_watts=float(rng.uniform(800, 2500)), engine_rpm=3000.0, pulley_ratio=float(rng.uniform(0.1, 0.3))
        )
    return KnownSpeed(working_rpm=float(rng.uniform(150, 700)))


def as_it_is(rng, plant, coil):
    """The same with the true coil, and everything that the library says is assumed, off at once."""
    now = plant.machine
    true = replace(now, coil=coil)
    for variation in variations(now):
        true = _off(rng, true, variation)
    shape = _drawn(rng, plant.hours.shape, (RAYLEIGH_SHAPE.low, RAYLEIGH_SHAPE.high))
    hours = replace(plant.hours, shape=shape) if plant.hours.shape_assumed else plant.hours
    return Plant(machine=true, hours=hours)


def _off(rng, machine, variation):
    """With one thing off; what no drive can have is drawn once more."""
    for _ in range(_TRIES):
        with suppress(BadInput):
            return _with(machine, variation.name, _drawn(rng, variation.value, variation.ends_at))
    return machine


def _drawn(rng, value, ends):
    low, high = ends
    sigma = rng.normal() / SIGMAS_95
    return value + (high - value if sigma > 0.0 else value - low) * sigma


def _with(machine, name, value):
    setting, drive = machine.setting, machine.drive
    if name in _OF_CONDITIONS:
        value = value if name.endswith("_c") else max(value, 0.0)
        return replace(machine, setting=replace(setting, conditions=replace(setting.conditions, **{name: value})))
    if name == "cold_c":
        return replace(machine, setting=replace(setting, cold_c=value))
    if name == "inner_ohm":
        return replace(machine, bank=replace(machine.bank, inner_ohm=max(value, 0.0)))
    if name == "source":
        return replace(machine, drive=with_quantities(drive, {drive.quantities[0].field: value}))
    return replace(machine, drive=replace(drive, **{name: value}))
