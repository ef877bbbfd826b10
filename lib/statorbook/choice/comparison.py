"""Every legal grouping of one stator, side by side, with a verdict in words; nothing is hidden."""

from dataclasses import dataclass, replace

import numpy as np

from statorbook.bank import Bank
from statorbook.choice.setting import Setting
from statorbook.choice.verdict import (
    CHOSEN,
    FAIR_SHARE,
    GOOD_SHARE,
    NEARLY_THE_MOST,
    NEEDS_A_GUARD,
    REJECTED,
    WORKABLE,
    Worth,
    choose,
    danger_of,
    describe,
    fault_of,
    given_words,
    gone_words,
    least_volts,
    remarks,
    the_most,
    worth_of,
)
from statorbook.drives import Drive
from statorbook.errors import BadInput
from statorbook.operation import (
    Hazard,
    MostAmps,
    OperatingPoint,
    cut_in_rpm,
    grade,
    most_amps,
    open_circuit_volts,
    operating_points,
    points_from,
)
from statorbook.winding import Winding, circulating, wire_area_mm2


@dataclass(frozen=True, kw_only=True)
class Row:
    """One grouping in the comparison."""

    winding: Winding  # the stator with this grouping
    cut_in_rpm: float  # at which charging starts, bank half full
    points: tuple  # bank empty, half full and charging, machine warm
    cold_point: OperatingPoint  # bank half full, machine cold
    coil_amps_rms: float  # of one coil, bank half full; in a delta with the third harmonic, when measured
    amps_per_mm2: float  # the same over the wire's area; not a number when the wire was not measured
    circulating_watts: float  # at most, by a third harmonic inside the delta; not a number when not measured
    most: MostAmps  # the most that can flow, for sizing parts: empty bank, machine cold, run away
    working: Hazard  # open-circuit volts at the working speed, cold magnets
    runaway: Hazard  # open-circuit volts at the runaway speed with the drive's guard acting, cold magnets
    unguarded: Hazard  # the same when that guard fails or there is none
    guard_words: str  # what guards the drive against running away, as its `guard_words`; empty without
    verdict: str  # "chosen", "needs a guard", "workable", "above the limit" or "rejected", see `verdict.choose`
    reason: str  # one sentence
    worth: Worth | None = None  # what it is ranked by, None for its watts at the one setting

    @property
    def grouping(self):
        """The grouping of this row, a `Grouping`."""
        return self.winding.grouping

    @property
    def point(self):
        """The middle point: bank half full, machine warm, an `OperatingPoint`."""
        return self.points[1]


