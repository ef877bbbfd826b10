"""What happens if something goes wrong at the bank: fuse, control, dump load, inverter, cold, a cable reversed."""

from math import inf

from statorbook.bank import short_circuit, ventilation
from statorbook.cable import cable_ohm
from statorbook.cautions import Exposure, Instruction
from statorbook.operation import operating_points
from statorbook.protection.cable_run import AT_MACHINE
from statorbook.protection.drive_words import words_of
from statorbook.protection.enclosures import makes_gas
from statorbook.protection.fuse import fuse_needs
from statorbook.protection.fuse_curve import opens_within_s
from statorbook.protection.guard_needs import dump_watts, guard_needs, limit_of
from statorbook.protection.heat_at_work import two_figures
from statorbook.protection.load_lost import load_lost
from statorbook.protection.mishap import Mishap, amps_said, whole_volts
from statorbook.quantities import say


def fuse_opens(plant):
    """The bank comes off while it charges."""
    lost, (limit, whose) = load_lost(plant), limit_of(plant)
    seconds = lost.seconds_to(limit)
    leap = f"from {whole_volts(lost.bank_dc_volts)} the volts leap to {whole_volts(lost.at_once_dc_volts)} at once and"
    then = (
        f"nothing holds the rotor: {leap if lost.amps_before else 'the volts'} rise with the speed, to "
        f"{whole_volts(lost.ends_dc_volts)} at {say(lost.ends_rpm, 'rpm')}."
    )
    return Mishap(
        name=f"the bank fuse opens at full {words_of(plant.drive).full}",
        then=then,
        volts=lost.highest_dc_volts,
        volts_where="DC at the rectifier",
        amps=lost.amps_before,
        amps_where="DC, broken in an arc" if lost.amps_before else "flow",
        seconds=seconds,
        until=f"never past {_limit(limit, whose)}" if seconds == inf else f"to {_limit(limit, whose)}",
        hurt=_hurt_by_volts(lost, limit),
        guard=_kept(plant, limit),
    )


def _limit(limit, whose):
    return f"{whole_volts(limit)}, {whose}"


def _hurt_by_volts(lost, limit):
    if lost.highest_dc_volts <= limit:
        return "nothing that stands those volts; hands on bare parts"
    return "whatever still hangs on the rectifier, the diodes, hands on bare parts"


def _kept(plant, limit):
    """The over-voltage load that the reader has, or the one that is needed."""
    needs = guard_needs(plant)
    if plant.guard is not None:
        highest = load_lost(plant, load=plant.guard).highest_dc_volts
        verdict = "keeps it below" if highest <= limit else "does not keep it below"
        return f"your over-voltage load {verdict} {whole_volts(limit)}: up to {whole_volts(highest)}"
    if not needs.is_needed:
        return "none is needed for the volts; live parts covered"
    if needs.ohm is None or needs.comes_too_late:
        return "none fits below that limit: fewer coils in series, or a device that stands more"
    return (
        f"an over-voltage load at the rectifier, on at {whole_volts(needs.set_dc_volts)}, at most "
        f"{say(needs.ohm, 'Ω', figures=2)}, at least {two_figures(needs.watts, 'W')}, on the rectifier's side "
        "of every fuse and switch"
    )


def control_sticks(plant):
    """Everything goes into a bank that is full."""
    amps, bank = plant.most.dc_amps, plant.bank
    return Mishap(
        name="the charge control sticks open",
        then=f"all that the machine makes goes into the bank, also when that is full. {_overcharged(bank, amps)}",
        volts=bank.highest_volts,
        volts_where="DC at the bank, and rising",
        amps=amps,
        amps_where="DC into the bank, the most that it makes",
        seconds=_to_full_s(bank, amps),
        until="from half full to full, overcharged from then on",
        hurt=_bank_hurt(bank),
        guard="a second control that works by itself and on another principle; neither alone is enough",
    )


def _to_full_s(bank, amps):
    return 1800.0 * bank.capacity_ah / amps if amps else inf


def _overcharged(bank, amps):
    air = ventilation(bank, amps)
    if air is None:
        return "Its own electronics part it then, and that is the row “the bank fuse opens”."
    fresh = two_figures(air.uncontrolled_m3_h, "m³/h")
    return f"Full, it gives off hydrogen, which explodes from 4 % of the air on: its place needs {fresh} of fresh air."


def _bank_hurt(bank):
    if makes_gas(bank):
        return "the bank; whoever brings a flame or a spark into its gas"
    return "the bank, which can burn when its electronics fail too"


