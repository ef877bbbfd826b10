"""The first page of the sheets in words: what is found, wanted and promised, what can hurt, and what to buy."""

import re
from dataclasses import dataclass
from math import ceil, floor

from statorbook.assembly import choice_of, choice_words, machine_from, year_promise_words
from statorbook.choice import rounded, source_words, with_plus_minus
from statorbook.errors import BadInput
from statorbook.operation import grade, open_circuit_volts
from statorbook.quantities import Fact, awg_diameter_mm, filled, say, units_now
from statorbook.rewiring import JUMPER_A_PER_MM2, JUMPER_ALLOWANCE_MM, WIRE_SIZES_MM2, wire_mm2
from statorbook.winding import STAR_POINT, Winding, wire_area_mm2

BRISK_HAND_RPM = Fact(
    value=200.0, unit="rpm", low=60.0, high=300.0, source="a rotor swung round by hand, common practice, no source"
)
TIE_EVERY_MM = Fact(
    value=100.0, unit="mm", low=50.0, high=150.0, source="lacing of coil heads, common practice, no source"
)
_UNKNOWN_MM = "length not known: diameter not given, measure the jumper at the stator"
_UNIT = re.compile(r" \[[^]]*\]$")
# Sizes that are sold as stranded wire; 0 and below are 1/0, 2/0 and so on.
_AWG_SIZES = (20, 18, 16, 14, 12, 10, 8, 6, 4, 2, 1, 0, -1, -2, -3)
_BEFORE_WORK = (
    "Before any work: bank switched off, its fuse pulled, the three leads off the rectifier, and the rotor out or tied "
    "so that it cannot turn."
)
_AT_WORK = (
    (
        "Strong magnets snap the rotor onto the stator: keep fingers out of the gap. A spinning rotor takes hair, "
        "sleeves and cords."
    ),
    (
        "A soldering iron is {350 °C} hot and enamel and flux give off fumes that harm: work outdoors or in a draught, "
        "with glasses on."
    ),
    "Sleeve every joint and tie every wire down clear of the rotor: a loose wire is torn off, and it may be live.",
    (
        "Before the first spin measure the insulation from the joined leads to the iron: below 1 MΩ it does not turn "
        "(common practice, no source)."
    ),
    "The local electrical code and a licensed person have the last word. These sheets are computed, not certified.",
)


@dataclass(frozen=True, kw_only=True)
class Summary:
    """The words of the first page."""

    found: str  # the machine and its wiring
    wanted: str  # the grouping that the work makes, and how much work it is
    promise: str  # what it is worked out to do
    cautions: tuple  # what can hurt or kill, one sentence or two each
    assumed: tuple  # what was not measured
    materials: tuple  # wire, sleeves and ties


def summary_of(job, plan):
    """The first page from a job and its plan, which has to be for the grouping chosen; in the reader's units."""
    machine, choice = machine_from(job), choice_of(job)
    _require_chosen(plan, choice)
    found = machine.compared()
    row = next(row for row in found.rows if row.grouping == plan.grouping)
    return Summary(
        found=_found_words(job, plan),
        wanted=_wanted_words(plan),
        promise=_promise_words(choice, row, with_plus_minus(machine, plan.grouping)),
        cautions=_cautions(job, machine, choice, row),
        assumed=_assumed(machine),
        materials=materials(plan, row.most.coil_amps_rms, row.most.lead_amps_rms),
    )


def _require_chosen(plan, choice):
    chosen = choice.to_grouping()
    if plan.grouping != chosen:
        raise BadInput(
            f"the plan makes {plan.grouping.label}",
            f"the grouping chosen is {chosen.label}",
            "plan again, or choose again on page 04_choose_a_grouping",
            where="sheets",
        )


def materials(plan, path_amps_rms, lead_amps_rms):
    """What to buy for a plan: jumpers, each bus, joints with their sleeves, ties."""
    joints = 2 * len(plan.joins) + sum(_joints_of(plan, name) for name in plan.bus_mm)
    if not joints:
        return ("No wire and no solder needed: the winding is already wired this way.",)
    return (
        f"Wire: insulated stranded copper, for {say(105.0, '°C')} or more, because it lies against hot coils.",
        *((_jumper_words(plan, path_amps_rms),) if plan.joins else ()),
        *((_bus_words(plan, lead_amps_rms),) if plan.bus_mm else ()),
        f"Soldered joints: {joints}. Sleeves: {joints}, of a kind that stands {say(150.0, '°C')}, each well "
        "longer than its joint.",
        _tie_words(plan, joints),
    )


def _joints_of(plan, name):
    """Ends brought to a bus, and what is there already: a lead's own cable or the rest of a star point."""
    there = [old for old, (heir, ends) in plan.stays.items() if heir == name and (ends or old != STAR_POINT)]
    return len(plan.new_on_bus[name]) + len(there)


def _jumper_words(plan, amps):
    wire = _wire_words(amps)
    words = f"Jumpers: {len(plan.joins)}, {wire} for at most {amps:.1f} A rms in each path"
    if plan.diameter_mm is None:
        return f"{words}; {_UNKNOWN_MM}."
    total, longest = (_length(mm) for mm in (plan.total_jumper_mm, max(plan.jumper_mm)))
    return f"{words}; {total} in all, the longest {longest}, tails included."


def _bus_words(plan, amps):
    lengths = plan.bus_mm.items()
    words = f"To bring ends together: {_wire_words(amps)} for at most {amps:.1f} A rms"
    if plan.diameter_mm is None:
        return f"{words}, for {', '.join(plan.bus_mm)}; {_UNKNOWN_MM}."
    return f"{words}: {', '.join(f'{name} {_length(mm)}' for name, mm in lengths)}."