@dataclass(frozen=True, kw_only=True)
class Comparison:
    """All rows, best first.

    Parameters
    ----------
    rows : tuple of Row
        Sorted by watts into the half-full bank, or by the worth that was given.
    bank : Bank
        The bank.
    drive : Drive
        What turns them.
    setting : Setting
        What they were compared for.
    """

    rows: tuple
    bank: Bank
    drive: Drive
    setting: Setting

    def by_worth(self, worths):
        """The same rows ranked and judged by something else than the watts of the one setting.

        Parameters
        ----------
        worths : dict of Grouping to Worth
            One for each row, all in one unit. What it says of want of charge takes the place of what the one setting
            says; coils that are too hot there, and volts beyond low voltage, reject a row whatever it is worth.

        Returns
        -------
        Comparison
            Of the same bank, drive and setting.
        """
        rows = sorted((_judged_by(row, worths[row.grouping]) for row in self.rows), key=lambda row: -row.worth.given)
        chosen = choose(rows, self.setting.limit_dc_volts, most_words=rows[0].worth.unit)
        return replace(self, rows=tuple(chosen))

    def accepting(self, dc_volts):
        """The same rows judged anew for other volts that the reader accepts with the bank gone.

        Parameters
        ----------
        dc_volts : float or None
            The highest, DC peak; None before the reader has said [V].

        Returns
        -------
        Comparison
            Nothing but verdicts and reasons differs.
        """
        setting = replace(self.setting, accepted_dc_volts=dc_volts)
        rows = [row if row.verdict == REJECTED else replace(row, verdict=WORKABLE) for row in self.rows]
        chosen = choose(rows, setting.limit_dc_volts, most_words=self.most_words)
        return replace(self, rows=tuple(chosen), setting=setting)

    @property
    def most_words(self):
        """What there is most of in the best row: "watts", or the unit of the worth."""
        worth = self.rows[0].worth
        return worth.unit if worth else "watts"

    @property
    def chosen(self):
        """The row that gives most within the accepted volts, or None when none that charges stays within."""
        return next((row for row in self.rows if row.verdict == CHOSEN), None)

    @property
    def recommended(self):
        """The chosen row, else the one that needs a guard; None when every grouping is rejected."""
        return next((row for row in self.rows if row.verdict in (CHOSEN, NEEDS_A_GUARD)), None)

    @property
    def shown(self):
        """The row that a page opens on: the recommended one, else the one that gives most."""
        return self.recommended or self.rows[0]

    @property
    def without_limit(self):
        """The row that gives most, however dangerous; the first row when all are rejected, a `Row`."""
        return the_most(self.sound) if self.sound else self.rows[0]

    @property
    def sound(self):
        """The rows that are not rejected, a list of `Row`."""
        return [row for row in self.rows if row.verdict != REJECTED]

    def find(self, grouping):
        """The row of a grouping.

        Parameters
        ----------
        grouping : Grouping
            How the coils are joined.

        Returns
        -------
        Row
            The row.

        Raises
        ------
        BadInput
            With the legal ones, when this stator has no such grouping.
        """
        for row in self.rows:
            if row.grouping == grouping:
                return row
        legal = "; ".join(row.grouping.label for row in self.rows)
        raise BadInput(f"{grouping.label} was given", f"legal here are {legal}", "choose one of them", where="grouping")

    @property
    def sentence(self):
        """The recommendation in words: the volts with the bank gone and their guard first, then the watts."""
        if self.recommended is None:
            best = self.rows[0]
            nearest = f"{best.grouping.label} comes nearest, but {best.reason}"
            return f"No grouping of this stator suits this bank and drive: {nearest}"
        return self.words_of(self.recommended)

    def words_of(self, row, spread=None):
        """A row in words, dangers before watts, and why it was chosen or not.

        Parameters
        ----------
        row : Row
            One of the rows.
        spread : dict of str to Spread or None
            From `with_plus_minus`, to round by; "worth" is that of what the rows are ranked by.

        Returns
        -------
        str
            Sentences.
        """
        said = f"{describe(row, spread)}{self._wall_words(row, spread)}"
        if row is self.recommended:
            mind = remarks(row)
            beside = f" Note: {mind}." if mind else ""
            return f"{self.limit_words} {said}{self.beside_words}{beside}"
        said = f"{row.verdict.capitalize()}: {said}"
        return f"{said} {row.reason[:1].upper()}{row.reason[1:]}"

    @property
    def limit_words(self):
        """Whether anything that charges stays within the accepted volts, in words before a row is described."""
        accepted = f"the {self.setting.limit_dc_volts:.0f} V DC that you accept with the bank gone"
        if self.chosen is not None:
            return f"Chosen, with the most {self.most_words} within {accepted}:"
        if self.recommended is None:
            return ""
        least = f"Least volts for {GOOD_SHARE:.0%} of the most {self.most_words}"
        return f"Nothing that charges stays within {accepted}. {least}:"

    @property
    def beside_words(self):
        """What lies beyond the recommended row: half of the most where it needs a guard, else the most."""
        if self.recommended is None:
            return ""
        if self.chosen is None:
            return self._fair_words()
        most = self.without_limit
        if worth_of(self.chosen) >= NEARLY_THE_MOST * worth_of(most):
            return ""
        return f" Whatever the volts, {_in_short(most)}"

    def _wall_words(self, row, spread):
        """Said of a row within the accepted volts whose ± reaches past them."""
        limit, gone = self.setting.limit_dc_volts, spread["runaway_dc_volts_peak"] if spread else None
        if gone is None or not gone.value <= limit < gone.value + gone.plus_minus:
            return ""
        passed = f"{gone}, may pass the {limit:.0f} V that you accept"
        return f" Its volts with the bank gone, {passed}: guard it as if they did."

    def _fair_words(self):
        fair = least_volts(self.sound, FAIR_SHARE)
        lead = f" For {FAIR_SHARE:.0%} of the most {self.most_words}"
        if fair is self.recommended:
            return f"{lead} the least volts are the same."
        return f"{lead}, {_in_short(fair)}"


def _in_short(row):
    return f"{row.grouping.label} gives {given_words(row)}; {gone_words(row)}."


def _judged_by(row, worth):
    fault = worth.fault or danger_of(row)
    return replace(row, worth=worth, verdict=REJECTED if fault else WORKABLE, reason=fault)


