"""Coil groupings: how the coils of a phase are joined, and the phases with each other."""

from dataclasses import dataclass

from statorbook.errors import BadInput

_CONNECTIONS = ("star", "delta")


def require_connection(name):
    """Refuse what is neither star nor delta."""
    if name not in _CONNECTIONS:
        raise BadInput(f"{name!r} was given", "star or delta is allowed", "choose one of them", where="connection")


@dataclass(frozen=True, kw_only=True)
class Grouping:
    """How the coils of each phase are joined, and the phases with each other.

    Parameters
    ----------
    series : int
        Coils in series in each path [-].
    parallel : int
        Parallel paths in each phase [-].
    connection : str
        "star" or "delta".

    Raises
    ------
    BadInput
        When a count is not a whole number above 0 or the connection is unknown.
    """

    series: int
    parallel: int
    connection: str = "star"

    def __post_init__(self):
        for name in ("series", "parallel"):
            value = getattr(self, name)
            if isinstance(value, bool) or not isinstance(value, int) or value < 1:
                raise BadInput(
                    f"{value!r} was given",
                    "a whole number of at least 1 is allowed",
                    "choose a grouping from the list",
                    where=f"coils in {name}",
                )
        require_connection(self.connection)

    @property
    def label(self):
        """Short name such as "3 in series, 4 paths, star"."""
        paths = "1 path" if self.parallel == 1 else f"{self.parallel} paths"
        return f"{self.series} in series, {paths}, {self.connection}"

    def require_legal(self, stator):
        """Refuse this grouping if the stator cannot carry it.

        Parameters
        ----------
        stator : Stator
            The machine.

        Returns
        -------
        Grouping
            Itself, when legal.

        Raises
        ------
        BadInput
            Says which rule is broken and which path counts are legal.

        Notes
        -----
        Equation: series × parallel = coils per phase, parallel divides `max_parallel_paths`.
        Valid: every coil used, equal paths.
        Source: Bianchi and Dai Prè 2006 (from memory, recomputed by brute force).
        """
        allowed = sorted({g.parallel for g in stator.groupings()})
        words = f"{stator.slots} slots with {stator.poles} poles allow {', '.join(map(str, allowed))} parallel paths"
        if self.series * self.parallel != stator.coils_per_phase:
            raise BadInput(
                f"{self.series} in series × {self.parallel} paths is not the {stator.coils_per_phase} coils of a phase",
                words,
                "choose a grouping from the list",
                where="grouping",
            )
        if self.parallel not in allowed:
            raise BadInput(
                f"{self.parallel} parallel paths would not have equal volts and would burn each other",
                words,
                "choose a grouping from the list",
                where="grouping",
            )
        return self
