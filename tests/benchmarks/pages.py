"""What a reader waits for in the browser: a page that opens, its run, a moved slider; and what the kernel holds."""

import re
import sys
from pathlib import Path
from statistics import median, quantiles

import psutil

from browser.lab import WITH_PANELS, Lab, find_chromium
from browser.page import browser_page
from browser.test_latency import WARM_UP, moves
from browser.times import TEXT

RUN_COLUMNS = {"page": "text", "opened": "ms", "first run": "ms", "run again": "ms", "kernel's memory, peak": "MB"}
MOVE_COLUMNS = {
    "page": "text",
    "slider": "text",
    "median": "ms",
    "p95": "ms",
    "median by text's": "-",
    "p95 by text's": "-",
    "kernel, median": "ms",
    "sent a move": "kB",
}


MOST_SLIDERS = 4  # of a panel


class Wire:
    """What the kernels' sockets bring to the page, counted."""

    def __init__(self, page):
        self.bytes = 0
        page.on("websocket", lambda socket: socket.on("framereceived", self._count))

    def _count(self, payload):
        self.bytes += len(payload)


def page_tables(names=None, *, runs=3):
    """Two tables: each page's opening and runs, and each slider's moves; None where no browser is."""
    if not find_chromium():
        print("No chromium is installed: the tables of the pages are left out.", file=sys.stderr)
        return None
    opened, moved = [], []
    with Lab() as lab, browser_page(lab) as notebook:
        notebook.page.reload()
        wire = Wire(notebook.page)
        notebook.reload()
        for name in (TEXT, *(names or WITH_PANELS)):
            if name == TEXT:  # it runs too soon to be told from a press that was lost
                notebook.open(name)
                notebook.run()
            else:
                opened.append(_run_row(notebook, name, runs))
            moved += _move_rows(notebook, name, wire, moved)
    return opened, moved


def _run_row(notebook, name, runs):
    opened_ms = notebook.timed_ms(lambda: (notebook.open(name), notebook.settle()))
    first, *again = [notebook.timed_ms(notebook.run) for _ in range(1 + runs)]
    cells = (name, opened_ms, first, median(again), _kernel_mb(notebook.lab))
    return dict(zip(RUN_COLUMNS, (cells[0], *(f"{cell:.0f}" for cell in cells[1:])), strict=True))


def _kernel_mb(lab):
    """The most that the open page's kernel has held so far."""
    kernels = [each for each in psutil.Process(lab.server_pid).children() if "ipykernel" in " ".join(each.cmdline())]
    peaks = [re.search(r"VmHWM:\s+(\d+) kB", Path(f"/proc/{each.pid}/status").read_text()) for each in kernels]
    return max(int(peak[1]) for peak in peaks) / 1024.0


def _move_rows(notebook, name, wire, known):
    text = next((row for row in known if row["page"] == TEXT), None)
    rows = []
    for slider in _sliders(notebook):
        before, found = wire.bytes, []
        for move in moves(notebook, slider):
            found.append(move)
            if found[0]["ms"] is None:  # it changes nothing until something is pressed
                break
        sent_kb = (wire.bytes - before) / len(found) / 1024.0
        times = [move["ms"] for move in found[WARM_UP:] if move["ms"] is not None]
        if len(times) <= len(found[WARM_UP:]) // 2:
            continue
        middle, late = median(times), quantiles(times, n=20)[-1]
        by = (1.0, 1.0) if text is None else (middle / float(text["median"]), late / float(text["p95"]))
        kernel_ms = median(move["kernel_ms"] for move in found[WARM_UP:])
        numbers = (
            f"{middle:.0f}",
            f"{late:.0f}",
            *(f"{share:.2f}" for share in by),
            f"{kernel_ms:.0f}",
            f"{sent_kb:.1f}",
        )
        rows.append(dict(zip(MOVE_COLUMNS, (name, f"cell {slider.cell + 1}, {slider.label}", *numbers), strict=True)))
    return rows


def _sliders(notebook):
    """Of each panel with a picture the first few sliders, folded panels too."""
    if notebook.name != TEXT:
        notebook.unfold()
    found = {}
    for control in notebook.controls():
        if control.kind == "slider" and (notebook.name == TEXT or notebook.pictures_of(control.cell)):
            found.setdefault(control.cell, []).append(control)
    return [slider for sliders in found.values() for slider in sliders[:MOST_SLIDERS]]
