"""What happens if something goes wrong at the machine: leads joined, source gone and back, rotor unloaded, water."""

from statorbook.cautions import Exposure, Instruction
from statorbook.drives import PipedJet, WaterJet
from statorbook.protection.brake_heat import brake_heat
from statorbook.protection.drive_pull import pull_of
from statorbook.protection.drive_words import words_of
from statorbook.protection.enclosures import enclosure_grade, stops_by_itself
from statorbook.protection.load_lost import load_lost
from statorbook.protection.mishap import Mishap, amps_said, soon, until_too_hot, whole_volts
from statorbook.protection.touch import RECTIFIER, touch
from statorbook.quantities import Fact, say

WET_BODY_OHM = Fact(
    value=500.0,
    unit="Ω from hand to feet, skin soaked",
    source="IEC 60479-1, inside of the body alone (from memory)",
    low=300.0,
    high=1000.0,
)
LET_GO_AMPS = Fact(
    value=0.010, unit="A AC above which a hand cannot let go", source="IEC 60479-1 (from memory)", low=0.005, high=0.010
)


def leads_joined(plant):
    """All three leads joined at full speed."""
    found = brake_heat(plant)
    worst = found.worst
    return Mishap(
        name="the leads are joined at speed",
        then=f"a first swing of up to {amps_said(worst.first_swing_amps)} peak jerks the shaft, then "
        f"{amps_said(worst.lead_amps_rms)} rms flow in each lead. {found.bears}",
        volts=plant.bank.highest_volts,
        volts_where="DC on the bank's side; none between the leads, until the joint opens",
        amps=worst.lead_amps_rms,
        amps_where="rms in each lead",
        seconds=found.ends.warm_s,
        until=until_too_hot(found.ends.warm_s, found.limit_c),
        hurt="the winding, the shaft's key or glue, ferrite magnets; whoever joins them by hand, by the arc",
        guard=f"a switch sized for it, closed at low speed; the real stop is {found.stop_words}",
    )


def source_returns(plant):
    """The source goes away, somebody reaches in, and it comes back."""
    said = words_of(plant.drive)
    pull, working = pull_of(plant.drive, guarded=True, strongest=False), plant.working.speed_rpm
    seconds = float(pull.way(plant.rotor.inertia_kgm2, 0.0, working)[0][-1]) if working and pull.torque_nm else 0.0
    exposed = (Exposure.STANDING, Exposure.TURNING, *_WATER) if isinstance(plant.drive, _JETS) else _AT_ROTOR
    return Mishap(
        name=f"the {said.ends}",
        then=f"the {said.turns} stops; the diodes keep the bank from driving it, and its volts stay on cable and "
        f"rectifier. When the source is back, the {said.turns} is at working speed again {_within(seconds)}.",
        volts=plant.bank.highest_volts,
        volts_where="DC on cable and rectifier; none on the leads",
        amps=0.0,
        amps_where="",
        seconds=seconds,
        until="from rest to working speed when the source is back",
        hurt=f"hands in the {said.turns}; a bank that is drawn on and no longer charged",
        guard=Instruction(f"{said.shut} before a hand goes near it", exposed),
    )


def _within(seconds):
    return f"within {soon(seconds)}" if seconds else "at once"


_JETS, _WATER, _AT_ROTOR = (WaterJet, PipedJet), (Exposure.WATER,), (Exposure.STANDING, Exposure.TURNING)


def _times(ratio):
    return f"{float(f'{ratio:.2g}'):g}"


def runs_unloaded(plant):
    """The rotor runs away for an hour."""
    lost, found = load_lost(plant), brake_heat(plant)
    line, dc = plant.open_volts(plant.runaway_rpm)
    working = plant.working.speed_rpm
    forces = f", {_times((plant.runaway_rpm / working) ** 2)} times the forces of work" if working else ""
    turns = words_of(plant.drive).turns
    itself = "" if stops_by_itself(plant.drive) else "a stop that acts by itself: "
    return Mishap(
        name=f"the {turns} runs unloaded for an hour",
        then=f"it runs away to {say(plant.runaway_rpm, 'rpm')}{forces}, with {whole_volts(line)} AC between the leads.",
        volts=dc,
        volts_where="DC at the rectifier, peak",
        amps=0.0,
        amps_where="",
        seconds=float(lost.time_s[-1]),
        until="until it has run away",
        hurt=f"{turns}, magnets and bearings, which may fly; insulation; hands on bare parts",
        guard=f"{itself}{found.stop_words}; a cover round all that turns",
    )


def water_inside(plant):
    """The box of the rectifier is wet inside."""
    found = touch(plant)
    spot = found.worst_at(RECTIFIER)
    amps = max(spot.dc_volts, spot.line_volts_rms) / WET_BODY_OHM.value
    limit = amps_said(LET_GO_AMPS.value)
    lets = f"from {limit} AC on no hand lets go" if amps > LET_GO_AMPS.value else f"below the {limit} AC of letting go"
    return Mishap(
        name="water gets into the box",
        then=f"a film of water joins live parts and lid. No fuse sees that current; through a wet body it can be "
        f"{amps_said(amps)}, and {lets} (both from memory).",
        volts=spot.dc_volts,
        volts_where="DC on whatever is wet, at the worst",
        amps=amps,
        amps_where="through a wet body, no fuse opens",
        seconds=0.0,
        until="and unseen",
        hurt="whoever touches the box or stands in the wet; contacts, which rot in weeks",
        guard=f"a box of {enclosure_grade(plant.site.place)[0]}, entries from below, its metal earthed",
    )
