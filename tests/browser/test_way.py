"""Finding one's way: a page's caution, its folds, the buttons at its end; the list of pages, the open job."""

import json
from urllib.error import HTTPError
from urllib.request import urlopen

import nbformat
import pytest
from nbformat.v4 import new_markdown_cell, new_notebook

from browser.test_access import LEAST_CONTRAST, LEAST_OUTLINE_PX, THEMES, dressed, in_theme, violations
from house.pages import ways_of
from house.sources import NOTEBOOKS
from sentences import sentences_of
from statorbook.job import Job
from statorbook.job.parts import ReaderPart

wording = sentences_of("browser")

# Web Content Accessibility Guidelines 2.2, success criteria 1.4.11 and 2.5.5 (from memory).
LEAST_SIGN_CONTRAST, LEAST_PX = 3, 44
SHOWN = ".jp-NotebookPanel:visible"
WAY, UNFOLD = f"{SHOWN} a.statorbook-way", f"{SHOWN} .jp-showHiddenCellsButton"
LOOK = """node => { const own = getComputedStyle(node), box = node.getBoundingClientRect();
    return {border: own.borderLeftColor, border_px: parseFloat(own.borderLeftWidth), ground: own.backgroundColor,
            page: getComputedStyle(document.body).getPropertyValue('--jp-layout-color0'), tall_px: box.height}; }"""
PAGE = [
    "# A page",
    '<div class="statorbook-caution">\n\n**Caution:** hands off *while it turns*.\n\n</div>',
    "## How this is worked out",
    "Behind the fold.",
    '## Go on\n\n<a class="statorbook-way" href="01_know_your_stator.ipynb">Next: Know your stator</a>',
]


@pytest.fixture
def made(lab, browser):
    """A page of few cells with a caution, a fold and a way on; light again and gone when the test is done."""
    page = new_notebook(cells=[new_markdown_cell(text) for text in PAGE])
    page.cells[2].metadata["jp-MarkdownHeadingCollapsed"] = True
    page.metadata["kernelspec"] = {"name": "python3", "display_name": "Python 3"}
    file = lab.root / "notebooks" / "made_for_a_test.ipynb"
    nbformat.write(page, file)
    browser.open(file.stem)
    browser.page.locator(WAY).wait_for()
    dressed(browser)
    yield browser
    in_theme(browser, THEMES[0])
    browser.close()
    file.unlink()


def press(browser, locator, key="Enter"):
    """Reach something by the keyboard, and press a key on it; how wide its outline is meanwhile [px]."""
    for _ in range(3):  # a page that is still opening takes the keyboard to itself once
        locator.focus()
        browser.page.keyboard.press("Shift+Tab")
        browser.page.keyboard.press("Tab")
        if reached := locator.evaluate("node => node === document.activeElement"):
            break
    assert reached
    outline_px = browser.page.evaluate("() => access.focus().outline_px")
    browser.page.keyboard.press(key)
    return outline_px


def is_on(browser, name):
    """Wait until a page is the one in front."""
    browser.page.wait_for_function(
        "name => { const panel = watch.panel(); return panel && panel.context && panel.context.path.endsWith(name); }",
        arg=f"/{name}.ipynb",
    )


@pytest.mark.parametrize("theme", THEMES)
def test_a_caution_a_fold_and_a_way_on_stand_out_in_both_themes(made, theme):
    in_theme(made, theme)
    box = made.page.locator(f"{SHOWN} .statorbook-caution")
    assert box.inner_text().strip() == "Caution: hands off while it turns."
    for locator, least_px in ((box, 0), (made.page.locator(WAY), LEAST_PX), (made.page.locator(UNFOLD), LEAST_PX)):
        look = locator.evaluate(LOOK)
        assert look["tall_px"] >= least_px and look["border_px"] >= 2, look
        ratio = made.page.evaluate("([one, other]) => access.ratio(one, other)", [look["border"], look["page"]])
        assert ratio >= LEAST_SIGN_CONTRAST, look
    assert made.page.evaluate("least => access.faint(least)", LEAST_CONTRAST) == []
    assert violations(made) == []


