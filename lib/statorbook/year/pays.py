"""Cable and pipe that pay: kilowatt-hours a year by size, and the size from which the next step no longer pays back."""

from dataclasses import dataclass, replace

import numpy as np

from statorbook.drives import MATERIALS
from statorbook.operation import settled_at
from statorbook.year.energy import grouping_years

# Outer diameters of plastic pipe, ISO 161-1; bores of steel tube, medium series, EN 10255 (both from memory).
_PLASTIC_MM = (20, 25, 32, 40, 50, 63, 75, 90, 110, 125, 160, 200, 250, 315)
_STEEL_MM = (16.1, 21.7, 27.3, 36.0, 41.9, 53.1, 68.9, 80.9, 105.3, 130.0, 155.0)
_CONCRETE_MM = (100, 150, 200, 250, 300, 400, 500)


def pipe_bores_mm(material, least_mm, most_mm):
    """Bores of pipes that are sold.

    Parameters
    ----------
    material : str
        A name of `drives.MATERIALS`.
    least_mm : float
        None narrower than this [mm].
    most_mm : float
        None wider than this [mm].

    Returns
    -------
    list of float
        Bores, rising [mm].

    Notes
    -----
    Equation: plastic: outer diameter / (1 + 2 × usual wall over bore).
    Valid: a usual wall; a pipe for more pressure has a thicker one.
    Source: ISO 161-1, EN 10255 (both from memory).
    """
    if material in ("PVC", "polyethylene"):
        bores = [outer / (1.0 + 2.0 * MATERIALS[material].wall_share.value) for outer in _PLASTIC_MM]
    else:
        bores = _CONCRETE_MM if material == "concrete" else _STEEL_MM
    return [round(float(bore), 1) for bore in bores if least_mm <= bore <= most_mm]


@dataclass(frozen=True, kw_only=True)
class SizeYears:
    """One grouping over a year with cables or pipes of several sizes.

    Parameters
    ----------
    sizes : ndarray
        Cross-sections [mm²] or bores [mm], rising, shape (n,), in the unit of what is bought.
    kwh : ndarray
        Into the bank, shape (n,) [kWh].
    loss_kwh : ndarray
        Lost in the cable, shape (n,); not a number for a pipe [kWh].
    most_amps : ndarray
        Most DC amps of the year, shape (n,) [A].
    """

    sizes: np.ndarray
    kwh: np.ndarray
    loss_kwh: np.ndarray
    most_amps: np.ndarray


def cable_years(machine, source, winding, ohms, areas_mm2, *, ac=False):
    """One winding over a year with cables of several sizes.

    Parameters
    ----------
    machine : Machine
        Bank and setting; its own cable of that kind is not used, the ohms given are.
    source : SourceYear
        The year.
    winding : Winding
        The grouping.
    ohms : sequence of float
        Loop of each cable, or one wire of an AC run, as from `cable_ohm` [Ω].
    areas_mm2 : sequence of float
        Their cross-sections, for the result [mm²].
    ac : bool
        Whether they are runs of three wires before the rectifier.

    Returns
    -------
    SizeYears
        Kilowatt-hours and loss by size.

    Notes
    -----
    Equation: as `grouping_years`, each size with its ohms; loss = Σ hours × watts lost in the cable.
    Valid: as `grouping_years`.
    Source: definition.
    """
    name = "ac_cable_ohm" if ac else "cable_ohm"
    around = [replace(machine.setting.conditions, **{name: float(ohm)}) for ohm in ohms]
    bank = machine.bank.states[1]
    found = settled_at(source.drives, [winding] * len(around), bank, around, also=["cable_watts"])
    hours = source.hours_by_setting
    there = hours > 0.0
    return SizeYears(
        sizes=np.asarray(areas_mm2, dtype=float),
        kwh=hours @ found["bank_watts"] / 1000.0,
        loss_kwh=hours @ found["cable_watts"] / 1000.0,
        most_amps=found["dc_amps"][there].max(axis=0),
    )


def pipe_years(machine, year_with, winding, bores_mm):
    """One winding over a year with pipes of several bores.

    Parameters
    ----------
    machine : Machine
        Bank and setting.
    year_with : callable
        From a bore [mm] to the `SourceYear` with that pipe.
    winding : Winding
        The grouping.
    bores_mm : sequence of float
        Bores, rising [mm].

    Returns
    -------
    SizeYears
        Kilowatt-hours by bore.

    Notes
    -----
    Equation: as `grouping_years`, each bore with its own year of the water.
    Valid: the same material, bends and valve.
    Source: definition.
    """
    years = [grouping_years(machine, year_with(bore), [winding])[0] for bore in bores_mm]
    return SizeYears(
        sizes=np.asarray(bores_mm, dtype=float),
        kwh=np.array([year.kwh for year in years]),
        loss_kwh=np.full(len(years), np.nan),
        most_amps=np.array([year.dc_amps[year.hours.sum(axis=0) > 0.0].max() for year in years]),
    )


@dataclass(frozen=True, kw_only=True)
class Payback:
    """Which of the sizes on offer pays, from `payback`; arrays in the places of the sizes."""

    order: tuple  # places of the sizes, the cheapest first
    best: int  # place of the size that leaves most over the years
    left_over: np.ndarray  # worth of the energy of all years less the price, in the reader's money
    step_years: np.ndarray  # to pay back the price above the next cheaper size; infinite: never


def payback(prices, kwh, *, kwh_price, years):
    """Which size pays, from what each costs and gives.

    Parameters
    ----------
    prices : sequence of float
        Of the whole run, each size [in the reader's money].
    kwh : sequence of float
        Of a year, each size [kWh].
    kwh_price : float
        What a kilowatt-hour is worth to the reader [in the reader's money].
    years : float
        How many years are counted [-].

    Returns
    -------
    Payback
        The best size, and how fast each step pays back.

    Notes
    -----
    Equation: most of years × kWh × price of a kWh − price of the run.
    Valid: no interest, prices that stay, parts that last the years counted.
    Source: least total cost, for a cable Kelvin's law of the economic section.
    """
    prices, kwh = np.asarray(prices, dtype=float), np.asarray(kwh, dtype=float)
    order = np.argsort(prices, kind="stable")
    gain = kwh_price * np.diff(kwh[order])
    steps = np.divide(np.diff(prices[order]), gain, out=np.full(gain.shape, np.inf), where=gain > 0.0)
    step_years = np.full(len(prices), np.nan)
    step_years[order[1:]] = steps
    net = years * kwh_price * kwh - prices
    return Payback(order=tuple(map(int, order)), best=int(net.argmax()), left_over=net, step_years=step_years)
