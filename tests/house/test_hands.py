"""What tells hands to do something is an Instruction in the library, and has its caution beside it in the notebooks."""

import ast
import json
import re

import pytest

from house.sources import NOTEBOOKS, modules

# Verbs of the bench as a reader would be told them; descriptions of what was done are not meant.
HANDS = re.compile(
    r"\b(?:turn (?:the rotor|it (?:by|slowly|fast|steadily)|steadily)|(?<!may )turn faster|spin (?:it|the)|scrape\b|"
    r"solder (?:it|all|the|and)|cut the wire|clip (?:the|it)|bend the|press (?:harder|sharp)|hang a|tie the|"
    r"dry (?:the|it)|unwind|send (?:about )?1 A|join (?:all|the|both)\b|weigh (?:it|the|them)|"
    r"time (?:a|the) (?:filling|bucket)|"
    r"measure the (?:bore|tower|bare|insulation|winding|runner|rotor|pull|ohms|jumper|nozzle|pipe)|read the gauge|"
    r"let (?:it|the rotor) (?:coast|cool)|take the drive off|open the leads|pull gently|feel the|renew both|coast down|"
    r"known current|bench supply)",
    re.IGNORECASE,
)
_SAYS_CAUTION = re.compile(r"caution|what can hurt you", re.IGNORECASE)
_CARRIERS = ("Instruction", "within")  # calls that say what their words expose to
# (module, words in the text): why nothing more has to be said there.
ALLOWED = {
    ("cautions", "let it cool"): "is itself a caution",
    ("protection.joined_leads", "join the leads at low speed"): "is itself a caution",
    ("sheets.summary", "Before the first spin measure the insulation"): "is itself a caution",
    ("panels.measuring.meters", "clip the meter on while the rotor stands"): "is itself a caution",
    ("fits.drag", "let it coast further down"): "the coast panel carries the caution of every row",
    ("fits.constants", "join the leads and log them"): "the shorted panel carries the caution of every row",
    ("fits.checks_by_log", "join the leads and log the amps"): "its panel carries the caution of every row",
    ("fits.shorted_model", "let it cool, solder the joint"): "the panel of the checks carries every row's caution",
    ("job.parts.drive.head", "pace or measure the pipe again"): "walking along a pipe",
    ("sheets.summary", "measure the jumper at the stator"): "a length beside a stator on the bench",
}
CELLS = re.compile(
    r"\b(?:clip|scrape|solder|turn (?:it|the rotor|steadily|slowly|up)|spin (?:it|with)|hang a|probes?|dry the|bucket|"
    r"join (?:all|\*\*all|the) (?:three )?(?:leads|phases)|measure (?:it|again|from them|with)|cut the|wire ends?)\b",
    re.IGNORECASE,
)
_CELLS_ALLOWED = {  # cell ids of a page's number: why nothing can hurt there
    ("91", "jet-words"): "explains the push on a bucket of a runner; nothing is done",
    ("01", "cell-21"): "explains a ±",
    ("01", "cell-28"): "names a page",
    ("02", "cell-01"): "the title",
    ("03", "cell-26"): "names a page",
    ("90", "cell-16"): "turns a formula round",
}


def unsaid(source):
    """Texts of a module that tell hands to do something outside an instruction, as (line, text)."""
    tree, skipped = ast.parse(source), set()
    for node in ast.walk(tree):
        if isinstance(node, ast.Call) and _carries(node):
            skipped |= {id(each) for each in ast.walk(node)}
        if isinstance(node, ast.FunctionDef):
            skipped |= {id(each) for value in _carried_later(node) for each in ast.walk(value)}
        if isinstance(node, ast.keyword) and node.arg == "source":
            skipped |= {id(each) for each in ast.walk(node.value)}
        if isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant):  # docstrings
            skipped.add(id(node.value))
        if isinstance(node, ast.JoinedStr):
            skipped |= {id(each) for each in node.values}
    texts = ((node, _text_of(node)) for node in ast.walk(tree) if id(node) not in skipped)
    return [(node.lineno, text) for node, text in texts if text and HANDS.search(text)]


