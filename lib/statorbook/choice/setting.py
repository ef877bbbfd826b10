"""What a comparison of groupings is made for: surroundings, wire, and the volts that something or somebody stands."""

from dataclasses import dataclass, replace

from statorbook.choice.verdict import accepted_volts
from statorbook.operation import CONVERTER, DEVICE, Conditions
from statorbook.quantities import require_count, require_number


@dataclass(frozen=True, kw_only=True)
class Setting:
    """What the comparison is made for.

    Parameters
    ----------
    conditions : Conditions
        At work: warm winding and magnets, drag, rectifier, cable.
    cold_c : float
        Lowest temperature of the machine, for the worst-case volts [°C].
    wire_diameter_mm : float or None
        Bare diameter of the coil wire, None when not measured [mm].
    wires_in_hand : int
        Wires side by side in a coil [-].
    device_max_volts : float or None
        Highest DC input of the inverter or controller, None when not known [V].
    open_corner_v_per_rpm : float or None
        Volts across an open delta corner with one coil in series, rms, None when not measured [V/rpm].
    accepted_dc_volts : float or None
        Highest volts that the reader accepts with the bank gone, DC peak, None before they have said so [V].

    Raises
    ------
    BadInput
        When a number is out of range.
    """

    conditions: Conditions = Conditions()
    cold_c: float = 0.0
    wire_diameter_mm: float | None = None
    wires_in_hand: int = 1
    device_max_volts: float | None = None
    open_corner_v_per_rpm: float | None = None
    accepted_dc_volts: float | None = None

    def __post_init__(self):
        require_number(self.cold_c, "coldest magnets", "°C", at_least=-40, at_most=100)
        require_count(self.wires_in_hand, "wires in hand", 1, 50, "count the strands at a coil's end again")
        if self.wire_diameter_mm is not None:
            require_number(self.wire_diameter_mm, "wire diameter", "mm", above=0, at_most=10)
        if self.device_max_volts is not None:
            require_number(self.device_max_volts, "DC limit of the device", "V", above=0)
        if self.open_corner_v_per_rpm is not None:
            require_number(self.open_corner_v_per_rpm, "open-corner volts of one coil", "V/rpm", at_least=0)
        if self.accepted_dc_volts is not None:
            require_number(self.accepted_dc_volts, "highest volts accepted with the bank gone", "V", above=0)

    @property
    def cold(self):
        """What surrounds the winding when the machine is at its coldest, a `Conditions`."""
        return replace(self.conditions, copper_c=self.cold_c, magnet_c=self.cold_c)

    @property
    def limit_dc_volts(self):
        """Highest volts accepted with the bank gone, DC peak; before the reader has said, the device's or 120 [V]."""
        return accepted_volts(self.accepted_dc_volts, self.exposed["device_max_volts"])

    @property
    def exposed(self):
        """What stands on the volts behind the rectifier with the bank gone, as `grade` takes it, a dict."""
        # The inverter or controller on the bank, or the converter: as long as that lives, what hangs on the bank does
        # not see these volts, and when it dies it may pass them on.
        converter = self.conditions.converter
        if converter is None:
            return {"device_max_volts": self.device_max_volts, "device": DEVICE}
        return {"device_max_volts": converter.survives_dc_volts, "device": CONVERTER}
