"""Panel of chapter 04: pick a grouping, move bank, drive and temperature, and see what it gives and risks."""

from dataclasses import replace

import numpy as np

from statorbook.assembly import choice_part, machine_from, units_for
from statorbook.bank import cells_for
from statorbook.choice import REJECTED, amps_band
from statorbook.drives import shaft_watts
from statorbook.errors import BadInput
from statorbook.figures import draw_one_curve, draw_speed_curves
from statorbook.figures.canvas import KeptFigure
from statorbook.job import COMPARED_IN_WORDS, inputs_fingerprint
from statorbook.job.parts import BankPart
from statorbook.operation import LETS_GO, one_curve, open_circuit_volts, sweep
from statorbook.panels.choice.accepted_volts import AcceptedVolts
from statorbook.panels.choice.by_year import YearOfPage
from statorbook.panels.choice.grouping_slider import GroupingSlider
from statorbook.panels.choice.groupings import all_groupings, plus_minus_words
from statorbook.panels.drive.drive_sliders import DriveSliders, TemperatureSlider
from statorbook.quantities import DRY_DC_VOLTS, ELV_DC_VOLTS, reader_units
from statorbook.widgets import Answer, Panel, button, choice, job_prefix, require_own

_LIMITS = ((DRY_DC_VOLTS.value, "dry touch"), (ELV_DC_VOLTS.value, "extra-low voltage"))
_SPEEDS = 160
_SPEEDS_FOLD = "Amps and volts against speed"
_ROW_PX, _HEAD_PX = 66, 110  # room for three lines a row, so that the page does not jump
_SENTENCE_LINES, _YEAR_LINES = 18, 6


