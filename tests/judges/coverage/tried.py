"""One number with a ± that a reader sees, beside the truth."""

from dataclasses import dataclass


@dataclass(frozen=True, kw_only=True)
class Tried:
    """What the library says of a quantity, and what it truly is, in one unit."""

    quantity: str
    value: float
    plus_minus: float
    truth: float

    @property
    def inside(self):
        """Whether the truth lies within the ±."""
        return abs(self.value - self.truth) <= self.plus_minus

    @property
    def share(self):
        """The ± over the value."""
        return self.plus_minus / abs(self.value) if self.value else float("nan")


def tried(quantity, estimate, truth):
    """From an `Estimate` or a `Spread`."""
    return Tried(
        quantity=quantity, value=float(estimate.value), plus_minus=float(estimate.plus_minus), truth=float(truth)
    )
