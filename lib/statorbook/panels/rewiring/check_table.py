"""The meter checks of a plan as they stand on the page: what to do once for each group, then a row for every check."""

from html import escape
from math import isinf

from statorbook.cautions import text_of
from statorbook.widgets import GOOD, ODD, in_a_box

_LINE = "var(--jp-border-color2, #bdbdbd)"
_CELL = f"padding:2px 8px;border-bottom:1px solid {_LINE};text-align:left;vertical-align:top"
# At the left edge, and there it stays while a narrow page is scrolled sideways.
_EDGE = f"{_CELL};position:sticky;left:0;background:var(--jp-layout-color0, white);white-space:nowrap"
# In sight while the rows are scrolled.
_HEAD = "position:sticky;top:0;background:var(--jp-layout-color0, white)"
_HEADS = ("Verdict", "No.", "After step", "Path", "From", "To", "It should say", "Read")
_NAME = "Meter checks in the order of the work"


def check_table(groups, verdicts, height_px):
    """The table as HTML in a box that scrolls, each check beside the last of its readings, if it was read."""
    read = {verdict.check.key: verdict for verdict in verdicts}
    heads = "".join(map(_head, _HEADS))
    bodies = "".join(f"<tbody>{_heading(group)}{''.join(_rows(group, read))}</tbody>" for group in groups)
    look = "border-collapse:collapse;line-height:1.4;font-size:var(--jp-ui-font-size1, 13px);width:100%"
    table = f'<table style="{look}"><thead><tr>{heads}</tr></thead>{bodies}</table>'
    return in_a_box(table, _NAME, height_px)


def _head(words):
    corner = ";left:0;z-index:1" if words == _HEADS[0] else ""
    return f'<th scope="col" style="{_CELL};{_HEAD}{corner}">{words}</th>'


def _heading(group):
    """Title, what to do, its cautions and what to prepare, over the whole width but no wider than can be read."""
    said = [f"<b>{escape(group.title)}</b>{_after(group.steps)} {escape(text_of(group.words or ''))}"]
    said += [escape(text_of(look.words)) for look in group.looks]
    cautions = [_caution(exposure.sentence) for exposure in group.cautions]
    cautions += [_caution("; ".join(exposure.tag for exposure in group.reminders))] if group.reminders else []
    lines = "".join(f"<div>{line}</div>" for line in (said[0], *cautions, *said[1:]))
    inside = f'<div style="max-width:84ch;white-space:normal">{lines}</div>'
    look = f"{_CELL};font-weight:normal;padding:10px 8px 4px;background:var(--jp-layout-color2, #eeeeee)"
    return f'<tr><th scope="rowgroup" colspan="{len(_HEADS)}" style="{look}">{inside}</th></tr>'


def _after(steps):
    if len(steps) > 1:
        return ", after the steps named."
    return f", after step {steps[0]}." if steps[0] else ", before the first cut."


def _caution(words):
    what, colon, rest = words.partition(":") if words.count(":") == 1 else (words, "", "")
    return f'<span style="color:{ODD}"><b>⚠ {escape(what)}{colon}</b>{escape(rest)}</span>'


def _rows(group, read):
    for row in group.rows:
        verdict = read.get(row.check.key)
        cells = (row.number, row.check.step or "before", row.path, *row.places, row.check.expects, _shown(verdict))
        inside = "".join(f'<td style="{_CELL}">{escape(str(cell))}</td>' for cell in cells)
        yield f'<tr style=""><td style="{_EDGE}">{_sign(verdict)}</td>{inside}</tr>'
        if verdict and not verdict.good:
            words = f'<div style="max-width:84ch;color:{ODD}">{escape(verdict.words)}</div>'
            yield f'<tr><td style="{_CELL}" colspan="{len(_HEADS)}">{words}</td></tr>'


def _sign(verdict):
    if verdict is None:
        return ""
    sign, word, colour = ("✓", "good", GOOD) if verdict.good else ("!", "odd", ODD)
    return f'<b style="color:{colour}">{sign} {word}</b>'


def _shown(verdict):
    if verdict is None:
        return ""
    return "OL" if isinf(verdict.value) else f"{verdict.value:.4g} {verdict.check.unit}"