def _tie_words(plan, joints):
    every = say(TIE_EVERY_MM.value, "mm", figures=2)
    if plan.diameter_mm is None:
        return f"Ties of lacing cord or glass tape: {joints} beside the joints, and one every {every} of wire."
    lengths = [*plan.jumper_mm, *plan.bus_mm.values()]
    between = sum(floor(length / TIE_EVERY_MM.value) for length in lengths)
    return f"Ties of lacing cord or glass tape: {joints + between}, one beside each joint and every {every} of wire."


def _length(mm):
    return say(mm / 1000.0, "m", figures=2)


def _wire_words(amps_rms):
    """The wire in mm², several side by side where no single one carries it, for US readers with the gauge."""
    wires = max(1, ceil(amps_rms / (WIRE_SIZES_MM2[-1] * JUMPER_A_PER_MM2.value)))
    area = wire_mm2(amps_rms / wires)
    gauge = next((n for n in _AWG_SIZES if wire_area_mm2(awg_diameter_mm(n)) >= area), None)
    beside = f" or AWG {_gauge_name(gauge)}" if units_now() == "US" and gauge is not None else ""
    return f"{f'{wires} × ' if wires > 1 else ''}{area:g} mm²{beside}"


def _gauge_name(number):
    return str(number) if number > 0 else f"{1 - number}/0"


def _found_words(job, plan):
    stator = plan.found.stator
    note = f" Your mark: {job.stator.mark_note}" if job.stator.mark_note.strip() else ""
    return f"{stator.slots} slots, {stator.poles} magnet poles; {plan.found.grouping.label}.{note}"


def _wanted_words(plan):
    laid = {"neighbours": "each path of neighbouring coils", "spread": "each path spread round the ring"}[plan.layout]
    cuts, joins = plan.counts["cuts"], plan.counts["joins"]
    return f"{plan.grouping.label}, {laid}: {cuts} cuts, {joins} jumpers, {len(plan.bus_mm)} points to bring together."


def _promise_words(choice, row, spread):
    year = year_promise_words(choice)
    over_year = f"Over the year that was added up: {year}. " if year else ""
    watts, amps = (rounded(spread[name].plus_minus, spread[name].plus_minus) for name in ("bank_watts", "dc_amps"))
    return (
        f"About {choice.dc_watts:.0f} W ({choice.dc_amps:.1f} A) into the bank at {choice.bank_volts:.1f} V DC and "
        f"{choice.speed_rpm:.0f} rpm, ± {watts} W (± {amps} A) with what is assumed below. "
        f"{over_year}This is worked out from your readings; nobody has measured it yet. Bridge, cable and fuse are "
        "sized for the most that can flow, "
        f"{row.most.dc_amps:.1f} A DC, never for less."
    )


def _cautions(job, machine, choice, row):
    found = Winding(stator=machine.stator, coil=machine.coil, grouping=machine.found)
    by_hand = grade(open_circuit_volts(found, BRISK_HAND_RPM.value, machine.setting.cold_c)[0])
    runaway = grade(choice.runaway_line_volts_rms, **machine.setting.exposed)
    as_found = (
        f"As found, the leads reach about {by_hand.line_volts_rms:.0f} V rms when the rotor is swung round by hand at "
        f"{BRISK_HAND_RPM.value:.0f} rpm ({by_hand.word}), and more the faster it turns; on a drill hundreds of volts "
        "are soon there. Never touch two bare ends while it can turn."
    )
    as_chosen = (
        f"As chosen, running away with the bank gone: {runaway.dc_volts_peak:.0f} V DC peak, "
        f"{runaway.line_volts_rms:.0f} V AC line rms, {runaway.word} ({runaway.limit}){_unguarded_words(choice, row)}"
    )
    as_chosen += f"; it needs {runaway.guard}. Never let the bank come off while it turns." if runaway.guard else "."
    if choice.connection == "delta" and machine.setting.open_corner_v_per_rpm is None:
        as_chosen += " The open corner of this delta was never measured."
    said = filter(None, (choice_words(job), _traced_words(job), _source_words(machine)))
    return (*said, _BEFORE_WORK, as_found, as_chosen, *map(filled, _AT_WORK))


def _unguarded_words(choice, row):
    """The volts when what guards the drive fails, from the choice as written; older jobs do not hold them."""
    bare = choice.unguarded_dc_volts_peak or row.unguarded.dc_volts_peak
    fails = bare > choice.runaway_dc_volts_peak and row.guard_words
    return f"; {bare:.0f} V DC peak if {row.guard_words} fails" if fails else ""


def _traced_words(job):
    if job.stator.found_wiring.strip():
        return ""
    return (
        "Wires not traced: this plan takes the coils of each path in tooth order. Check that with the ohmmeter, rotor "
        "still, leads off the rectifier, before the first cut."
    )


def _source_words(machine):
    """For which setting of the source the promise was worked out."""
    drive = machine.drive
    setting = ", ".join(source_words(quantity, quantity.value) for quantity in drive.quantities)
    return f"Worked out for one setting of the source ({setting}): a stronger one gives more amps than promised here."


def _assumed(machine):
    return (
        *(_UNIT.sub("", words) for words in machine.assumed),
        f"wire for {JUMPER_A_PER_MM2.value:g} A/mm²",
        f"tails of {say(JUMPER_ALLOWANCE_MM.value, 'mm')} on each jumper together",
        f"{BRISK_HAND_RPM.value:.0f} rpm for a rotor swung by hand",
    )
