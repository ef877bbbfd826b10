"""A measured or assumed number that always carries its uncertainty and where it came from."""

from dataclasses import dataclass, field
from math import floor, hypot, log10

from statorbook.quantities.kept_values import read_only
from statorbook.quantities.limits import require_number
from statorbook.quantities.unit_systems import say_pair

NORMAL_95 = 1.96  # half-width of the 95 % band of a normal error, in sigma


@dataclass(frozen=True, kw_only=True)
class Estimate:
    """One quantity with its 95 % half-width.

    Parameters
    ----------
    value : float
        Best value, in the unit named.
    plus_minus : float
        95 % half-width, same unit; 0 when exactly known.
    unit : str
        The unit.
    how : str
        Where it came from, in plain words; quantities in it are marked as `filled` takes them.
    assumed : bool
        True when nothing was measured.
    moved_by : dict of str to float
        Parts of the ± that come from other estimates, by the name of each: how far this one moves when that one is at
        its upper end, signed, same unit; empty when it was worked out from none [unit].
    """

    value: float
    plus_minus: float
    unit: str
    how: str
    assumed: bool = False
    moved_by: dict = field(default_factory=dict, hash=False)

    def __post_init__(self):
        require_number(self.value, self.how or "value", self.unit)
        require_number(self.plus_minus, "plus or minus", self.unit, at_least=0)
        read_only(self)

    @property
    def low(self):
        """Lower end of the 95 % band, in the estimate's own unit [unit]."""
        return self.value - self.plus_minus

    @property
    def high(self):
        """Upper end of the 95 % band, in the estimate's own unit [unit]."""
        return self.value + self.plus_minus

    @property
    def sigma_share(self):
        """One sigma over the value [-]."""
        return self.plus_minus / NORMAL_95 / self.value

    @property
    def own_plus_minus(self):
        """Half-width without what comes from other estimates, in the estimate's own unit [unit]."""
        return max(self.plus_minus**2 - hypot(*self.moved_by.values()) ** 2, 0.0) ** 0.5

    def times(self, factor, unit=None, how=None):
        """Scale value and half-width by an exactly known factor.

        Parameters
        ----------
        factor : float
            The factor, any sign [-].
        unit : str or None
            New unit; the old one when None.
        how : str or None
            New origin; the old one when None.

        Returns
        -------
        Estimate
            The scaled estimate.
        """
        return Estimate(
            value=self.value * factor,
            plus_minus=self.plus_minus * abs(factor),
            unit=unit or self.unit,
            how=how or self.how,
            assumed=self.assumed,
            moved_by={name: moved * factor for name, moved in self.moved_by.items()},
        )

    def __str__(self):
        mark = " (assumed)" if self.assumed else ""
        places = _places(self.value, self.plus_minus)
        return f"{say_pair(self.value, self.plus_minus, self.unit, form=f'.{places}f', link=' ± ')}{mark}"


def _places(value, plus_minus):
    """Decimals that show two figures of the ±, or four of the value when it is exactly known."""
    leading, figures = (plus_minus, 2) if plus_minus else (abs(value) or 1.0, 4)
    return max(0, figures - 1 - floor(log10(leading)))
