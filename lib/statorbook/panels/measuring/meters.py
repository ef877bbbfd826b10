"""Panel of chapter 02: the reader's own meters, and the count of magnets by a meter's Hz and an rpm meter."""

from statorbook.assembly import units_for
from statorbook.bench import count_poles, pole_count_words
from statorbook.job import Drafts
from statorbook.job.parts import MetersPart, meters_of
from statorbook.panels.measuring.log_panel import FollowedPanel
from statorbook.widgets import Answer, Form, Table

_GROUPS = {
    "AC volts (also for DC behind a bridge)": (
        "volts_percent",
        "volts_digits",
        "volts_kind",
        "volts_band_hz",
        "limit_volts",
    ),
    "Amps, clamp or range": ("amps_percent", "amps_digits", "amps_kind", "amps_band_hz"),
    "Ohms": ("ohms_percent", "ohms_digits"),
    "Where the probes reach": ("star_point",),
    "Count the magnets by meter: one spin, two readings": ("spin_hz", "spin_rpm"),
}
_CAUTION = (
    "For the spin: clip the meter on while the rotor stands, guard on, step back, then turn; the leads carry "
    "hundreds of volts."
)


class MetersPanel(FollowedPanel):
    """Describe the meters and see what is assumed of them.

    Parameters
    ----------
    job : Job
        The job that they are saved in.
    """

    def __init__(self, job):
        self.job = job.reopen()
        self.form = Form(
            MetersPart,
            self.job.meters,
            save=self._save,
            groups=_GROUPS,
            save_words="Save the meters",
            now=None if job.notice else lambda: job.meters,
            drafts=Drafts(job.folder, "meters"),
        )
        super().__init__(system=units_for(self.job), inputs=[self.form], sentence_lines=3)

    def answer(self):
        """The meters as saved, and what the spin says about the magnets."""
        now = self.job.read()
        part, stator = now.meters, now.stator
        sentence, caution = describe_meters(now), ""
        if part is not None and part.spin_hz is not None:
            count = count_poles(part.spin_hz, part.spin_rpm, stator.slots if stator else None)
            sentence = f"{sentence} {pole_count_words(count, stator.to_stator() if stator else None)}"
            caution = _CAUTION
        return Answer(sentence=sentence, table=meters_table(meters_of(now)), caution=caution)

    def _save(self, part):
        self.job.save_part("meters", part)
        self.redraw()
        self.tell()


def describe_meters(job):
    """How many figures of the meters are assumed and go into every ± of the logs, in a sentence."""
    rows = meters_table(meters_of(job)).rows
    assumed = sum("assumed" in cell for row in rows for cell in row)
    if not assumed:
        return "All your meters are described, and every ± of the logs uses it."
    return f"{assumed} of {3 * len(rows)} figures below are assumed; every ± of the logs uses them as they stand."


def meters_table(meters):
    """The meters with what is typed and what is assumed, one line for each."""
    rows = tuple(
        _line(name, meter) for name, meter in (("AC volts", meters.volts), ("amps", meters.amps), ("ohms", meters.ohms))
    )
    return Table(
        columns=("meter", "± of the reading", "± digits", "good up to", "stands at most"),
        rows=rows,
        caption="What the ± of every row is made of; assumed figures are common practice, no source.",
    )


def _line(name, meter):
    share = f"{100.0 * meter.class_share:g} %{_mark(meter.percent)}"
    band = f"{meter.band_of(meter.kind):g} Hz{_mark(meter.band_hz)}"
    most = meter.most_volts_words if meter.quantity == "volts" else "–"
    return name, share, f"{meter.counts:g}{_mark(meter.digits)}", "at rest" if meter.quantity == "ohms" else band, most


def _mark(typed):
    return " (assumed)" if typed is None else ""
