"""What stands on printed pages, as the programs of poppler read it."""

import re
import shutil
import subprocess

# ISO 216 and ANSI/ASME Y14.1 in points of 1/72 in (from memory); the margin asked for is 15 mm.
PAPERS_PT = {"A4": (595.28, 841.89), "Letter": (612.0, 792.0)}
MARGIN_PT = 15.0 / 25.4 * 72.0


def poppler(program, *arguments):
    """What one of poppler's programs says."""
    found = shutil.which(program)
    assert found, f"the program {program} is missing: install the package poppler-utils, then run the tests again"
    return subprocess.run([found, *map(str, arguments)], check=True, capture_output=True).stdout.decode()


def pages_of(path):
    """Text of each page in the order in which it was written, blanks made alike."""
    return [" ".join(page.split()) for page in poppler("pdftotext", "-raw", path, "-").split("\f")[:-1]]


def titled(pages, title):
    return [page for page in pages if page.startswith(title)]


def squeezed(text):
    """Without blanks, for words may be wrapped anywhere."""
    return re.sub(r"\s", "", text)


def words_outside(path):
    """Words that reach over the margins, and the number of all words."""
    page, outside, count = None, [], 0
    for line in poppler("pdftotext", "-bbox", path, "-").splitlines():
        numbers = [float(each) for each in re.findall(r'(?:width|height|[xy]M(?:in|ax))="([-0-9.]+)"', line)]
        if "<page" in line:
            page = numbers
        elif "<word" in line:
            count += 1
            x0, y0, x1, y1 = numbers
            inside = min(x0, y0, page[0] - x1, page[1] - y1) > MARGIN_PT - 0.5  # half a point of rounding
            outside += [] if inside else [line]
    return outside, count
