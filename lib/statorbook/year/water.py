"""A stream over the year: the water and head of each month, and the nozzle that runs in it."""

from dataclasses import dataclass
from math import isnan, nan

import numpy as np

from statorbook.bench import MONTH_NAMES, WATER_MONTHS_LOG, MonthReading, read_months, require_usable
from statorbook.drives import PipedJet
from statorbook.errors import BadInput
from statorbook.quantities import Fact, cell_text, holds_anything, say
from statorbook.year.months import filled_months, in_order, month_words
from statorbook.year.nozzles import at_head, best_outlet, outlets, require_enough, widest_mm, with_outlet
from statorbook.year.source import MONTH_HOURS, SourceYear

WATER_YEAR_SHARE = Fact(
    value=0.25,
    unit="energy of one year over that of the mean of many, 95 %",
    source="wet and dry years of small streams, common practice, no source",
    low=0.10,
    high=0.50,
)
FLOW_SLACK = Fact(
    value=0.02,
    unit="of the flow, by which its rounding may let a nozzle draw more",
    source="a timed bucket, common practice, no source",
    low=0.0,
    high=0.05,
)


@dataclass(frozen=True, kw_only=True)
class WaterMonth(MonthReading):
    """One month of a stream; nan or 0 for what was left empty."""

    flow_l_s: float = nan  # that the stream has for the machine; 0 when it is dry
    flow_step_l_s: float = 0.0  # worth of the last digit typed
    head_m: float = nan  # static or net, as the drive has it
    nozzle_mm: float = nan  # of each jet that runs
    jets_open: int = 0


def read_water_months(rows):
    """Read the log of a stream.

    Parameters
    ----------
    rows : list of dict
        Raw cells as typed.

    Returns
    -------
    tuple of WaterMonth
        One for every row that holds anything, bad rows included; empty for an empty log.
    """
    return read_months(WATER_MONTHS_LOG, WaterMonth, rows, _numbers) if holds_anything(rows) else ()


def _numbers(row, where, month):
    log = WATER_MONTHS_LOG
    flow = log.number(row, "flow_l_s", where)
    found = {"flow_l_s": flow.value, "flow_step_l_s": flow.step}
    for name in ("head_m", "nozzle_mm", "jets_open"):
        if cell_text(row.get(name)):
            found[name] = log.number(row, name, where).value
    jets = found.get("jets_open", 0.0)
    if jets % 1.0:
        raise BadInput(
            f"{jets:g} jets were given",
            "a whole number of jets is allowed",
            "count the nozzles that are open",
            where=log.cell(where, "jets_open"),
        )
    return found | {"jets_open": int(jets)}, []


def year_of_same_water(drive):
    """The year of a jet that runs as it stands, every hour.

    Parameters
    ----------
    drive : WaterJet or PipedJet
        The jet.

    Returns
    -------
    SourceYear
        One setting for all hours.
    """
    words = f"The jet runs all year as on page 03, with {say(drive.total_flow_l_s, 'L/s')}."
    same = [(drive, drive.total_flow_l_s, MONTH_HOURS)]
    return _source(same, words, ("water enough in every month",), months_known=False)


def year_of_water(drive, months, nozzles_mm=()):
    """The year of a jet from the water of each month.

    Parameters
    ----------
    drive : WaterJet or PipedJet
        The jet as it stands.
    months : sequence of WaterMonth
        At least one; months without a row are filled between those beside them.
    nozzles_mm : sequence of float
        Bores of the nozzles that the reader has; the one of the drive when empty [mm].

    Returns
    -------
    SourceYear
        One setting for each nozzle, number of jets and head that runs; a month whose water is too little for every
        nozzle stands still.

    Raises
    ------
    BadInput
        When a row is bad, a nozzle typed for a month draws more than there is, a nozzle does not suit pipe or runner,
        or no month has enough water for any nozzle.

    Notes
    -----
    Equation: of the nozzles with Q at most the flow that there is, the one of most shaft power; each with the head that
        the pipe leaves it.
    Valid: a flow that holds all month; without a known pipe the net head is that of the drive with every nozzle.
    Source: see `WaterJet`, `PipedJet`.
    """
    rows = {reading.month: reading for reading in require_usable(months)}
    flows = filled_months([rows[month].flow_l_s if month in rows else nan for month in range(12)])
    runs = [_drive_of(drive, tuple(nozzles_mm), month, flows[month], rows.get(month)) for month in range(12)]
    still = [month for month in range(12) if runs[month] is None]
    if len(still) == 12:
        raise BadInput(
            f"the wettest month has {say(flows.max(), 'L/s')}, and your smallest nozzle draws more",
            "a month with enough water for one nozzle is needed",
            _smaller(drive, flows.max()) or "read the flow again, or type the nozzles that you have",
            where="water months log",
        )
    found = [(now, now.total_flow_l_s, MONTH_HOURS * (np.arange(12) == m)) for m, now in enumerate(runs) if now]
    words = (f"{_nozzle_words(runs)}.", *_still_words(drive, flows, still), *_too_wide(drive, runs))
    assumed = ("a flow that holds all month", *_filled(rows), *_head_assumed(drive, runs))
    return _source(found, " ".join(words), assumed, months_known=len(rows) > 1, gaps=_gaps(rows))