def test_a_fold_says_so_and_opens_by_the_keyboard(made):
    behind = made.page.locator(f"{SHOWN} .jp-MarkdownOutput p").get_by_text("Behind the fold.")
    assert not behind.is_visible()
    words = made.page.locator(f"{UNFOLD} > div").evaluate("node => getComputedStyle(node, '::after').content")
    assert words == '"Unfold"'
    assert press(made, made.page.locator(UNFOLD)) >= LEAST_OUTLINE_PX
    behind.wait_for()


@pytest.mark.parametrize("how", ["mouse", "Enter"])
def test_a_way_on_opens_its_page_in_the_same_window(made, how):
    way = made.page.locator(WAY)
    if how == "mouse":
        way.click()
    else:
        assert press(made, way, how) >= LEAST_OUTLINE_PX
    is_on(made, "01_know_your_stator")
    assert len(made.page.context.pages) == 1
    made.close()


@pytest.mark.slow
def test_the_buttons_lead_through_all_pages_and_back(browser):
    pages = [nbformat.read(path, as_version=4) for path in NOTEBOOKS]
    browser.open(NOTEBOOKS[0].stem)
    for word, order in (("Next", pages), ("Back", pages[::-1])):
        for page in order[:-1]:
            file, _, name = next(way for way in ways_of(page) if way[1] == word)
            browser.page.locator(WAY).get_by_text(f"{word}: {name}", exact=True).click()
            is_on(browser, file.removesuffix(".ipynb"))
            assert browser.page.locator(f"{SHOWN} h1").first.inner_text().rstrip("¶") == name
    assert len(browser.page.context.pages) == 1


START, LIST, JOB = "00_start_here", ".statorbook-list", ".statorbook-job-button"
OTHER, OTHER_JOB = ".statorbook-other", wording("This page was run for spring_pipe")
NAMES = [nbformat.read(path, as_version=4).cells[0].source.splitlines()[0][2:] for path in NOTEBOOKS]


@pytest.fixture
def fresh(lab):
    """The examples as shipped, before and after."""
    lab.renew()
    yield lab
    lab.renew()


@pytest.fixture
def sided(fresh, browser):
    """The browser on page 04, not run, with the side bar open; closed again when the test is done."""
    browser.open("04_choose_a_grouping")
    toggle(browser)
    dressed(browser)
    yield browser
    in_theme(browser, THEMES[0])
    toggle(browser)


def toggle(browser):
    browser.page.evaluate("() => window.jupyterapp.commands.execute('application:toggle-left-area')")


def listed(browser):
    """What the side bar says, by name of page: its state in a word."""
    return browser.page.evaluate("""() => Object.fromEntries([...document.querySelectorAll('.statorbook-list ol > li')]
        .map(line => [line.querySelector('.statorbook-title').innerText,
                      (line.querySelector('.statorbook-state b') || {innerText: ''}).innerText]))""")


def says(browser, where, words):
    """Wait until something says these words."""
    browser.page.wait_for_function(
        "([where, words]) => [...document.querySelectorAll(where)].some(node => node.textContent === words)",
        arg=[where, words],
    )


def look_again(browser):
    """Come back to the window, as after something was changed in another one."""
    browser.page.evaluate("() => window.dispatchEvent(new Event('focus'))")


def told(browser, name, state):
    """Wait until the side bar tells this state of a page."""
    browser.page.wait_for_function(
        """([name, state]) => [...document.querySelectorAll('.statorbook-list ol > li > a')].some(line =>
            line.querySelector('.statorbook-title').innerText === name
            && line.querySelector('.statorbook-state b')?.innerText === state)""",
        arg=[name, state],
    )


def states_of(job):
    """The states of a job in a word each, with none for the page that is only to be read."""
    words = {path.stem: "" for path in NOTEBOOKS} | {name: words.split(":")[0] for name, words in job.states().items()}
    return dict(zip(NAMES, words.values(), strict=True))