class ChoosePanel(Panel):
    """Choose a coil grouping for the bank and drive of a job that has stator, coil, drive and bank filled in."""

    inputs_beside, picture_folds, table_fold = True, (_SPEEDS_FOLD,), "Table: all groupings"

    def __init__(self, job):
        now = job.read()
        self.job, self._opened_with, system = job, _compared_parts(now), units_for(now)
        with reader_units(system):
            self.machine = machine_from(now)
            self._year = YearOfPage(now, self.machine)
        self.curve = KeptFigure(height_in=4.4)
        self.speeds = KeptFigure(rows=2, height_in=5.4, sharex=True)
        self.bank = choice("Bank", self._bank_options(), self.machine.bank)
        self.state = choice("State of the bank", [(s.name, i) for i, s in enumerate(self.machine.bank.states)], 1)
        setting = self.machine.setting
        self.drive = DriveSliders(self.machine.drive, system)
        self.accepted = AcceptedVolts(setting.limit_dc_volts)
        self.copper = TemperatureSlider("Winding at work", setting.conditions.copper_c, 10, 180, system)
        self.magnet = TemperatureSlider("Magnets at work", setting.conditions.magnet_c, -10, 100, system)
        self.cold = TemperatureSlider("Coldest magnets", setting.cold_c, -30, 30, system)
        self.grouping = GroupingSlider(self.machine)
        self.moves = {words: button(words, self.guarded(lambda _, call=call: call())) for words, call in self._ways()}
        turned = [*self.drive.sliders.values(), self.copper, self.magnet, self.cold]
        inputs = [self.accepted, self.grouping, list(self.moves.values()), self.bank, self.state, *turned]
        super().__init__(
            system=system,
            inputs=inputs,
            actions={"Write this grouping to the job": self.write},
            picture_px=self.curve.height_px,
            table_px=_ROW_PX * len(self.machine.stator.groupings()) + _HEAD_PX,
            sentence_lines=_SENTENCE_LINES + (_YEAR_LINES if self._year.known else 0),
        )

    def _ways(self):
        """Words of the buttons that move the grouping, and what they do."""
        most = "kilowatt-hours" if self._year.known else "watts"
        return (
            ("Back to the recommended one", lambda: self.grouping.follow(self.compared()[1])),
            (f"Show the most {most}, whatever the volts", self.show_most),
        )

    def show_most(self):
        """Show the grouping that gives most, however high its volts with the bank gone are."""
        self.grouping.move_to(self.compared()[1].without_limit.grouping)

    def _bank_options(self):
        own = self.machine.bank
        mine = (f"as in the job ({own.half_volts:.0f} V half full)", own)
        others = [
            (f"{volts} V {own.chemistry}", replace(own, cells=cells_for(own.chemistry, volts)))
            for volts in (12, 24, 48)
        ]
        return [mine, *(pair for pair in others if pair[1].cells != own.cells)]

    def compared(self):
        """Machine with the sliders' values, and its comparison: by the year where it is known."""
        base = self.machine.setting
        at_work = replace(base.conditions, copper_c=self.copper.read(), magnet_c=self.magnet.read())
        setting = replace(base, conditions=at_work, cold_c=self.cold.read(), accepted_dc_volts=self.accepted.value)
        now = replace(self.machine, drive=self.drive.drive(), bank=self.bank.value, setting=setting)
        return now, self._year.judged(now)[0]

    def answer(self):
        """Compare all groupings for the inputs as they stand; every ± and the table once the hand rests."""
        now, found = self.compared()
        self.grouping.show(found)
        row = found.find(self.grouping.grouping)
        at = row.points[self.state.value]
        said = f"{job_prefix(self.job)}{found.words_of(row)}\n{self._year.sentence(now)}"
        watts, worth = row.point.bank_watts, row.worth
        energy = {"energy": self.as_before("energy", worth.given, worth.words)} if worth else {}
        quick = Answer(
            sentence=said,
            headline={
                "grouping": row.grouping.label,
                **energy,
                "power": self.as_before("power", watts, f"{watts:.0f} W"),
                "bank gone": f"{row.runaway.dc_volts_peak:.0f} V DC peak",
            },
            at=self._draw(now, found, row, at),
            pictures=(self.curve.svg("Power into the bank against voltage ratio. " + said),),
            folded={_SPEEDS_FOLD: lambda: self._draw_speeds(now, found, row, at, said)},
            caution=_caution(now, found.bank, row, self._year.caution(now)),
        )
        return replace(quick, whole=lambda: self._whole(quick, now, found, row))

    def _whole(self, quick, now, found, row):
        """The answer with every ± and the table."""
        spread, at = self._year.spreads(now, row.grouping), row.points[self.state.value]
        sentence = f"{job_prefix(self.job)}{found.words_of(row, spread)}\n{self._year.sentence(now)}"
        sentence += f"\n{plus_minus_words(now, row.grouping, spread)}{self._year.years_words}"
        if self.state.value != 1:
            state = found.bank.states[self.state.value].name
            sentence += f" With the bank {state}: {at.bank_watts:.0f} W ({at.dc_amps:.1f} A) at {at.speed_rpm:.0f} rpm."
        energy = {"energy": spread["worth"]} if "worth" in spread else {}
        return replace(
            quick,
            sentence=sentence,
            headline=quick.headline | energy | {"power": spread["bank_watts"]},
            pictures=(self.curve.svg("Power into the bank against voltage ratio. " + sentence),),
            folded={_SPEEDS_FOLD: lambda: self._draw_speeds(now, found, row, at, sentence)},
            table=all_groupings(found, row, self._year.judged(now)[1]),
            whole=None,
            later=lambda: self._year.firmness(now),
        )

    def _draw(self, now, found, row, at):
        """Draw the one curve, and where the point was before the move; gives where it is now, u and watts."""
        speed, setting, chosen = at.speed_rpm or found.drive.best_speed_rpm, now.setting, self.state.value
        windings, state = [r.winding for r in found.rows], found.bank.states[chosen]
        held = [r.points[chosen].held_dc_volts for r in found.rows] if setting.conditions.converter else None
        curve = one_curve(windings, speed, state, setting.conditions, dc_amps=at.dc_amps, held_dc_volts=held)
        number = found.rows.index(row)
        place = float(curve.grouping_ratio[number]), float(curve.grouping_watts[number])
        before = self.rested.at if self.rested else None
        self.curve.draw(
            draw_one_curve,
            curve,
            found.rows,
            row.grouping,
            speed_rpm=speed,
            drive_watts=shaft_watts(found.drive, speed),
            # Behind a converter u is no measure of the volts with the bank gone, so there is no wall.
            limit_dc_volts=None if held else setting.limit_dc_volts,
            volts_words="volts held" if held else "bank volts",
            before=None if before == place else before,
        )
        return place

    def _draw_speeds(self, now, found, row, at, sentence):
        setting, chosen = now.setting, self.state.value
        stands = setting.exposed["device_max_volts"]
        speeds = np.linspace(1.0, 1.05 * found.drive.runaway_speed_rpm, _SPEEDS)
        states, held = found.bank.states, _at_held_volts(now, at)
        conditions = held.setting.conditions
        sweeps = sweep([row.winding] * len(states), speeds, states, conditions).one_by_one()
        self.speeds.draw(
            draw_speed_curves,
            sweeps,
            row,
            at=at,
            state=chosen,
            plus_minus_band=amps_band(held, row.grouping, speeds, state=chosen),
            runaway_rpm=found.drive.runaway_speed_rpm,
            limits=_limits_with(setting.limit_dc_volts),
            volts_peak=open_circuit_volts(row.winding, speeds, setting.cold_c)[1],
            device_max_volts=None if stands == setting.limit_dc_volts else stands,
        )
        return self.speeds.svg("Amps and open-circuit volts against speed. " + sentence)

    def write(self):
        """Save the grouping shown, its promise, drive and bank; refused when the job was changed elsewhere since."""
        next_step = "fill in what your job still lacks, press “Run the page”, then write"
        require_own(self.job, "a grouping is written only to the job that is open", next_step, "grouping")
        kept = self.job.read()
        elsewhere = [name for name, part in _compared_parts(kept).items() if part != self._opened_with[name]]
        if elsewhere:
            raise BadInput(
                f"the job's {' and '.join(elsewhere)} changed since this panel was made",
                "a grouping is written for the job as it is now",
                "press “Run the page”, then write the grouping",
                where=f"job {self.job.name}",
            )
        compared, found = self.compared()
        row = found.find(self.grouping.grouping)
        spread = self._year.spreads(compared, row.grouping)
        made = choice_part(found, row, spread.get("worth"))  # refused, if at all, before anything is written
        changed = [*self._write_drive(kept.drive), *self._write_bank(kept.bank, found)]
        now = self.job.read()
        self.job.save_part("choice", made.model_copy(update={"worked_out_for": inputs_fingerprint(now)}))
        self._opened_with = _compared_parts(now)
        hold = "holds" if len(changed) == 1 else "hold"
        also = f" The job's {' and '.join(changed)} now {hold} what the sliders show." if changed else ""
        saved = f"Saved in the job {self.job.name}: {row.grouping.label}.{also}"
        if row.verdict == REJECTED:
            self.message.remark(f"{saved} But note that it is rejected: {row.reason}")
        elif row.runaway.guard:
            self.message.remark(f"{saved} But note that it needs {row.runaway.guard}.")
        else:
            self.message.say(saved)

    def _write_drive(self, kept):
        values = {quantity.field: quantity.value for quantity in kept.to_drive().quantities}
        new = {name: value for name, value in self.drive.standing.items() if value != values[name]}
        if not new:
            return []
        self.job.save_part("drive", kept.with_quantities(new))
        return ["drive"]

    def _write_bank(self, kept, found):
        new = {}
        if found.bank.cells != kept.to_bank().cells:
            new |= {"nominal_volts": None, "cells": found.bank.cells}
        if self.accepted.moved:
            new["accepted_volts"] = self.accepted.value
        if not new:
            return []
        self.job.save_part("bank", BankPart(**{**kept.model_dump(), **new}))
        return ["bank"]