def _drive_of(drive, nozzles_mm, month, flow_l_s, row):
    """The jet that runs in a month; None where it stands still."""
    if row is None:
        return best_outlet(outlets(drive, nozzles_mm), flow_l_s)
    if row.jets_open > drive.jets:
        raise BadInput(
            f"{row.jets_open} open jets were given",
            f"the runner of page 03 has {drive.jets}, by which wires and fuse are sized",
            "count the nozzles again, and correct them here or there",
            where=WATER_MONTHS_LOG.cell(row.where, "jets_open"),
        )
    now = drive if isnan(row.head_m) else at_head(drive, row.head_m)
    most_l_s = flow_l_s + min(row.flow_step_l_s / 2.0, FLOW_SLACK.value * flow_l_s)
    if isnan(row.nozzle_mm):
        return best_outlet(outlets(now, nozzles_mm, row.jets_open), most_l_s)
    where = WATER_MONTHS_LOG.cell(row.where, "nozzle_mm")
    now = with_outlet(now, row.nozzle_mm, row.jets_open or drive.jets, where=where)
    require_enough(now, most_l_s, month, where=where)
    return now


def _source(found, words, assumed, **others):
    share = WATER_YEAR_SHARE.value
    return SourceYear(
        **in_order(found),
        setting_name="flow at the nozzle",
        setting_unit="L/s",
        words=words,
        assumed=(*assumed, f"single years within ± {100 * share:.0f} % of the mean of many"),
        year_share=share,
        **others,
    )


def _outlet(drive):
    bore = say(drive.jet_mm, "mm")
    return bore if drive.jets == 1 else f"{drive.jets} jets of {bore}"


def _nozzle_words(runs):
    """Which nozzle runs when, the one of most months first."""
    names = [now and _outlet(now) for now in runs]
    used = sorted(dict.fromkeys(filter(None, names)), key=names.count, reverse=True)
    when = [f"{name} {month_words([m for m in range(12) if names[m] == name])}" for name in used]
    return f"The nozzle that runs: {'; '.join(when)}"


def _still_words(drive, flows, still):
    if still:
        yield f"It stands still {month_words(still)}: the water is too little for any nozzle that you have."
        if smaller := _smaller(drive, max(flows[still])):
            yield f"{smaller[0].upper()}{smaller[1:]}."


def _smaller(drive, flow_l_s):
    """What would run on this water; empty where pipe and runner have no use for such a jet."""
    bore = widest_mm(drive, flow_l_s, 1) if flow_l_s else None
    return f"one nozzle of {say(bore, 'mm')} would run on {say(flow_l_s, 'L/s')}" if bore else ""


def _too_wide(drive, runs):
    """Nozzles wider than what page 03 sizes wires and fuse for."""
    known = max(filter(None, (drive.largest_nozzle_mm, drive.jet_mm)))
    wide = max(now.jet_mm for now in runs if now)
    if wide > known * 1.001:
        yield (
            f"Your nozzle of {say(wide, 'mm')} is wider than the largest of page 03, {say(known, 'mm')}: type it there "
            "as the largest, since wires and fuse are sized by that one."
        )


def _head_assumed(drive, runs):
    """Without a known pipe nothing tells what another nozzle does to the head."""
    if not isinstance(drive, PipedJet) and any(now and abs(now.jet_mm / drive.jet_mm - 1.0) > 0.01 for now in runs):
        yield "the same net head with every nozzle, since no pipe is known"


def _filled(rows):
    if missing := _missing(rows):
        yield f"the flow {month_words(missing)}"


def _missing(rows):
    return [month for month in range(12) if month not in rows]


def _gaps(rows):
    if len(rows) == 1:
        return (f"Only the flow of {MONTH_NAMES[min(rows)]} is known, so every month is taken alike.",)
    if missing := _missing(rows):
        return (f"No flow was typed {month_words(missing)}: it is taken between those of the months beside.",)
    return ()