def test_the_side_bar_opens_on_the_pages(lab, browser):
    page = browser.page.context.browser.new_page()
    try:
        page.goto(f"{lab.url}/lab/workspaces/of-its-own/tree/notebooks/00_start_here.ipynb?token={lab.token}")
        page.locator(LIST).wait_for()
        assert page.locator(f"{LIST} .statorbook-title").all_inner_texts() == NAMES
        page.locator(".lm-TabBar-tab[data-id=filebrowser]").click()
        page.locator("#filebrowser").wait_for()  # within reach for those who want it
    finally:
        page.close()


def test_on_a_narrow_screen_the_page_comes_first(lab, browser):
    page = browser.page.context.browser.new_page()
    try:
        page.set_viewport_size({"width": 800, "height": 1280})
        page.goto(f"{lab.url}/lab/workspaces/narrow/tree/notebooks/00_start_here.ipynb?token={lab.token}")
        page.locator(JOB).get_by_text("spring_pipe").wait_for()
        page.locator(".jp-NotebookPanel-toolbar").get_by_text("Run the page", exact=True).wait_for()
        page.wait_for_function("() => window.jupyterapp.shell.leftCollapsed")
        page.locator(f".lm-TabBar-tab[data-id={LIST[1:]}]").click()
        page.locator(LIST).wait_for()
    finally:
        page.close()


def test_the_list_marks_the_open_page_and_opens_another(sided):
    current = sided.page.locator(f"{LIST} [aria-current]")
    assert current.locator(".statorbook-title").inner_text() == "Choose a grouping"
    sided.page.locator(LIST).get_by_text("Cut and join", exact=True).click()
    is_on(sided, "05_cut_and_join")
    says(sided, f"{LIST} [aria-current] .statorbook-title", "Cut and join")
    assert press(sided, sided.page.locator(f"{LIST} a", has_text="First run")) >= LEAST_OUTLINE_PX
    is_on(sided, "08_first_run")
    sided.page.locator(f"{LIST} ul").get_by_text("Go on", exact=True).click()
    sided.page.wait_for_function("""() => { const {activeCellIndex, widgets} = watch.panel().content;
        return watch.scroller().scrollTop > 0 && activeCellIndex === widgets.length - 1; }""")


@pytest.mark.parametrize("opened", ["04_choose_a_grouping"], indirect=True)
def test_beside_the_open_list_controls_still_stand_left_of_what_they_move(untouched):
    toggle(untouched)
    untouched.settle()
    panel = untouched.panel("panel").cell
    inputs, sentence = (panel.locator(f".statorbook-{part}").first.bounding_box() for part in ("inputs", "sentence"))
    toggle(untouched)
    assert untouched.page.viewport_size["width"] == 1280  # a usual laptop
    assert inputs["x"] + inputs["width"] <= sentence["x"] and abs(inputs["y"] - sentence["y"]) < LEAST_PX


@pytest.mark.parametrize("opened", ["04_choose_a_grouping"], indirect=True)
def test_states_job_and_units_follow_every_save(notebook):
    example = Job.open("spring_pipe", notebook.lab.data)
    before = states_of(example)
    assert before["Choose a grouping"] == "started" and before["Know your stator"] == "done"
    says(notebook, JOB, "Job: spring_pipe · metric")
    assert listed(notebook) == before and notebook.page.locator(OTHER).count() == 0
    notebook.panel("panel").press("Write this grouping to the job")
    told(notebook, "Choose a grouping", "done")
    assert listed(notebook) == states_of(example) != before
    Job.open("ridge_rotor", notebook.lab.data).make_current()
    look_again(notebook)
    says(notebook, JOB, "Job: ridge_rotor · metric")
    says(notebook, OTHER, OTHER_JOB)
    example.make_current()
    look_again(notebook)
    says(notebook, JOB, "Job: spring_pipe · metric")
    assert notebook.page.locator(OTHER).count() == 0
    example.save_part("reader", ReaderPart(units="US"))
    look_again(notebook)
    says(notebook, JOB, "Job: spring_pipe · US")
    says(notebook, OTHER, OTHER_JOB)
    notebook.run()
    assert notebook.page.locator(OTHER).count() == 0


