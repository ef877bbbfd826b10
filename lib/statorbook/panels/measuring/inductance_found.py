"""The inductance by each way that a job holds readings for: the shorted log, or what does without it."""

from dataclasses import replace

from statorbook.errors import BadInput
from statorbook.fits import combined, from_lcr, from_load, from_resistors


def ways_to_inductance(job, found):
    """The henries of one star phase as estimates, by each way that was read and is not set aside."""
    facts, read = job.stator, job.henries
    made = {} if found.henry.assumed else {"shorted log": found.henry}
    if read is None:
        return made
    machine = (facts.to_stator(), found.emf_v_per_rpm, found.ohm)
    if read.lcr_henry is not None:
        made["LCR meter"] = from_lcr(read.lcr_henry, rotor_on=read.lcr_rotor == "in place")
    if read.loaded and not set_aside(job):
        at = {"speed_rpm": read.load_rpm, "dc_amps": read.load_dc_amps, "dc_volts": read.load_dc_volts}
        at["copper_c"] = read.load_copper_c
        made["loaded reading"] = from_load(*machine, **at, conductor=facts.conductor)
    for reading in read.on_resistors:
        way = "amps on resistors" if "line_amps" in reading else "volts on resistors"
        made[way] = from_resistors(*machine, **reading, conductor=facts.conductor)
    return made


def with_other_ways(job, found):
    """What the leads show, with the inductance of the other ways where the shorted log tells none."""
    others = ways_to_inductance(job, found) if found.henry.assumed else {}
    return replace(found, henry=combined(others)[0]) if others else found


def set_aside(job):
    """Why the loaded reading is not used; empty when it is."""
    read, bank = job.henries, job.bank
    try:
        if read is not None and bank is not None:
            read.require_load_volts(bank.to_bank())
    except BadInput as refusal:
        return f"Kept, but set aside – {refusal}"
    return ""