def dump_burns_out(plant):
    """The dump load no longer takes what the full bank cannot."""
    amps, volts = plant.settled(2).dc_amps, plant.bank.highest_volts
    return Mishap(
        name="the dump element burns out",
        then=f"what it burnt, about {two_figures(volts * amps, 'W')}, goes into a bank that is full. "
        f"{_overcharged(plant.bank, amps)}",
        volts=volts,
        volts_where="DC over the broken element",
        amps=amps,
        amps_where="DC into the full bank",
        seconds=0.0,
        until="since the bank is full whenever it dumps",
        hurt=_bank_hurt(plant.bank),
        guard=f"a second dump load on a control of its own, each for {two_figures(dump_watts(plant), 'W')}, and a lamp "
        "that shows its current",
    )


def inverter_trips(plant):
    """Nobody takes the power any longer."""
    working, bank = plant.working, plant.bank
    full = _to_full_s(bank, working.dc_amps)
    return Mishap(
        name="the inverter trips",
        then="the house is dark and the machine does not notice: the bank holds the volts and takes everything, until "
        "it is full.",
        volts=bank.charging_volts,
        volts_where="DC, held by the bank",
        amps=working.dc_amps,
        amps_where="DC into the bank",
        seconds=full,
        until="from half full to full" if working.dc_amps else "it does not charge",
        hurt="nobody at once; then the bank, as when the charge control sticks",
        guard="a dump load that takes all of it and does not need the inverter",
    )


def cold_and_full(plant):
    """The control lets a cold bank rise to its highest volts."""
    bank, device = plant.bank, plant.machine.setting.device_max_volts
    found = operating_points(plant.drive, [plant.winding], bank.states[2], plant.cold)
    cold = "Cold magnets make more volts as well."
    if makes_gas(bank):
        then = f"a control that knows the temperature lets it rise to {whole_volts(bank.highest_volts)}. {cold}"
    else:
        then = (
            f"{bank.chemistry} must not be charged in frost: its electronics part it, and that is the row “the bank "
            f"fuse opens”. {cold}"
        )
    return Mishap(
        name="the bank is nearly full in the cold",
        then=then,
        volts=bank.highest_volts,
        volts_where="DC at bank and inverter",
        amps=float(found.dc_amps[0, 0]),
        amps_where="DC into the nearly full bank",
        seconds=0.0,
        until="every cold night",
        hurt=f"{_cold_inverter(device, bank.highest_volts)}; the bank, if it is charged frozen",
        guard=f"an inverter and a control for more than {whole_volts(bank.highest_volts)}, and a sensor on the cells",
    )


def _cold_inverter(device_max_volts, dc_volts):
    if device_max_volts is None:
        return "the inverter, if it stands less: its highest input is not known"
    if device_max_volts < dc_volts:
        return f"the inverter, which stands {whole_volts(device_max_volts)} only"
    return f"not the inverter, which stands {whole_volts(device_max_volts)}"


def cable_reversed(plant):
    """The bank drives its short-circuit amps through all diodes."""
    run, fuse = plant.run, plant.fuse
    ohm = float(cable_ohm(run.length_m, run.area_mm2)) if run.rectifier_at == AT_MACHINE else 0.0
    amps = short_circuit(plant.bank, outside_ohm=ohm)
    size = fuse.amps if fuse else fuse_needs(plant).size_amps
    seconds = opens_within_s(size, amps.least_amps) if size else inf
    named = f"a fuse of {say(size, 'A', form='g')}" if size else "a fuse for such amps"
    first, gone = "", "the diodes"
    if plant.conditions.converter:
        first, gone = " The converter between them shorts it first.", "converter and diodes"
    return Mishap(
        name="the cable is reversed at the bank",
        then="the diodes stand the right way for the bank: two at a time short it, in all three legs, also with the "
        f"rotor at rest.{first}",
        volts=plant.bank.highest_volts,
        volts_where="DC across cable and diodes",
        amps=amps.most_amps,
        amps_where=f"DC through the rectifier, {amps_said(amps.least_amps)} at least",
        seconds=seconds,
        until=f"until {named} opens, at the latest"
        if seconds < inf
        else f"until something burns: {named} need never open",
        hurt=f"{gone}, which may go before the fuse; eyes and hands by the arc; the cable if there is no fuse",
        guard=Instruction(
            "the fuse at the bank; plus and minus measured before the fuse goes in, with the rotor at rest",
            (Exposure.BANK, Exposure.STANDING),
        ),
    )
