"""Panels of chapter 03: what it takes to turn the unloaded rotor, from a coast-down or from a drill's wattmeter."""

from dataclasses import replace

from statorbook.assembly import sessions_used, units_for
from statorbook.bench import leave_out, read_coast, read_drill, ring_inertia_kgm2
from statorbook.errors import BadInput
from statorbook.figures import draw_coast_fit
from statorbook.figures.canvas import KeptFigure
from statorbook.fits import INERTIA_SHARE, fit_coast, fit_drill
from statorbook.job import Drafts
from statorbook.job.parts import DrivePart, field_facts
from statorbook.panels.measuring.log_panel import NO_STATOR, NOTHING_YET, Judged, LogPanel, why_no_fit
from statorbook.quantities import holds_anything, shown_unit, to_shown
from statorbook.widgets import NumberField, button, keep_fields, number_field, require_own, side_by_side, stacked

WRITE = "Write this drag to the drive"
COAST_CAUTION = (
    "Fasten the stator, keep hands, hair and sleeves away from the rotor, and do not touch the open leads: they "
    "carry the full volts of that speed."
)
DRILL_CAUTION = (
    "Hold the drill against its twist, fasten the stator, and do not touch the open leads: they carry the full volts "
    "of that speed; keep the wattmeter and its mains lead dry."
)
_NO_RING = (
    "Your readings are kept. The drag follows once the rotor's mass and the diameter of the middle of its ring are "
    "typed below."
)
_FIGURES = 4


class DragPanel(LogPanel):
    """The grid of a log of the drag, and the button that takes its result to the drive."""

    read, caution = None, ""

    def __init__(self, job, *, figure=None, fields=()):
        self._drafts, typed = (
            Drafts(job.folder, self.log),
            {name: field for row in fields for name, field in row.items()},
        )
        keep_fields(typed, self._drafts, self.guarded)
        super().__init__(job, figure=figure, sentence_lines=4)
        *rest, actions, message = self.widget.children
        for field in typed.values():
            field.observe(self.guarded(lambda change, field=field: self._retyped(field)), "value")
        self.buttons[WRITE] = button(WRITE, self.guarded(lambda pressed: self.write()), main=True)
        actions.children = (*actions.children, self.buttons[WRITE])
        inputs = stacked([side_by_side(row.values()) for row in fields])
        self.widget.children = (rest[0], inputs, *rest[1:], actions, message)

    def _retyped(self, field):
        self.grid.judge()
        _read(field)  # so that it is refused in the message line also while there is no log to be fitted

    def _look(self, rows):
        """Read and fit the log as typed; the verdict of each row stands even when there is no fit."""
        filled = holds_anything(rows)
        if not filled or self.job.stator is None:
            return Judged(missing=NO_STATOR if filled else NOTHING_YET)
        readings = type(self).read(rows, self.job.stator.to_stator())
        readings = leave_out(readings, sessions_used(self.job, self.log))
        missing = why_no_fit(readings)
        if missing:
            return Judged(readings=readings, missing=missing)
        try:
            missing = self._lacking()
            return Judged(readings=readings, fit=None if missing else self._fitted(readings), missing=missing)
        except BadInput as refusal:
            return Judged(readings=readings, missing=f"Your readings are kept, but there is no drag yet – {refusal}")

    def _fitted(self, readings):
        """Fit the readings; each panel its own way."""
        raise NotImplementedError(f"{type(self).__name__} does not say how its log is fitted")

    def _lacking(self):
        """What has to be typed besides the log before it can be fitted."""
        return ""

    def _typed(self):
        """What was typed besides the log and is kept with the drive."""
        return {}

    def _headline(self, fit):
        """The drag in a sentence."""
        return describe_drag(fit)

    def answer(self):
        """The drag of the log as it stands, with the caution of the test."""
        found = super().answer()
        return replace(found, caution=" ".join(filter(None, (self.caution, found.caution))))

    def write(self):
        """Save the drag that is shown in the drive as it is on the disk now; it is no longer assumed."""
        fit, drive = self.found.fit, self.job.drive
        next_step = "open or create your own job on the page 00_start_here"
        require_own(self.job, "a drag is written only to the job that is open", next_step, "drag")
        if fit is None:
            raise BadInput(
                "there is no drag to write yet",
                "a fitted log is needed",
                "read the sentence above the button",
                where="drag",
            )
        if drive is None:
            raise BadInput(
                "the job has no drive yet", "a drag is written into a drive", "save the drive above first", where="drag"
            )
        found = {"drag_nm": fit.drag_nm, "drag_nm_per_1000rpm": fit.drag_nm_per_1000rpm}
        found = {name: float(f"{drag.value:.{_FIGURES}g}") for name, drag in found.items()}
        assumed = tuple(name for name in drive.assumed if name not in found)
        self.job.save_part("drive", DrivePart(**{**drive.model_dump(), **self._typed(), **found, "assumed": assumed}))
        self._drafts.forget(self._typed())
        self.message.say(f"Saved in the drive of the job {self.job.name}: {describe_drag(fit)}")


