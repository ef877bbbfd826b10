"""A page of the workbook in the browser: open it, run it, touch its controls, read what it says.

How a test uses it (the fixtures are in `conftest.py`)::

    def test_something(notebook):          # every notebook in turn, opened and run, on the data as shipped
                                           # (`untouched` instead of `notebook` saves time where a test only looks)
        panel = notebook.panel("QuickPanel(")      # the panel that the code cell with these words shows
        panel.type("Slots (teeth)", "12")          # also: slide, choose, tick, press
        assert "12 slots" in panel.sentence
        assert notebook.troubles() == []

    @pytest.mark.parametrize("opened", ["03_what_turns_it"], indirect=True)      # only this one

`notebook.page` is Playwright's own page, `notebook.controls()` every control that can be seen.
"""

from contextlib import contextmanager, suppress
from dataclasses import dataclass
from pathlib import Path

import nbformat
from playwright.sync_api import TimeoutError, sync_playwright

from browser.lab import find_chromium

_WATCH = Path(__file__).with_name("watch.js").read_text(encoding="utf-8")
_ARGUMENTS = [
    "--headless=new",
    "--disable-gpu",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--disable-extensions",
    "--disable-dev-shm-usage",
    "--disable-background-timer-throttling",
    "--disable-renderer-backgrounding",
    "--disable-backgrounding-occluded-windows",
    "--font-render-hinting=none",
    # The page has this machine and nothing else, so that a request to the world outside fails and is seen.
    "--host-resolver-rules=MAP * ~NOTFOUND , EXCLUDE 127.0.0.1",
]
WIDTH_PX, HEIGHT_PX = 1280, 900
_MOST_MS, _STILL_MS = 60_000, 60
_PRESSES, _STARTS_MS = 3, 8_000
_TIMES_WIDENED = 4
_TALLEST_PX = 14_000  # a browser paints no picture of more than 16384 px
_TICK = "✗"
_HANDLE = ".noUi-handle, input[type=range]"


@dataclass(frozen=True, kw_only=True)
class Control:
    """One control as it stands in the page: what it is, what it is called, and the number of its cell."""

    id: int
    kind: str
    label: str
    cell: int
    disabled: bool
    log: bool


@contextmanager
def browser_page(lab):
    """A browser on the workbook's first page, as a `LabPage`."""
    with sync_playwright() as playwright:
        # As root a browser refuses to start in its sandbox; the machine of the CI has no other user.
        browser = playwright.chromium.launch(
            executable_path=find_chromium(), headless=False, args=[*_ARGUMENTS, "--no-sandbox"]
        )
        try:
            yield LabPage(lab, browser.new_page(viewport={"width": WIDTH_PX, "height": HEIGHT_PX}))
        finally:
            browser.close()