def _carries(call):
    """Whether a call says what its words expose to: an instruction, or a job's field with what it exposes to."""
    return _name_of(call.func) in _CARRIERS or any(keyword.arg == "exposes" for keyword in call.keywords)


def _carried_later(function):
    """Values of names that the same function makes an instruction of."""
    calls = [node for node in ast.walk(function) if isinstance(node, ast.Call) and _carries(node)]
    names = {each.id for call in calls for each in ast.walk(call) if isinstance(each, ast.Name)}
    for node in ast.walk(function):
        targets = node.targets if isinstance(node, ast.Assign) else [getattr(node, "target", None)]
        if isinstance(node, (ast.Assign, ast.AugAssign)) and any(getattr(to, "id", "") in names for to in targets):
            yield node.value


def _name_of(function):
    return function.attr if isinstance(function, ast.Attribute) else getattr(function, "id", "")


def _text_of(node):
    if isinstance(node, ast.JoinedStr):
        return "".join(each.value if isinstance(each, ast.Constant) else "…" for each in node.values)
    return node.value if isinstance(node, ast.Constant) and isinstance(node.value, str) else ""


@pytest.mark.parametrize("name, path", modules(), ids=[name or "statorbook" for name, _ in modules()])
def test_the_library_says_what_an_instruction_exposes_hands_to(name, path):
    found = unsaid(path.read_text(encoding="utf-8"))
    assert [(line, text) for line, text in found if not any(m == name and w in text for m, w in ALLOWED)] == []


def test_nothing_is_allowed_that_is_not_there():
    found = {name: " ".join(text for _, text in unsaid(path.read_text(encoding="utf-8"))) for name, path in modules()}
    assert [key for key in ALLOWED if key[1] not in found[key[0]]] == []


@pytest.mark.parametrize(
    "code",
    [
        'x = "Turn the rotor by hand"',
        'def f():\n    """Doc."""\n    return f"then {1} solder the joint"',
        'raise BadInput("", "", "hang a spring scale on a lever")',
        'labelled("", "mm", "", next_step="read the gauge")',
        'def f(words):\n    words = "scrape the wire"\n    return words',
    ],
)
def test_an_instruction_in_plain_text_is_found(code):
    assert len(unsaid(code)) == 1


@pytest.mark.parametrize(
    "code",
    [
        'Instruction("Turn the rotor by hand", SPUN)',
        'tell.within("scrape it, then ", ".")',
        'def f():\n    """Solder the joint."""',
        'Fact(value=1, source="drying: dry the stator, no source")',
        'labelled("Bore", "mm", "", next_step="read the gauge", exposes=PIPED)',
        'x = "the wire was scraped bare, turned"',
        'def f():\n    words = "scrape the wire"\n    words += " and tin it"\n    return Instruction(words, SOLDERED)',
    ],
)
def test_an_instruction_that_says_what_it_exposes_to_passes(code):
    assert unsaid(code) == []


CELL_SOURCES = [
    (path.name[:2], cell["id"], "".join(cell["source"]))
    for path in NOTEBOOKS
    for cell in json.loads(path.read_text(encoding="utf-8"))["cells"]
    if cell["cell_type"] == "markdown"
]


@pytest.mark.parametrize("page, cell, source", CELL_SOURCES, ids=["-".join(each[:2]) for each in CELL_SOURCES])
def test_a_cell_that_tells_hands_what_to_do_carries_its_caution(page, cell, source):
    said = _SAYS_CAUTION.search(source) or (page, cell) in _CELLS_ALLOWED
    assert said or not CELLS.search(source), CELLS.findall(source)


def test_a_cell_without_its_caution_is_found():
    for source in ("Turn it steadily.", "Join **all three leads**.", "Hang a spring scale on a lever."):
        assert CELLS.search(source) and not _SAYS_CAUTION.search(source)
    assert _SAYS_CAUTION.search("Caution: guard on.")
    every = {(page, cell): source for page, cell, source in CELL_SOURCES}
    assert all(CELLS.search(every[key]) for key in _CELLS_ALLOWED)
