"""Panel of chapter 04: from rest to work, where the watts go, and whether joined leads hold the rotor."""

from dataclasses import replace

from statorbook.assembly import choice_of, machine_from, units_for
from statorbook.drives import Pedals, WindRotor
from statorbook.figures import draw_loss_chain, draw_torque_crossings
from statorbook.figures.canvas import KeptFigure
from statorbook.operation import pedal_feel, point_at, start_up
from statorbook.panels.drive.drive_sliders import DriveSliders
from statorbook.protection import brake, highest_wind_m_s
from statorbook.quantities import reader_units
from statorbook.widgets import Answer, Panel, choice
from statorbook.winding import Winding

CHAIN = "Where the watts go, step by step"


class SettlePanel(Panel):
    """Follow one grouping from rest to the bank.

    Parameters
    ----------
    job : Job
        A job with stator, coil, drive and bank filled in.
    """

    inputs_beside, picture_folds = True, (CHAIN,)

    def __init__(self, job):
        now = job.read()
        self.job, self.system = job, units_for(now)
        with reader_units(self.system):
            self.machine = machine_from(now)
        self.torque = KeptFigure(height_in=4.2)
        self._chain = KeptFigure(height_in=4.4)
        groupings = self.machine.stator.groupings()
        self.grouping = choice(
            "Grouping", [(grouping.label, grouping) for grouping in groupings], choice_of(now).to_grouping()
        )
        self.state = choice("State of the bank", [(s.name, i) for i, s in enumerate(self.machine.bank.states)], 1)
        self.drive = DriveSliders(self.machine.drive, self.system)
        super().__init__(
            system=self.system,
            inputs=[self.grouping, self.state, *self.drive.sliders.values()],
            picture_px=self.torque.height_px,
            sentence_lines=8,
        )

    def answer(self):
        """Start, work, losses and brake for the inputs as they stand."""
        now = replace(self.machine, drive=self.drive.drive())
        winding = Winding(stator=now.stator, coil=now.coil, grouping=self.grouping.value)
        state, conditions = now.bank.states[self.state.value], now.setting.conditions
        start = start_up(now.drive, winding, state, conditions, start_nm=now.start_nm)
        point = point_at(now.drive, winding, state, conditions, start.settles_rpm)
        before = self.rested.at if self.rested else None
        self.torque.draw(draw_torque_crossings, now.drive, winding, state, conditions, start, before=before)
        sentence = " ".join(filter(None, (start.in_words(), working_words(point), self._special(now, winding))))
        return Answer(
            sentence=sentence,
            headline={"power": f"{point.bank_watts:.0f} W", "speed": f"{point.speed_rpm:.0f} rpm"},
            pictures=(self.torque.svg("Torque of drive and generator against speed. " + sentence),),
            folded={CHAIN: lambda: self._draw_chain(point)},
            at=next(((c.speed_rpm, c.torque_nm) for c in start.found if c.speed_rpm == start.settles_rpm), None),
            caution=brake(now.drive, winding, conditions).sentence,
        )

    def _draw_chain(self, point):
        self._chain.draw(draw_loss_chain, point.chain_watts)
        return self._chain.svg("Power from the source to the bank, step by step. " + working_words(point))

    def _special(self, now, winding):
        """What only a rider or only a wind rotor has to know."""
        state, conditions = now.bank.states[self.state.value], now.setting.conditions
        if isinstance(now.drive, Pedals):
            return pedal_feel(now.drive, winding, state, conditions).sentence()
        if isinstance(now.drive, WindRotor):
            return highest_wind_m_s(now.drive, winding, conditions).sentence()
        return ""


def working_words(point):
    """Where it settles and what reaches the bank, in a sentence."""
    if not point.charges:
        return f"Nothing reaches the bank at {point.speed_rpm:.0f} rpm."
    chain = point.chain_watts
    first, watts = chain[0]
    share = "" if first == "shaft" else f", {point.bank_watts / watts:.0%} of what the source has"
    return (
        f"At {point.speed_rpm:.0f} rpm, {point.speed_over_best:.0%} of the drive's best speed, "
        f"{point.bank_watts:.0f} W reach the bank{share}."
    )