def _at_held_volts(machine, point):
    """The machine with a converter that holds the volts of an operating point; itself without a converter."""
    setting = machine.setting
    if point.held_dc_volts is None or not np.isfinite(point.held_dc_volts):
        return machine
    conditions = setting.conditions.held_at(point.held_dc_volts)
    return replace(machine, setting=replace(setting, conditions=conditions))


def _caution(machine, bank, row, years):
    """The volts with the bank gone, what the year adds to them, then what speaks against coils or bank."""
    lets_go = LETS_GO if machine.setting.conditions.converter else ""
    cautions = (row.runaway.sentence, lets_go, years, machine.doubt, bank.caution, bank.amps_caution(row.most.dc_amps))
    return " ".join(filter(None, cautions))


def _compared_parts(job):
    """The parts that a comparison is made of, and the mark of the year."""
    marks = [mark for mark in inputs_fingerprint(job).split() if mark.startswith("year=")]
    return {name: job.parts.get(name) for name in COMPARED_IN_WORDS} | {"year": marks}


def _limits_with(accepted_dc_volts):
    """The limits to draw; of two at the same volts the reader's own, so that no words stand on others."""
    mine = (accepted_dc_volts, "the most that you accept")
    return [*(pair for pair in _LIMITS if pair[0] != accepted_dc_volts), mine]
