"""The one reading that proves or clears each cause, as a procedure; none asks for bare ends of a running plant."""

from dataclasses import dataclass
from math import inf, pi

from statorbook.cautions import Exposure, Instruction
from statorbook.first_run.case import RunCase
from statorbook.operation import highest_touch_rpm
from statorbook.quantities import WET_AC_VOLTS
from statorbook.winding import Winding

_AT_REST = (Exposure.BANK, Exposure.STANDING)
_OPEN_LEADS = (Exposure.BANK, Exposure.TURNING, Exposure.VOLTS)
_TELLS_AT = 0.5  # reactance over ohms from which joined leads tell the inductance; below it, ohms hide it
OHMS_TWICE = Instruction(
    "stop it, take the bank and then the rectifier off, and read the ohms between the leads within five minutes and "
    "again when cold, rotor tied both times",
    (*_AT_REST, Exposure.HEAT),
)
OHMS_OF_PAIRS = Instruction(
    "with rotor tied, bank and rectifier off, read the ohms of the three pairs of leads: with one path open they are "
    "not alike",
    _AT_REST,
)
DIODES = Instruction(
    "with rotor tied, bank and rectifier off, read each of the six diodes on the meter's diode range: a good silicon "
    "one shows 0.4 to 0.7 V, all six alike (common practice, no source); at full amps no diode is probed",
    _AT_REST,
)
CABLE = Instruction(
    "with the rotor tied, take the cable off at both ends, join its far ends, send about 1 A through it from a bench "
    "supply and read the volts beside the clips: volts over amps are its ohms",
    (*_AT_REST, Exposure.SUPPLY),
)
_OF_SOURCE = {  # a field that only such a drive has: what its source exposes to
    "total_flow_l_s": Exposure.WATER,
    "wind_m_s": Exposure.HEIGHT,
    "droop": Exposure.ENGINE,
    "cadence_rpm": Exposure.CHAIN,
}


@dataclass(frozen=True, kw_only=True)
class Tells:
    """The readings that depend on the machine: how fast it may turn with open or joined leads.

    Parameters
    ----------
    case : RunCase
        Machine and grouping.
    """

    case: RunCase

    @property
    def highest_rpm(self):
        """Highest speed at which open leads, magnets cold, stay within what wet hands stand [rpm]."""
        line = self._winding.line_volts_rms(1.0, self.case.machine.setting.cold_c)
        return min(highest_touch_rpm(float(line), WET_AC_VOLTS), self.case.machine.drive.runaway_speed_rpm)

    @property
    def _winding(self):
        now = self.case.machine
        return Winding(stator=now.stator, coil=now.coil, grouping=self.case.grouping)

    @property
    def _slowly(self):
        return (
            f"by hand or by a clamped drill, at most {self.highest_rpm:.0f} rpm ({WET_AC_VOLTS.value:g} V AC between "
            "open leads, the limit for wet hands)"
        )

    @property
    def open_leads(self):
        """Volts at open leads, an Instruction."""
        return Instruction(
            "stop it and shut the source, take bank and rectifier off, put the leads in insulated terminals and clip "
            f"the meter on; then turn the rotor {self._slowly}, and read volts and Hz together",
            _OPEN_LEADS,
        )

    @property
    def joined_leads(self):
        """Amps with all leads joined, or the LCR meter where so slow a rotor would not tell, an Instruction."""
        lcr = (
            "read the inductance between two leads with an LCR meter, rotor tied, bank and rectifier off (page "
            "02_spin_and_log)"
        )
        star, hz = self._winding.star_equivalent(), self.case.machine.stator.electrical_hz(self.highest_rpm)
        reactance = 2.0 * pi * hz * star.henry
        if reactance < _TELLS_AT * star.ohm or self.highest_rpm == inf:
            return Instruction(lcr, _AT_REST)
        return Instruction(
            "stop it and shut the source, take bank and rectifier off, join all three leads in an insulated terminal "
            f"with the clamp meter round one of them; then turn the rotor {self._slowly}, for seconds, and open the "
            "joint only at rest",
            (*_OPEN_LEADS, Exposure.HEAT),
        )

    @property
    def coast(self):
        """A coast-down, an Instruction."""
        return Instruction(
            "take bank and rectifier off at rest, the drive too where it can be parted, put the leads in insulated "
            f"terminals, spin the rotor up {self._slowly} and log how it slows, as on page 03_what_turns_it",
            _OPEN_LEADS,
        )

    @property
    def source(self):
        """What the source gives, an Instruction."""
        drive = self.case.machine.drive
        exposed = tuple(exposure for field, exposure in _OF_SOURCE.items() if hasattr(drive, field))
        return Instruction(
            "read the gauge of the source once more, close to it, from where neither rotor nor source can reach you",
            (Exposure.TURNING, *exposed),
        )
