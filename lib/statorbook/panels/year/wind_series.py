"""A log of the wind from a logger or a weather service: pasted or brought in, looked at, then taken into the job."""

from html import escape

import ipywidgets as W

from statorbook.assembly import units_for
from statorbook.errors import BadInput
from statorbook.job import restore, versions
from statorbook.quantities import reader_units
from statorbook.widgets import WIDEST, MessageLine, Table, button, choice, html, side_by_side, stacked
from statorbook.year import WIND_UNITS, read_wind_log, read_wind_text

WIND_SERIES = "wind_series"
_FILE = f"{WIND_SERIES}.csv"
_AS_HEADED = "as its heading says"
_HINT = "Copy the column of times and the column of the wind, with their headings, and paste them here."
_FIRST = 5  # rows that are shown
_NOTHING = "No log of the wind is in the job yet."


class WindSeries:
    """Ways in for thousands of rows, of which the first are shown; `taken` gets all that the job holds, each time."""

    def __init__(self, job, taken):
        self.job, self._taken, self._looked_at = job, taken, None
        self.message = MessageLine(lines=2, system=units_for(job))
        wide = W.Layout(width="calc(30ch + 30em)", max_width=WIDEST, height="7em")
        self.text = W.Textarea(placeholder=_HINT, layout=wide, continuous_update=False)
        self.upload = W.FileUpload(accept=".csv,.txt,.tsv,.dat", multiple=False, description="Choose a file")
        self.upload.layout.width = "auto"
        self.unit = choice("Unit of the wind", [_AS_HEADED, *WIND_UNITS], _AS_HEADED)
        self.found, self.kept = html(), html()
        self.take = button("Take it into the job", self.message.guarded(self._take))
        self.back = button("Put back the log before", self.message.guarded(self._back))
        for control in (self.text, self.upload, self.unit):
            control.observe(self.message.guarded(self._look, self._forget), "value")
        self.widget = stacked(
            [
                self.kept,
                self.text,
                side_by_side([self.upload, self.unit]),
                self.message.widget,
                self.found,
                side_by_side([self.take, self.back]),
            ]
        )
        self.message.guarded(self._show_kept)()

    def in_units(self, system):
        """Say everything in other units, "metric" or "US"."""
        self.message.system = system
        self.message.guarded(lambda: (self._show_kept(), self._look()))()

    def rows(self):
        """The rows of the log in the job, a list of dict."""
        return self.job.read_log(WIND_SERIES)

    def _look(self, change=None):
        """Read what was pasted or chosen, and show what was understood; nothing is kept yet."""
        self._forget()
        given = bytes(self.upload.value[0]["content"]) if self.upload.value else self.text.value
        if not given:
            self.message.clear()
            return
        text = read_wind_text(given, "" if self.unit.value == _AS_HEADED else self.unit.value)
        self._looked_at = text
        self.found.value = _shown(text.rows, text.notes)
        self.take.disabled = False
        self.message.remark("Not in the job yet: see whether it was understood, then press “Take it into the job”.")

    def _forget(self):
        self._looked_at, self.found.value, self.take.disabled = None, "", True

    def _take(self, pressed):
        """Put what was looked at in the place of the log in the job."""
        if self._looked_at is None:
            raise BadInput(
                "nothing was pasted or chosen", "a log of times and winds is needed", "paste one", where="wind log"
            )
        rows = self._looked_at.rows
        before = len(self.rows())
        self.job.save_log(WIND_SERIES, rows)
        self.text.value, self.upload.value, self.unit.value = "", (), _AS_HEADED
        kept = f" The {before:,} rows before are kept: “Put back the log before” brings them back." if before else ""
        self._show_kept()
        self.message.say(f"{len(rows):,} rows are in the job.{kept}")

    def _back(self, pressed):
        """Put the log before in the place of the one in the job, which is then the one before."""
        said = restore(self.job, versions(self.job, (_FILE,))[0])
        self._show_kept()
        self.message.say(said)

    def _show_kept(self):
        """Show the log in the job, and tell its rows."""
        rows = self.rows()
        self._forget()
        self.back.disabled = not versions(self.job, (_FILE,))
        with reader_units(self.message.system):
            self.kept.value = _shown(rows, title="In the job") if rows else f"<p>{_NOTHING}</p>"
        self._taken(rows)


def _shown(rows, notes=(), title="Not in the job yet"):
    """What was understood of a log, in words, with its first rows; a log that cannot be used says why."""
    try:
        log = read_wind_log(rows)
        words, odd = f"{log.words}.", (*notes, *log.repairs, *log.holes)
    except BadInput as refusal:
        words, odd = str(refusal), notes
    said = "".join(f"<li>{escape(sentence)}</li>" for sentence in odd)
    more = f", the first {_FIRST} of {len(rows):,}" if len(rows) > _FIRST else ""
    first = tuple((row["time"][:40], row["wind"][:40]) for row in rows[:_FIRST])
    table = Table(columns=("Time", "Wind, in m/s unless it says otherwise"), rows=first, caption=f"Rows as given{more}")
    return f"<p><b>{escape(title)}:</b> {escape(words)}</p>{f'<ul>{said}</ul>' if said else ''}{table.in_its_own_box()}"
