"""Above a log: what is the same in every new row, said once, and by which of two columns the reader reads."""

from datetime import date

import ipywidgets as W

from statorbook.quantities import cell_text, tidy_day, typed_day
from statorbook.widgets.controls import WIDEST, html, side_by_side
from statorbook.widgets.grid_columns import BOTH
from statorbook.widgets.kept_fields import keep_fields

TAKEN_ON = "taken_on"
_READ_BY = {"speed_rpm": "I read the speed in", "volts": "I read each coil in", "rider_watts": "I know the effort in"}


class SaidOnce:
    """The controls; rows that are begun take their words over, rows of before keep what they have."""

    def __init__(self, sight, heads, options, rows, first, *, by_session, today=date.today):
        self._sight, self._heads, self._today = sight, heads, today
        self.read_by = {name: _either(sight.own, name, other, rows) for name, other in sight.instead.items()}
        self.fields = {name: self._field(name, options.get(name), rows, first) for name in sight.once}
        if TAKEN_ON in self.fields:
            last = cell_text(rows[-1].get(TAKEN_ON)) if rows else ""
            # A page that is opened again in the middle of a session goes on with it; the other logs have no sessions.
            self.fields[TAKEN_ON].value = today().isoformat() if last == today().isoformat() or not by_session else ""
        parts = [html("<b>For new rows:</b>"), *self.fields.values()] if self.fields else []
        self.widget = side_by_side([*self.read_by.values(), *parts])

    def choose(self):
        """Let the choice between two columns count."""
        for name, control in self.read_by.items():
            self._sight.read_by(name, control.value)

    @property
    def words(self):
        """What new rows begin with, by column."""
        return {name: field.value for name, field in self.fields.items()}

    def keep(self, drafts, guarded):
        """Bring back what was said and not typed into a row yet, but for the day, and keep what is said from now on."""
        mine = {name: field for name, field in self.fields.items() if name != TAKEN_ON}
        keep_fields({f"said {name}": field for name, field in (mine | self.read_by).items()}, drafts, guarded)

    def require_readable(self, where):
        """Refuse a number or a day said above that no row could use."""
        for name, text in self.words.items():
            if name == TAKEN_ON and text:
                typed_day(text, where=f"{where}, {self._heads[name]}")
            elif self._sight.own[name].limits and text:
                self._sight.require_number(name, text, where)

    def start(self):
        """Begin a session today: say what follows, and what was read on another day is not taken over."""
        day = self.fields[TAKEN_ON].value = self._today().isoformat()
        stale = [name for name, field in self.fields.items() if self._sight.own[name].limits and field.value]
        for name in stale:
            self.fields[name].value = ""
        anew = f" Read anew and type above the log: {', '.join(self._heads[name] for name in stale)}." if stale else ""
        return f"Rows typed from now on are dated {day}; rows above keep what they say.{anew}"

    def learn(self, name, text):
        """Take a word that was typed into a row where nothing is said above yet."""
        field = self.fields.get(name)
        if field is not None and name != TAKEN_ON and not field.value and text:
            self.offer(field, text)

    def tidy(self):
        """Show the day as year-month-day."""
        if TAKEN_ON in self.fields:
            self.fields[TAKEN_ON].value = tidy_day(self.fields[TAKEN_ON].value)

    def _field(self, name, words, rows, first):
        typed = [text for row in rows if (text := cell_text(row.get(name)))]
        text = typed[-1] if typed else first.get(name) or self._sight.own[name].at_first
        wide = max(map(len, words)) * 0.55 + 3 if words else 8
        head = self._heads[name]
        usual = {"description": head, "style": {"description_width": "initial"}}
        usual["layout"] = W.Layout(width=f"calc({len(head)}ch + {wide:.1f}em)", max_width=WIDEST)
        if words is None:
            return W.Text(value=text, continuous_update=False, **usual)
        field = W.Dropdown(options=["", *words], **usual)
        self.offer(field, text)
        return field

    @staticmethod
    def offer(field, text):
        """Set a field, also to a word that is not on its list."""
        if isinstance(field, W.Dropdown) and text not in field.options:
            field.options = [*field.options, text]
        field.value = text


def _either(own, name, other, rows):
    """A list to choose between two columns, by their units."""
    used = [{one for one in (other, name) if cell_text(row.get(one))} for row in rows]
    kinds = set().union(*used)
    start = BOTH if {other, name} in used else name if kinds == {name} else other
    words = _READ_BY[other]
    return W.Dropdown(
        options=[(own[other].unit, other), (own[name].unit, name), (BOTH, BOTH)],
        value=start,
        description=words,
        style={"description_width": "initial"},
        layout=W.Layout(width=f"calc({len(words)}ch + 5em)"),
    )
