"""Below a log's grid: paste rows from a spreadsheet, bring in a file from another hand, take the log out as CSV."""

import ipywidgets as W

from statorbook.bench import blank_row, decoded, format_log, pasted_rows
from statorbook.errors import BadInput
from statorbook.widgets.controls import WIDEST, button, download_link, html, side_by_side, stacked
from statorbook.widgets.kept_fields import keep_fields

_WAYS = [("below the rows that are there", False), ("in the place of all rows", True)]
_HINT = "Copy rows in a spreadsheet and paste them here, with or without headings and units."
_MORE, _LESS = "Paste rows, bring in a file, take the log out …", "Put away: paste, bring in, take out"


class GridExchange:
    """Ways in and out for many rows at once; the grid takes them, its message line says what became of them."""

    def __init__(self, grid, log, drafts=None):
        self._grid, self._log = grid, log
        wide = W.Layout(width="calc(30ch + 30em)", max_width=WIDEST, height="7em")
        self.text = W.Textarea(placeholder=_HINT, layout=wide, continuous_update=False)
        if drafts:
            keep_fields({"pasted": self.text}, drafts, grid.message.guarded)
        self.upload = W.FileUpload(accept=".csv,.txt,.tsv", multiple=False, description="Choose a CSV file")
        self.upload.layout.width = "auto"
        wording = {"description": "Its rows go", "style": {"description_width": "auto"}}
        self.how = W.Dropdown(options=_WAYS, value=False, layout=W.Layout(width="auto"), **wording)
        self.link = html()
        calls = {"Add these rows": self.paste, "Bring it in": self.bring, "Take the log out as CSV": self.out}
        paste, bring, out = (
            button(words, grid.message.guarded(lambda pressed, call=call: call())) for words, call in calls.items()
        )
        into, away = side_by_side([self.upload, self.how, bring]), side_by_side([out, self.link])
        inside = stacked([self.text, paste, into, away])
        # A button and not the stock fold, whose heading the Tab key passes by.
        inside.layout.display = None if self.text.value else "none"
        self.more = button(_MORE, grid.message.guarded(lambda pressed: self._fold(inside.layout)))
        self.more.description = _LESS if self.text.value else _MORE
        self.widget = stacked([self.more, inside])

    def _fold(self, layout):
        layout.display = None if layout.display == "none" else "none"
        self.more.description = _MORE if layout.display == "none" else _LESS

    def paste(self):
        """Add the pasted rows to the log; the text stays when it cannot be used."""
        self._add(self.text.value, "pasted")
        self.text.value = ""

    def bring(self):
        """Add the rows of the file chosen to the log, or put them in the place of all rows."""
        if not self.upload.value:
            raise BadInput("no file was chosen", "a CSV file is needed", "choose one", where=f"{self._log} log")
        chosen = self.upload.value[0]
        text, assumed = decoded(bytes(chosen["content"]), str(chosen["name"]))
        self._add(text, "brought in", assumed, replace=self.how.value)
        self.upload.value, self.how.value = (), False

    def _add(self, text, word, assumed="", *, replace=False):
        found, before = pasted_rows(self._log, text), len(self._grid.rows())
        one, place = len(found.rows) == 1, f", in the place of {before}" if replace else ""
        said = (
            f"{len(found.rows)} {'row was' if one else 'rows were'} {word}{place}; the words below "
            f"{'it say whether it' if one else 'each row say whether that row'} can be used. “Undo” "
            f"{'brings back what was there' if replace else 'takes it out again' if one else 'takes them out again'}."
        )
        self._grid.add_rows(found.rows, " ".join(filter(None, (said, assumed, *found.notes))), replace=replace)

    def out(self):
        """Offer the log as a CSV file."""
        rows = [{**blank_row(self._log), **row} for row in self._grid.rows()]
        name = f"{self._log}.csv"
        self.link.value = download_link(name, format_log(self._log, rows, name), "text/csv")
        self._grid.message.say(f"The link saves the log as it stands, {len(rows)} rows.")
