"""How copper ohms and magnet strength move with temperature."""

from statorbook.errors import BadInput
from statorbook.quantities import CONDUCTORS, MAGNETS


def resistance_factor(copper_c, *, conductor="copper"):
    """Resistance at a temperature, as a multiple of its value at 20 °C.

    Parameters
    ----------
    copper_c : float or ndarray
        Winding temperature [°C].
    conductor : str
        "copper" or "aluminium".

    Returns
    -------
    float or ndarray
        Factor, same shape [-].

    Raises
    ------
    BadInput
        When the conductor is unknown.

    Notes
    -----
    Equation: (k + θ) / (k + 20), k = 235 for copper, 225 for aluminium.
    Valid: −40 °C to 200 °C.
    Source: IEC 60034-1, resistance method (from memory).
    Derivation: `winding.warm_factors`.
    """
    k = one_of(CONDUCTORS, conductor, "conductor").value
    return (k + copper_c) / (k + 20.0)


def magnet_factor(magnet_c, *, magnet="ferrite"):
    """EMF at a magnet temperature, as a multiple of its value at 20 °C.

    Parameters
    ----------
    magnet_c : float or ndarray
        Magnet temperature [°C].
    magnet : str
        "ferrite" or "neodymium".

    Returns
    -------
    float or ndarray
        Factor, same shape [-].

    Raises
    ------
    BadInput
        When the magnet kind is unknown.

    Notes
    -----
    Equation: 1 + β (θ − 20).
    Valid: −40 °C to 100 °C, reversible part only; hotter magnets may be lost for good.
    Source: makers' typical remanence coefficients (common practice, no source).
    Derivation: `winding.warm_factors`.
    """
    return 1.0 + one_of(MAGNETS, magnet, "magnet").value * (magnet_c - 20.0)


def one_of(table, name, field):
    """The fact of this name, or a refusal."""
    if name not in table:
        raise BadInput(f"{name!r} was given", f"allowed are {', '.join(table)}", "choose one of them", where=field)
    return table[name]
