"""A measured or assumed number that always carries its uncertainty and where it came from."""

from dataclasses import dataclass

from statorbook.errors import require_number


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
        Where it came from, in plain words.
    assumed : bool
        True when nothing was measured.
    """

    value: float
    plus_minus: float
    unit: str
    how: str
    assumed: bool = False

    def __post_init__(self):
        require_number(self.value, self.how or "value", self.unit)
        require_number(self.plus_minus, "plus or minus", self.unit, at_least=0)

    @property
    def low(self):
        """Lower end of the 95 % band, in the estimate's own unit [unit]."""
        return self.value - self.plus_minus

    @property
    def high(self):
        """Upper end of the 95 % band, in the estimate's own unit [unit]."""
        return self.value + self.plus_minus

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
        )

    def __str__(self):
        mark = " (assumed)" if self.assumed else ""
        return f"{self.value:.4g} ± {self.plus_minus:.2g} {self.unit}{mark}"
