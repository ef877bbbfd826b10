"""The head of a job's water jet: read at the running nozzle, or what the pipe leaves of the drop."""

from typing import Literal

from statorbook.cautions import PIPED
from statorbook.drives import MATERIALS, VALVES
from statorbook.job.parts.fields import labelled

RUNNING, PIPE, TWO_GAUGES = "gauge at the running nozzle", "drop and pipe", "gauge shut and running"
_WAYS = (RUNNING, PIPE, TWO_GAUGES)
_NEEDED = {
    RUNNING: ("head_m",),
    PIPE: ("gross_head_m", "pipe_length_m", "pipe_bore_mm", "pipe_material"),
    TWO_GAUGES: ("gross_head_m", "head_m"),
}
_ASKED_BESIDES = {RUNNING: (), PIPE: ("pipe_bends", "pipe_valve", "pipe_strainer"), TWO_GAUGES: ("gauge_nozzle_mm",)}


class HeadFields:
    """Drop, gauges and pipe."""

    head_from: Literal[_WAYS] = labelled(
        "Head known from",
        "",
        "A gauge beside the nozzle while water flows; or the drop and the pipe; or that gauge with the valve shut and "
        "then running.",
        default=RUNNING,
    )
    gross_head_m: float | None = labelled(
        "Static head",
        "m",
        "Gauge with the valve shut, or the surveyed drop from intake to nozzle.",
        default=None,
        gt=0,
        le=1000,
        next_step="read the gauge with the valve shut; {1 bar} is {10.2 m}",
        exposes=PIPED,
    )
    head_m: float | None = labelled(
        "Net head",
        "m",
        "Pressure at the nozzle while it runs, as metres of water.",
        default=None,
        gt=0,
        le=1000,
        exposes=PIPED,
        next_step="read the pressure at the running nozzle; {1 bar} is {10.2 m}",
    )
    pipe_length_m: float | None = labelled(
        "Pipe length",
        "m",
        "From the intake to the nozzle.",
        default=None,
        gt=0,
        le=20_000,
        next_step="pace or measure the pipe again",
    )
    pipe_bore_mm: float | None = labelled(
        "Pipe bore",
        "mm",
        "Inside the pipe, not outside.",
        default=None,
        gt=3,
        le=1000,
        next_step="measure the bore of a cut end",
        exposes=PIPED,
    )
    pipe_material: Literal[tuple(MATERIALS)] | None = labelled(
        "Pipe material", "", "What the pipe is made of decides how rough it is.", default=None
    )
    pipe_bends: int = labelled(
        "Bends of 90°",
        "count",
        "Elbows; two of 45° count as one.",
        default=0,
        ge=0,
        le=200,
        next_step="walk along the pipe and count again",
    )
    pipe_valve: Literal[VALVES] = labelled("Valve in the pipe", "", "Fully open.", default="none")
    pipe_strainer: bool = labelled(
        "Strainer at the intake", "", "A basket or screen that keeps leaves out.", default=False
    )


def head_needs(given):
    """Fields of the head that must be given, for the values given by field name."""
    return _NEEDED[_way(given)]


def head_asks(given):
    """All fields of the head that play a part, for the values given by field name."""
    return ("head_from", *head_needs(given), *_ASKED_BESIDES[_way(given)])


def _way(given):
    way = given.get("head_from")
    return way if way in _WAYS else RUNNING


def pipe_of(part, flow_l_s):
    """The pipe between drop and nozzle; a pipe known by two gauges needs the flow [L/s] of the running one."""
    from statorbook.drives import MeasuredLoss, Pipe

    if part.head_from == TWO_GAUGES:
        return MeasuredLoss(
            static_m=part.gross_head_m, running_m=part.head_m, flow_l_s=_flow_at_gauge_l_s(part, flow_l_s)
        )
    return Pipe(
        length_m=part.pipe_length_m,
        bore_mm=part.pipe_bore_mm,
        material=part.pipe_material,
        bends=part.pipe_bends,
        valve=part.pipe_valve,
        strainer=part.pipe_strainer,
    )


def _flow_at_gauge_l_s(part, flow_l_s):
    """Flow while the running gauge was read: of the nozzle that ran then, else the measured one."""
    from statorbook.drives import WaterJet

    nozzle = part.nozzle_mm if part.gauge_nozzle_mm is None else part.gauge_nozzle_mm
    if nozzle is None:
        return flow_l_s
    wheel = {"jets": part.jets, "pitch_diameter_mm": part.pitch_diameter_mm}
    return WaterJet(head_m=part.head_m, nozzle_mm=nozzle, **wheel).total_flow_l_s


def kept_loss(part, values):
    """Fields that keep the loss which two gauges showed, when nozzle or static head are given anew afterwards."""
    if part.head_from != TWO_GAUGES:
        return {}
    kept = {"gauge_nozzle_mm": part.gauge_nozzle_mm or part.to_drive().jet_mm} if "nozzle_mm" in values else {}
    if "gross_head_m" in values:
        kept["head_m"] = part.head_m + values["gross_head_m"] - part.gross_head_m
    return kept