class LabPage:
    """JupyterLab in a browser, with one notebook open at a time."""

    def __init__(self, lab, page):
        self.lab, self.page, self.name, self.touched = lab, page, "", False
        self.moved_px = 0  # by the last run
        self._console, self.outside = [], []
        page.set_default_timeout(_MOST_MS)
        page.on("console", self._said_in_page)
        page.on("pageerror", lambda error: self._console.append(str(error)))
        page.on("request", self._asked)
        page.on("dialog", lambda dialog: dialog.accept())
        page.goto(f"{lab.url}/?token={lab.token}")  # where the README's command leads
        self._restored()
        self.landed_on, self.greeted_by = self.name, page.locator(".jp-Dialog").all_inner_texts()

    def reload(self):
        """What a reader does with F5; the notebook that was open is open again."""
        self.page.reload()
        self._restored()

    def open(self, name):
        """Open a notebook by the name of its file, and close the one before."""
        self.close()
        self.page.evaluate(
            "async path => { await window.jupyterapp.commands.execute('docmanager:open', {path}); }",
            f"notebooks/{name}.ipynb",
        )
        self._ready()

    def close(self):
        """End the notebook's kernel and close it, unsaved."""
        self.page.evaluate("""async () => {
            const panel = window.jupyterapp.shell.currentWidget;
            if (!panel || !panel.context) return;
            await panel.sessionContext.shutdown();
            panel.context.model.dirty = false;
            panel.dispose();
        }""")

    def run(self, most_ms=_MOST_MS):
        """Press “Run the page” and wait until every cell and every panel is there."""
        self._console.clear()
        self.outside.clear()
        number, before = self.page.evaluate("() => { watch.errors = []; return watch.place(); }")
        self._start()
        self.settle(still_ms=300, most_ms=most_ms)
        self.moved_px = abs(self.page.evaluate("number => watch.topOf(number)", number) - before)

    def _start(self):
        # A press is lost now and then while Lab still arranges the bar around the button; a reader presses again.
        button = self.page.locator(".jp-NotebookPanel-toolbar:visible").get_by_text("Run the page", exact=True)
        for _ in range(_PRESSES):
            button.click()
            with suppress(TimeoutError):
                self.page.wait_for_function("() => watch.waiting.size > 0 || watch.running()", timeout=_STARTS_MS)
                return
        raise AssertionError(f"{self.name}: “Run the page” was pressed {_PRESSES} times and nothing ran")

    def timed_ms(self, call):
        """Call something that ends by waiting for the page to stand still: the time to its last change [ms]."""
        begin = self.page.evaluate("() => performance.now()")
        call()
        return self.page.evaluate("() => watch.changed") - begin

    def settle(self, still_ms=_STILL_MS, most_ms=_MOST_MS):
        """Wait until the kernel has answered everything and the page stands still."""
        assert self.page.evaluate("([still, most]) => watch.quiet(still, most)", [still_ms, most_ms]), (
            f"{self.name}: the page did not come to rest within {most_ms / 1000:.0f} s"
        )

    def controls(self):
        """Every control that can be seen, from the top of the page down."""
        return [Control(**found) for found in self.page.evaluate("() => watch.controls()")]

    def node(self, control):
        """Playwright's locator of a control."""
        return self.page.locator(f'[data-control="{control.id}"]')

    def open_headings(self):
        """Show what stands under the headings that the page folds."""
        self._fold("false")

    def fold_headings(self):
        """Fold the page's headings again, as they were when it was opened."""
        self._fold("true")

    def _fold(self, closed):
        self.page.evaluate(f"() => watch.fold({closed})")
        self.settle()

    def unfold(self):
        """Open everything that is folded away."""
        self.open_headings()
        opened = set()
        while folds := [each for each in self.controls() if each.kind == "fold" and each.id not in opened]:
            for control in folds:  # in what they open there may be others
                self.node(control).click()
                opened.add(control.id)
            self.settle()

    def again(self, control):
        """The control as it stands now, or None; another one may have put it away, or brought it back as a new node."""
        if self.node(control).count():
            return control
        same = [c for c in self.controls() if (c.kind, c.label, c.cell) == (control.kind, control.label, control.cell)]
        return same[0] if same else None

    def usable(self, control):
        """True while the control can be seen and is not switched off; another one may have put it away."""
        return self.page.evaluate(
            "id => { const node = watch.control(id); return Boolean(node && !node.disabled); }", control.id
        )

    def pictures_of(self, cell):
        """How many pictures the panel of a cell shows."""
        return PanelInPage(self, self._cell(cell)).pictures

    def panel(self, code):
        """The panel that is shown by the code cell whose last line is this, or begins with it up to a bracket."""
        cells = self.page.evaluate("""() => watch.panel().content.widgets
            .map(cell => cell.model.sharedModel.getSource())""")
        lasts = [(source.splitlines() or [""])[-1] for source in cells]
        found = [
            number for number, last in enumerate(lasts) if last == code or code.endswith("(") and last.startswith(code)
        ]
        assert len(found) == 1, f"{self.name}: {len(found)} cells end in {code}"
        cell = self._cell(found[0])
        if not cell.is_visible():
            self.open_headings()  # what a reader does who looks for it
        return PanelInPage(self, cell)

    def _cell(self, number):
        return self.page.locator(".jp-NotebookPanel:visible .jp-Notebook .jp-Cell").nth(number)

    def troubles(self):
        """Everything that a reader must never meet, in words; empty when all is well."""
        shown = self.page.evaluate("""() => [...watch.panel().content.node.querySelectorAll('.jp-OutputArea-output')]
            .map(output => output.innerText)
            .filter(text => /Traceback|Error displaying widget|Error rendering|model not found|fault of the workbook/
                            .test(text)).map(text => text.slice(0, 300))""")
        return [
            *self.page.evaluate("() => watch.errors"),
            *shown,
            *map("in the page: {}".format, self._console),
            *(["the server's last words:", self.lab.said()] if self._console else []),
            *map("asked for: {}".format, self.outside),
        ]

    def complaints(self):
        """Every sentence in the page that says that something could not be done."""
        lines = self.page.locator(".jp-NotebookPanel:visible .jp-Cell .statorbook-message").all_inner_texts()
        return [line.strip() for line in lines if _TICK in line]

    def picture(self, path):
        """Keep a picture of the whole page, in several parts when it is very long; returns the files."""
        tall = self.page.evaluate("() => watch.scroller().scrollHeight - watch.scroller().clientHeight")
        self.page.set_viewport_size({"width": WIDTH_PX, "height": min(_TALLEST_PX, HEIGHT_PX + tall + 8)})
        self.settle()
        files = []
        while True:
            files.append(path.with_name(f"{path.name}{f'-{len(files) + 1}' if files else ''}.png"))
            self.page.locator(".jp-NotebookPanel:visible").screenshot(path=files[-1], animations="disabled")
            if not self.page.evaluate("""() => { const box = watch.scroller(), before = box.scrollTop;
                    box.scrollTop += box.clientHeight - 40; return box.scrollTop > before + 4; }"""):
                break
        self.page.set_viewport_size({"width": WIDTH_PX, "height": HEIGHT_PX})
        self.page.evaluate("() => { watch.scroller().scrollTop = 0; }")
        return files

    def notebook(self):
        """The notebook as it stands in the page, with the outputs of its cells."""
        return nbformat.reads(
            self.page.evaluate("() => JSON.stringify(watch.panel().content.model.toJSON())"), as_version=4
        )

    def shown(self, cell, number):
        """What an output of a cell shows, as text; the same text, but for random names, is the same picture."""
        return self.page.evaluate("output => watch.markup(output)", self._output(cell, number))

    def still(self, cell, number):
        """An output of a cell as a PNG, as tall and as wide as all that is in it."""
        output, width = self._output(cell, number), WIDTH_PX
        for _ in range(_TIMES_WIDENED):
            self.page.set_viewport_size({"width": width, "height": HEIGHT_PX})
            self.settle()
            lacking_px = self.page.evaluate("output => watch.unroll(output)", output)
            if not lacking_px:
                break
            width += lacking_px
        else:
            raise AssertionError(f"{self.name}, cell {cell}: a box lacks {lacking_px} px however wide the window is")
        tall = self.page.evaluate("output => output.getBoundingClientRect().height", output)
        self.page.set_viewport_size({"width": width, "height": min(_TALLEST_PX, HEIGHT_PX + round(tall))})
        self.settle()
        png = output.as_element().screenshot(animations="disabled")
        self.page.set_viewport_size({"width": WIDTH_PX, "height": HEIGHT_PX})
        return png

    def _output(self, cell, number):
        return self.page.evaluate_handle("([cell, number]) => watch.outputs(cell)[number]", [cell, number])

    def _said_in_page(self, line):
        if line.type == "error":
            self._console.append(f"{line.text} ({line.location['url']})")

    def _asked(self, request):
        if request.url.startswith("http") and not request.url.startswith(self.lab.url):
            self.outside.append(request.url)

    def _restored(self):
        self.page.wait_for_function("() => window.jupyterapp && window.jupyterapp.shell")
        self.page.evaluate("async () => { await window.jupyterapp.restored; }")
        self.page.evaluate(_WATCH)
        self._ready()

    def _ready(self):
        # Looked at and listened to in one go: a kernel that has just been replaced would never be heard.
        self.page.wait_for_function("() => watch.ready() && (watch.listen(), true)")
        self.name = self.page.evaluate("() => watch.panel().context.path.split('/').pop().replace('.ipynb', '')")
        self.page.evaluate("""async () => { const app = window.jupyterapp;
            if (!app.shell.leftCollapsed) await app.commands.execute('application:toggle-left-area'); }""")


