"""What a reader sees of a panel and does with it, for the tests of the panels."""

import re

from statorbook.panels.protection.page import ProtectionPage


def shown(panel):
    """Sentence, picture and table as HTML, as they stand on the page."""
    return panel.sentence_box.value, panel.picture_box.value, panel.table_box.value


def unfolded(panel):
    """What is in the panel's folds, by their names, once a reader opens them; those that are not shown left out."""
    shown_folds = {name: fold for name, fold in panel.folds.items() if fold.layout.display != "none"}
    for fold in shown_folds.values():
        fold.is_open = True
    return {name: fold.value for name, fold in shown_folds.items()}


def is_stale(panel):
    """True when the page says that the answer is older than the last change, and the picture is still there, greyed."""
    sentence, picture, _ = shown(panel)
    return "for the values before the last change" in sentence and "grayscale" in picture and "<svg" in picture


def refused(panel):
    """The one sentence with which the panel refuses what stands in it; fails when it is a fault of the workbook."""
    assert panel.message.last_fault == ""
    assert panel.sentence == panel.message.text and panel.sentence.startswith("Not usable – ")
    assert panel.sentence.endswith(".") and "\n" not in panel.sentence and "Traceback" not in panel.sentence
    return panel.sentence.removeprefix("Not usable – ")


def cells(table_html):
    """The rows of a table as lists of text."""
    rows = re.findall(r"<tr style=[^>]*>(.*?)</tr>", table_html)
    return [[re.sub(r"<[^>]+>", "", cell) for cell in re.findall(r"<td[^>]*>(.*?)</td>", row)] for row in rows]


def press(form, words):
    """Press a form's button."""
    next(child for child in form.widget.children if getattr(child, "description", "") == words).click()


def by_gid(artists, name):
    """The one artist of that name on some axes."""
    found = [artist for artist in artists if artist.get_gid() == name]
    assert len(found) == 1, (name, [artist.get_gid() for artist in artists])
    return found[0]


def same_ids(picture):
    """A picture's text with the ids numbered, so that pictures of the same look are the same text."""
    stems = dict.fromkeys(re.findall(r"\bf[0-9a-f]{10}(?=-)", picture))
    for number, stem in enumerate(stems):
        picture = picture.replace(stem, f"f{number}")
    return picture


def overlapping(figure):
    """Pairs of texts inside the axes that run into each other, as laid out."""
    figure.svg("test")
    renderer = figure.figure.canvas.get_renderer() if hasattr(figure.figure.canvas, "get_renderer") else None
    found = []
    for axes in figure.axes:
        boxes = [(t.get_text(), t.get_window_extent(renderer)) for t in axes.texts if t.get_visible() and t.get_text()]
        found += [(a[0], b[0]) for n, a in enumerate(boxes) for b in boxes[n + 1 :] if a[1].overlaps(b[1])]
    return found


def of_page_06(kind):
    """A panel of page 06 for a job."""

    def panel(job):
        return kind(ProtectionPage(job))

    panel.__name__ = kind.__name__
    return panel
