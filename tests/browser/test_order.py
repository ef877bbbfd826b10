"""Every page opens on the work: its first panel within the first screen, and no page without end."""

import pytest

from browser.lab import EVERY_PAGE, WITH_PANELS
from browser.page import HEIGHT_PX

MOST_PX = 4_500  # with every fold as the page has it
LEAST_OF_PANEL_PX = 250  # of the first panel, within the first screen


@pytest.mark.parametrize("opened", EVERY_PAGE, indirect=True)
def test_a_page_opens_on_its_panel(untouched):
    tall_px, panel_px = untouched.page.evaluate("() => [watch.scroller().scrollHeight, watch.firstPanel()]")
    assert tall_px <= MOST_PX
    assert (panel_px is not None) == (untouched.name in WITH_PANELS)
    assert panel_px is None or panel_px < HEIGHT_PX - LEAST_OF_PANEL_PX
