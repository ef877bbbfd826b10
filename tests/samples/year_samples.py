"""Invented machines and years for the tests of the year."""

from dataclasses import replace

import numpy as np

from samples.machine_samples import BANK, COIL, JET, SETTING, STATOR
from statorbook.choice.machine import Machine
from statorbook.drives.wind_rotor import WindRotor
from statorbook.examples import jobs as example
from statorbook.job.job import Job
from statorbook.job.parts.year import YearPart
from statorbook.year.source import MONTH_HOURS, SourceYear

ROTOR = WindRotor(rotor_diameter_m=3.0, wind_m_s=6.0, furls_from_m_s=9.0)


def machine(*, stator=STATOR, coil=COIL, drive=JET, bank=BANK, **setting):
    """The invented machine of a comparison, with some things changed."""
    return Machine(
        stator=stator,
        found=None,
        coil=coil,
        corners=(),
        ends=(),
        drive=drive,
        bank=bank,
        setting=replace(SETTING, **setting),
        assumed=(),
    )


def year_of(drives, hours, setting=None, *, name="setting", unit=""):
    """A year of some drives with hours given for the whole year, spread over the months by their length."""
    months = np.outer(MONTH_HOURS / MONTH_HOURS.sum(), hours)
    setting = np.arange(len(drives), dtype=float) if setting is None else np.asarray(setting, dtype=float)
    return SourceYear(
        drives=tuple(drives), hours=months, setting=setting, setting_name=name, setting_unit=unit, words="Invented."
    )


def windy(winds_m_s, hours, rotor=ROTOR):
    """A year of winds at the hub, with the hours of each."""
    drives = [replace(rotor, wind_m_s=wind) for wind in winds_m_s]
    return year_of(drives, hours, winds_m_s, name="wind at the hub", unit="m/s")


def own_job(tmp_path, name, **year):
    """A reader's job with the machine of an example and a year of its own; no need and no prices yet."""
    like, own = example.write(tmp_path, name), Job.create("own", tmp_path)
    for part in ("stator", "coil", "drive", "bank"):
        own.save_part(part, getattr(like, part))
    own.save_part("year", YearPart(**year))
    return own