class CoastPanel(DragPanel):
    """Log a coast-down and see the drag that slows it.

    Parameters
    ----------
    job : Job
        The job that the log belongs to.
    """

    log, read, draw, caution = "coast", read_coast, draw_coast_fit, COAST_CAUTION

    def __init__(self, job):
        system = {"system": units_for(job)}
        self.mass, self.ring = (
            number_field(field_facts(DrivePart, name), getattr(job.drive, name, None), **system)
            for name in ("rotor_kg", "rotor_ring_mm")
        )
        self.wheel = NumberField("Added wheel, mass", "kg", at_least=0, at_most=500, **system)
        self.wheel_mm = NumberField("Added wheel, diameter", "mm", at_least=0, at_most=3000, **system)
        super().__init__(
            job,
            figure=KeptFigure(rows=2, height_in=5.2, sharex=True, height_ratios=[2.1, 1]),
            fields=(
                {"rotor_kg": self.mass, "rotor_ring_mm": self.ring},
                {"wheel_kg": self.wheel, "wheel_mm": self.wheel_mm},
            ),
        )

    def inertia_kgm2(self):
        """Moment of inertia from what is typed; None until the rotor's mass and diameter are [kg·m²]."""
        mass_kg, ring_mm, wheel_kg, wheel_mm = map(_read, (self.mass, self.ring, self.wheel, self.wheel_mm))
        if mass_kg is None or ring_mm is None:
            return None
        return ring_inertia_kgm2(mass_kg, ring_mm, wheel_kg=wheel_kg or 0.0, wheel_mm=wheel_mm or 0.0)

    def _lacking(self):
        """What has to be typed besides the log before it can be fitted."""
        return _NO_RING if self.inertia_kgm2() is None else ""

    def _typed(self):
        """The rotor's mass and diameter, which are kept with the drive; an added wheel is not."""
        return {"rotor_kg": self.mass.read(), "rotor_ring_mm": self.ring.read()}

    def _headline(self, fit):
        """The drag in a sentence, and the inertia that it was reckoned with."""
        wheel = "the added wheel included" if _read(self.wheel) else "no added wheel"
        inertia = f"{self.inertia_kgm2():.3g} kg·m² ± {100 * INERTIA_SHARE.value:.0f} %"
        return f"{super()._headline(fit)} The inertia is taken as {inertia}, {wheel}, the ring as thin (assumed)."

    def _fitted(self, readings):
        """Fit the coast-down with the rotor's inertia."""
        return fit_coast(readings, self.inertia_kgm2(), inertia_share=INERTIA_SHARE.value, keep_all=self.keep_all.value)


class DrillPanel(DragPanel):
    """Log a drill's wattmeter, rotor coupled and drill alone, and see the drag between the two.

    Parameters
    ----------
    job : Job
        The job that the log belongs to.
    """

    log, read, caution = "drill", read_drill, DRILL_CAUTION

    def _fitted(self, readings):
        """Fit the watts that the rotor adds."""
        return fit_drill(readings, keep_all=self.keep_all.value)


def describe_drag(fit):
    """The drag in a sentence: near rest and its rise with speed, with their ±."""
    unit, factor = shown_unit("N·m"), to_shown(1.0, "N·m")
    rest, rise = (drag.times(factor, unit=unit) for drag in (fit.drag_nm, fit.drag_nm_per_1000rpm))
    return f"The unloaded rotor takes {rest} when it hardly turns, and {rise} more for each 1000 rpm."


def _read(field):
    return field.read() if field.value.strip() else None
