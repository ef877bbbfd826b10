"""The chosen machine with what stands round it: what every part of the plant is sized from."""

from dataclasses import dataclass, replace
from functools import cached_property

from statorbook.choice import Machine
from statorbook.operation import MostAmps, OperatingPoint, most_amps, open_circuit_volts, operating_points, points_from
from statorbook.protection.cable_run import CableRun
from statorbook.protection.fuse import Fuse
from statorbook.protection.over_voltage_load import OverVoltageLoad
from statorbook.protection.rectifier_label import Rectifier
from statorbook.protection.rotor import Rotor
from statorbook.protection.site import Site
from statorbook.protection.winding_heat import WindingHeat
from statorbook.winding import Grouping, Winding


@dataclass(frozen=True, kw_only=True)
class Plant:
    """A machine in one grouping, with cable, rectifier, fuse, guard and the place where they stand.

    Parameters
    ----------
    machine : Machine
        Stator, coils, drive, bank and setting; its cable and its temperatures count, they stand nowhere else.
    grouping : Grouping
        How the coils are joined.
    site : Site
        Where it stands.
    run : CableRun
        The cable between machine and bank.
    rotor : Rotor
        Its inertia.
    heat : WindingHeat
        How the winding gets rid of its heat.
    rectifier : Rectifier or None
        The label of the one that the reader has.
    fuse : Fuse or None
        The label of the one that the reader has.
    guard : OverVoltageLoad or None
        The over-voltage load that the reader has.
    """

    machine: Machine
    grouping: Grouping
    site: Site = Site()
    run: CableRun = CableRun()
    rotor: Rotor
    heat: WindingHeat = WindingHeat()
    rectifier: Rectifier | None = None
    fuse: Fuse | None = None
    guard: OverVoltageLoad | None = None

    @cached_property
    def winding(self):
        """The winding, a `Winding`."""
        return Winding(stator=self.machine.stator, coil=self.machine.coil, grouping=self.grouping)

    @property
    def drive(self):
        """What turns it, a `Drive`."""
        return self.machine.drive

    @property
    def bank(self):
        """The bank, a `Bank`."""
        return self.machine.bank

    @property
    def conditions(self):
        """Temperatures, drag, rectifier and cable at work, a `Conditions`."""
        return self.machine.setting.conditions

    @property
    def cold(self):
        """The same with the machine at its coldest: most volts and most amps, a `Conditions`."""
        return self.machine.setting.cold

    @property
    def worst(self):
        """At which the most amps flow: coldest, no cable, a converter's switch failed shut, a `Conditions`."""
        # Without the cable's ohms: a longer cable, to be changed some day, must not make the other parts smaller.
        return replace(self.cold, cable_ohm=0.0, ac_cable_ohm=0.0, converter=None)

    def settled(self, state=1):
        """Where it settles.

        Parameters
        ----------
        state : int
            Which of the bank's states [-].

        Returns
        -------
        OperatingPoint
            Speed, amps and watts at the one setting of the drive.
        """
        found = operating_points(self.drive, [self.winding], self.bank.states[state], self.conditions)
        return points_from(self.drive, found)[0]

    @cached_property
    def working(self) -> OperatingPoint:
        """Where it settles on the half-full bank, an `OperatingPoint`."""
        return self.settled()

    @cached_property
    def most(self) -> MostAmps:
        """The most that can flow, bank on, cable short, drive's guard failed, a `MostAmps`: parts are sized by it."""
        short = replace(self.worst, converter=self.conditions.converter)
        return most_amps([(self.drive.unguarded(), self.winding, self.bank, short)])[0]

    @property
    def runaway_rpm(self):
        """The worst speed unloaded with the drive's own guard failed or absent, the strongest source counted [rpm]."""
        strongest = self.drive.strongest()
        speeds = (self.drive.runaway_speed_rpm, self.drive.unguarded_runaway_speed_rpm)
        return float(max(*speeds, strongest.runaway_speed_rpm, strongest.unguarded_runaway_speed_rpm))

    @property
    def guarded_runaway_rpm(self):
        """The worst speed unloaded while the drive's own guard acts, as page 04 counts it [rpm]."""
        return float(self.drive.runaway_speed_rpm)

    def open_volts(self, speed_rpm):
        """Volts with the bank gone, magnets at their coldest.

        Parameters
        ----------
        speed_rpm : float
            Speed [rpm].

        Returns
        -------
        tuple of float
            AC line rms and DC peak after the bridge [V].
        """
        line, dc = open_circuit_volts(self.winding, speed_rpm, self.machine.setting.cold_c)
        return float(line), float(dc)

    def with_conditions(self, **changes):
        """The same plant with other temperatures, cable or diode drop.

        Parameters
        ----------
        **changes : dict
            Fields of `Conditions`.

        Returns
        -------
        Plant
            The same in all else.
        """
        setting = replace(self.machine.setting, conditions=replace(self.conditions, **changes))
        return replace(self, machine=replace(self.machine, setting=setting))
