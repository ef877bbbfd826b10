"""The battery bank: its volts from empty to charging, its inner resistance, and when it may be charged."""

from dataclasses import dataclass

from statorbook.bank.tables import column_of
from statorbook.errors import BadInput
from statorbook.quantities import require_count, require_number, say, say_pair

_REFERENCE_C = 25.0
_TABLE = "bank_chemistry"
_CELL_COUNTS = {"LiFePO4": {12: 4, 24: 8, 48: 16}}
_LEAD_CELL_COUNTS = {12: 6, 24: 12, 48: 24}


def chemistries():
    """The chemistries in the table.

    Returns
    -------
    dict
        Name to {quantity: value per cell}, units as in the table.

    Notes
    -----
    Equation: none, a table.
    Valid: the ranges beside each value.
    Source: beside each value in tables/bank_chemistry.csv.
    """
    return column_of(_TABLE)


def cells_for(chemistry, nominal_volts):
    """Cells in series that people use for a nominal voltage.

    Parameters
    ----------
    chemistry : str
        Name of the chemistry.
    nominal_volts : int
        12, 24 or 48 [V].

    Returns
    -------
    int
        Cells in series [-].

    Raises
    ------
    BadInput
        When the voltage is another one.

    Notes
    -----
    Equation: 2 V a cell for lead-acid, 3.2 V for LiFePO4.
    Valid: 12, 24 and 48 V; for another bank give the cells.
    Source: common practice, no source.
    """
    _require_chemistry(chemistry)
    counts = _CELL_COUNTS.get(chemistry, _LEAD_CELL_COUNTS)
    if nominal_volts not in counts:
        raise BadInput(
            f"{nominal_volts} V was given",
            "12, 24 or 48 V is allowed here",
            "for another bank type the number of cells in series",
            where="nominal bank voltage",
        )
    return counts[nominal_volts]


def _require_chemistry(name):
    if name not in chemistries():
        raise BadInput(
            f"{name!r} was given",
            f"allowed are {', '.join(chemistries())}",
            "choose one of them",
            where="bank chemistry",
        )


@dataclass(frozen=True, kw_only=True)
class BankState:
    """The bank at one moment, as a rectifier sees it.

    Parameters
    ----------
    name : str
        "empty", "half full" or "charging".
    volts : float
        Stiff volts [V].
    ohm : float
        Resistance in front of them, inside the bank [Ω].
    """

    name: str
    volts: float
    ohm: float