def compare(stator, coil, drive, bank, setting=Setting()):
    """Compare every legal grouping, star and delta.

    Parameters
    ----------
    stator : Stator
        Slots and poles.
    coil : CoilConstants
        What one coil does.
    drive : Drive
        What turns it.
    bank : Bank
        The bank.
    setting : Setting
        Temperatures, drag, rectifier, cable, wire, device limit, open delta corner, accepted volts.

    Returns
    -------
    Comparison
        One row per legal grouping, none left out.

    Notes
    -----
    Equation: see `operating_points`, `operation.hazards.grade`.
    Valid: as the bridge model; a third harmonic inside a delta heats its coils but is not in the amps into the bank.
    Source: energy balance; IEC 60364-4-41 for the hazard.
    """
    windings = [Winding(stator=stator, coil=coil, grouping=g) for g in stator.groupings()]
    cases = [*((state, setting.conditions) for state in bank.states), (bank.states[1], setting.cold)]
    # All groupings in all cases at once: one search of 4 g rows takes little longer than one of g.
    every = [(winding, *case) for winding in windings for case in cases]
    found = iter(points_from(drive, operating_points(drive, *zip(*every, strict=True))))
    most_of_each = most_amps([(drive, winding, bank, setting.cold) for winding in windings])
    rows = []
    for winding, most in zip(windings, most_of_each, strict=True):
        *points, at_cold = (next(found) for _ in cases)
        rows.append(_row(winding, drive, bank, setting, points, at_cold, most))
    rows.sort(key=lambda row: -row.point.bank_watts)
    return Comparison(rows=tuple(choose(rows, setting.limit_dc_volts)), bank=bank, drive=drive, setting=setting)


def _row(winding, drive, bank, setting, points, cold_point, most):
    delta = winding.grouping.connection == "delta"
    around = around_delta(winding, setting, points[1].speed_rpm)
    # The third harmonic has another frequency, so its heat adds.
    coil_amps = float(np.hypot(winding.coil_amps(points[1].phase_amps_rms), around.coil_amps_rms))
    area = wire_area_mm2(setting.wire_diameter_mm, setting.wires_in_hand) if setting.wire_diameter_mm else float("nan")
    working, runaway, unguarded = (
        grade(open_circuit_volts(winding, speed, setting.cold_c)[0], **setting.exposed)
        for speed in (points[1].speed_rpm, drive.runaway_speed_rpm, drive.unguarded_runaway_speed_rpm)
    )
    row = Row(
        winding=winding,
        cut_in_rpm=cut_in_rpm(winding, bank.states[1], setting.conditions),
        points=tuple(points),
        cold_point=cold_point,
        coil_amps_rms=coil_amps,
        amps_per_mm2=coil_amps / area,
        circulating_watts=float("nan") if delta and setting.open_corner_v_per_rpm is None else float(around.watts),
        most=most,
        working=working,
        runaway=runaway,
        unguarded=unguarded,
        guard_words=drive.guard_words,
        verdict=WORKABLE,
        reason="",
    )
    fault = fault_of(row)
    return replace(row, verdict=REJECTED, reason=fault) if fault else row


def around_delta(winding, setting, speed_rpm):
    """The third-harmonic current at most, machine warm; none where it was not measured.

    Parameters
    ----------
    winding : Winding
        The winding; a star carries none.
    setting : Setting
        Temperatures, and the volts across an open delta corner where they were measured.
    speed_rpm : float or ndarray
        Rotor speed [rpm].

    Returns
    -------
    Circulating
        Amps and watts, of the shape of the speed.

    Notes
    -----
    Equation: see `winding.circulating`.
    Valid: as there, an upper bound.
    Source: as there.
    """
    volts, at_work = setting.open_corner_v_per_rpm or 0.0, setting.conditions
    return circulating(winding, volts, speed_rpm, copper_c=at_work.copper_c, magnet_c=at_work.magnet_c)


def watts_band(stator, coils, drive, bank, setting=Setting()):
    """Least and most watts of every grouping over several sets of coil constants.

    Parameters
    ----------
    stator : Stator
        Slots and poles.
    coils : sequence of CoilConstants
        The corners of what the coils may be.
    drive : Drive
        A drive.
    bank : Bank
        The bank.
    setting : Setting
        As in `compare`.

    Returns
    -------
    dict
        Grouping to (least, most) watts into the half-full bank [W].

    Notes
    -----
    Equation: extremes over the corners.
    Valid: the watts are monotone enough between the corners for a band.
    Source: interval estimate.
    """
    watts = np.hstack(
        [
            operating_points(
                drive,
                [Winding(stator=stator, coil=coil, grouping=g) for g in stator.groupings()],
                bank.states[1],
                setting.conditions,
            ).bank_watts
            for coil in coils
        ]
    )
    return dict(zip(stator.groupings(), zip(watts.min(axis=1).tolist(), watts.max(axis=1).tolist()), strict=True))