@pytest.mark.parametrize("opened", [START], indirect=True)
def test_a_new_job_is_in_sight_and_its_states_are_its_own(notebook):
    start = notebook.panel("start")
    start.type("Name of a new job", "my_wheel")
    start.press("Create this job")
    says(notebook, JOB, "Job: my_wheel · metric")
    told(notebook, "Know your stator", "empty")
    job = Job.open("my_wheel", notebook.lab.data)
    assert listed(notebook) == states_of(job) and set(states_of(job).values()) == {"done", "empty", ""}
    assert notebook.page.locator(OTHER).count() == 0  # its panels follow the job
    shown = notebook.page.locator(JOB)
    assert shown.bounding_box()["y"] < 30  # in the top line, whatever page and wherever it is scrolled to
    job.save_part("stator", Job.open("spring_pipe", notebook.lab.data).stator)
    look_again(notebook)
    told(notebook, "Know your stator", "started")
    notebook.run()
    assert notebook.page.locator(OTHER).count() == 0
    notebook.panel("start").choose("Open a job", "spring_pipe")
    says(notebook, JOB, "Job: spring_pipe · metric")


def test_the_units_stay_in_sight_beside_a_long_name_on_a_narrow_screen(sided):
    Job.create("w" * 40, sided.lab.data).make_current()  # as long as a name may be
    sided.page.set_viewport_size({"width": 800, "height": 900})
    look_again(sided)
    says(sided, JOB, f"Job: {'w' * 40} · metric")
    right = sided.page.locator(f"{JOB} span").evaluate("node => node.getBoundingClientRect().right")
    left = sided.page.locator(JOB).evaluate("node => node.getBoundingClientRect().left")
    menu = sided.page.locator(".lm-MenuBar-item").last.evaluate("node => node.getBoundingClientRect().right")
    sided.page.set_viewport_size({"width": 1280, "height": 900})
    assert menu <= left < right <= 800


@pytest.mark.slow
def test_the_job_is_in_sight_on_every_page(fresh, browser):
    for path in NOTEBOOKS:
        browser.open(path.stem)
        says(browser, JOB, "Job: spring_pipe · metric")
        browser.page.evaluate("() => { watch.scroller().scrollTop = 1e6; }")
        assert browser.page.locator(JOB).is_visible()


@pytest.mark.parametrize("theme", THEMES)
def test_list_job_and_notice_are_open_to_everyone(sided, theme):
    in_theme(sided, theme)
    sided.page.evaluate("""() => { const other = document.createElement('div');
        other.className = 'statorbook-notice statorbook-other'; other.innerText = 'Run for another job.';
        watch.panel().node.append(other); }""")
    parts = [LIST, JOB, ".statorbook-other"]
    assert sided.page.evaluate("parts => access.violations(parts)", parts) == []
    assert sided.page.evaluate("([least, parts]) => access.faint(least, parts)", [LEAST_CONTRAST, parts]) == []
    sided.page.evaluate("() => document.querySelector('.statorbook-other').remove()")
    heights = sided.page.locator(f"{LIST} ol > li > a").evaluate_all("all => all.map(a => a.offsetHeight)")
    assert len(heights) == len(NOTEBOOKS) and min(heights) >= LEAST_PX


def test_only_who_may_read_the_files_is_told(lab):
    with pytest.raises(HTTPError) as refused:
        urlopen(f"{lab.url}/statorbook/pages", timeout=20)
    assert refused.value.code == 403
    with urlopen(f"{lab.url}/statorbook/pages?token={lab.token}", timeout=20) as reply:
        assert json.load(reply)["job"] == "spring_pipe"