@dataclass(frozen=True, kw_only=True)
class Bank:
    """A battery bank.

    Parameters
    ----------
    chemistry : str
        A name from the table, see `chemistries`.
    cells : int
        Cells in series [-].
    capacity_ah : float
        Capacity [Ah].
    temperature_c : float
        Temperature of the cells [°C].
    inner_ohm : float or None
        Resistance inside the whole bank; typical for its chemistry and size when None [Ω].

    Raises
    ------
    BadInput
        When the chemistry is unknown or a number is out of range.

    Notes
    -----
    Equation: volts = cells × volts per cell; charging volts shift with temperature from 25 °C.
    Valid: rested empty and half-full volts; the charging limit is held by the regulator.
    Source: beside each value in tables/bank_chemistry.csv.
    """

    chemistry: str
    cells: int
    capacity_ah: float = 100.0
    temperature_c: float = 25.0
    inner_ohm: float | None = None

    def __post_init__(self):
        _require_chemistry(self.chemistry)
        require_count(self.cells, "cells in series", 1, 240, "count the cells in series")
        require_number(self.capacity_ah, "bank capacity", "Ah", above=0, at_most=100_000)
        require_number(self.temperature_c, "bank temperature", "°C", at_least=-40, at_most=80)
        if self.inner_ohm is not None:
            require_number(self.inner_ohm, "resistance inside the bank", "Ω", at_least=0, at_most=100)

    def _per_cell(self, quantity):
        return chemistries()[self.chemistry][quantity]

    @property
    def empty_volts(self):
        """Rested volts when empty [V]."""
        return self.cells * self._per_cell("empty_volts")

    @property
    def half_volts(self):
        """Rested volts when half full [V]."""
        return self.cells * self._per_cell("half_volts")

    @property
    def charging_volts(self):
        """Charging limit at the bank's temperature [V]."""
        shift = self._per_cell("temperature_volts") * (self.temperature_c - _REFERENCE_C)
        return self.cells * (self._per_cell("charging_volts") + shift)

    @property
    def lowest_volts(self):
        """Lowest volts at its terminals while it is still a bank, empty and under load [V]."""
        return self.cells * self._per_cell("lowest_volts")

    @property
    def highest_volts(self):
        """Highest volts at its terminals while it is joined, equalising in the worst cold that it is charged in [V]."""
        coldest_c = min(self.temperature_c, self._per_cell("least_charging_c"), _REFERENCE_C)
        shift = self._per_cell("temperature_volts") * (coldest_c - _REFERENCE_C)
        return self.cells * (self._per_cell("highest_volts") + shift)

    @property
    def internal_ohm(self):
        """Resistance inside the bank, where not given typical for its chemistry and size [Ω]."""
        if self.inner_ohm is not None:
            return self.inner_ohm
        return self.cells * self._per_cell("internal_ohm_ah") / self.capacity_ah

    @property
    def internal_ohm_ends(self):
        """Least and most that the resistance inside may be, a tuple of two; the same twice where it was given [Ω]."""
        if self.inner_ohm is not None:
            return self.inner_ohm, self.inner_ohm
        ends = (column_of(_TABLE, name)[self.chemistry]["internal_ohm_ah"] for name in ("low", "high"))
        return tuple(self.cells * end / self.capacity_ah for end in ends)

    @property
    def capacity_kwh(self):
        """From full to flat, at its half-full volts [kWh]."""
        return self.capacity_ah * self.half_volts / 1000.0

    @property
    def usable_share(self):
        """How much of its capacity is usually used day by day, by its chemistry [-]."""
        return self._per_cell("usable_share")

    @property
    def round_trip_share(self):
        """What of the energy put in usually comes out again, by its chemistry [-]."""
        return self._per_cell("round_trip_share")

    @property
    def states(self):
        """Empty, half full and charging, as a tuple of `BankState`."""
        return (
            BankState(name="empty", volts=self.empty_volts, ohm=self.internal_ohm),
            BankState(name="half full", volts=self.half_volts, ohm=self.internal_ohm),
            BankState(name="charging", volts=self.charging_volts, ohm=0.0),
        )

    def amps_caution(self, dc_amps):
        """Say when a current is more than such a bank usually takes.

        Parameters
        ----------
        dc_amps : float
            Charging current [A].

        Returns
        -------
        str
            A sentence, or an empty text.

        Notes
        -----
        Equation: amps over amp-hours against the usual share.
        Valid: no maker's limit at hand; the maker's own limit goes first.
        Source: tables/bank_chemistry.csv, most_charging_share.
        """
        usual, share = self._per_cell("most_charging_share"), dc_amps / self.capacity_ah
        if share <= usual:
            return ""
        return (
            f"{dc_amps:.1f} A is {share:.2g} times the bank's {self.capacity_ah:g} Ah; a {self.chemistry} bank usually "
            f"takes {usual:g} (common practice, no source): "
            "keep to its maker's limit and let the charge control hold it."
        )

    @property
    def caution(self):
        """A sentence when the bank may not be charged at its temperature, else an empty string."""
        least, most = self._per_cell("least_charging_c"), self._per_cell("most_charging_c")
        if least <= self.temperature_c <= most:
            return ""
        return (
            f"A {self.chemistry} bank must not be charged at {say(self.temperature_c, '°C', form='g')} "
            f"(allowed: {say_pair(least, most, '°C', form='g')}): warm or cool it first, "
            "and let the charge control enforce it."
        )