def stands(handle):
    """Where a slider stands, and its two ends: of the stock one, or of the browser's own."""
    return handle.evaluate("""node => ['now', 'min', 'max'].map(what => Number(
        node.matches('input') ? node[what === 'now' ? 'value' : what] : node.getAttribute(`aria-value${what}`)))""")


class PanelInPage:
    """One panel: its controls by their labels, and what it says."""

    def __init__(self, lab_page, cell):
        self._lab, self.cell = lab_page, cell

    @property
    def sentence(self):
        """The panel's result in words, without caution, blanks made alike."""
        return " ".join(self.cell.locator(".statorbook-sentence .statorbook-result").first.inner_text().split())

    @property
    def words(self):
        """All of the panel's words that belong to its result: reason for none, sentence, caution."""
        return " ".join(self.cell.locator(".statorbook-sentence").first.inner_text().split())

    @property
    def messages(self):
        """What its message lines say, empty ones left out."""
        lines = self.cell.locator(".statorbook-message").all_inner_texts()
        return [" ".join(line.split()) for line in lines if line.strip()]

    @property
    def pictures(self):
        """How many pictures it shows that are not empty."""
        return self.cell.locator(".statorbook-picture svg").evaluate_all(
            "all => all.filter(svg => svg.getBoundingClientRect().height > 40 && svg.children.length).length"
        )

    @property
    def picture_markup(self):
        """The pictures as they stand in the page, to see whether they changed."""
        return "".join(self.cell.locator(".statorbook-picture").evaluate_all("all => all.map(box => box.innerHTML)"))

    def widget(self, label):
        """The control with this label, as Playwright's locator of the whole widget."""
        found = (
            self.cell.locator(".jupyter-widgets")
            .filter(has=self.cell.page.locator("> .widget-label", has_text=label))
            .filter(visible=True)
        )
        exact = [one for one in found.all() if one.locator("> .widget-label").inner_text().strip() == label]
        assert len(exact) == 1, f"{len(exact)} controls are labelled {label}"
        return exact[0]

    def type(self, label, text):
        """Type into a field and leave it with the Tab key."""
        self._type(self.widget(label).locator("input, textarea"), text)

    def type_cell(self, heading, row, text):
        """Type into a cell of a log, found by the heading of its column and the number of its row."""
        self._type(self.cell.get_by_title(f"{heading}, row {row}", exact=True), text)

    def cell_value(self, heading, row):
        """What stands in a cell of a log."""
        return self.cell.get_by_title(f"{heading}, row {row}", exact=True).input_value()

    def choose_cell(self, heading, row, words):
        """Choose in a cell of a log with fixed words."""
        self.cell.get_by_title(f"{heading}, row {row}", exact=True).select_option(label=words)
        self._lab.settle()

    def choose(self, label, words):
        """Choose from a list."""
        self.widget(label).locator("select").select_option(label=words)
        self._lab.settle()

    def slide(self, label, key="ArrowRight", times=1):
        """Move a slider by the keyboard."""
        self.widget(label).locator(_HANDLE).focus()
        for _ in range(times):
            self.cell.page.keyboard.press(key)
        self._lab.settle()

    def stands(self, label):
        """Where a slider stands."""
        return stands(self.widget(label).locator(_HANDLE))[0]

    def tick(self, label):
        """Turn a box over."""
        self.cell.locator(".widget-checkbox").filter(has_text=label).locator("input").click()
        self._lab.settle()

    def show_more(self):
        """Open the fold of the panel's form."""
        self.cell.locator("button.jupyter-button").filter(has_text=": more –").click()
        self._lab.settle()

    def press(self, words):
        """Press a button."""
        self.cell.locator("button.jupyter-button").get_by_text(words, exact=True).click()
        self._lab.settle()

    def _type(self, field, text):
        field.fill(text)
        field.press("Tab")
        self._lab.settle()
