"""The Enter key in a log: it keeps the cell and goes to the same column one row down, with Shift one row up."""

import ipywidgets as W

LOG_CLASS = "statorbook-log"
# In the page, not in the kernel: a move that waited for the kernel would come while the next number is being typed, and
# its first digits would end up in the cell above. One listener serves all logs of the page, rows to come included.
# Lab's keys of one letter are held off the log: typed in a list of words they would add or cut cells of the page.
ENTER_KEY = """
const KEY = "statorbookEnterKey";
const SECONDS_TO_WAIT = 20;
const REPLAYED = ["Enter", "Tab", "Backspace"];

function cellFrom(log, cell, step) {
    const left = cell.getBoundingClientRect().left;
    const column = [...log.querySelectorAll("input, select")].filter(
        each => Math.abs(each.getBoundingClientRect().left - left) < 2);
    return column[column.indexOf(cell) + step];
}

function goTo(cell) {
    cell.focus();
    if (cell.select) cell.select();
}

// What is typed while the row below is still on its way waits for it: it belongs neither to the cell that was left nor
// to nobody.
let held = null;

function goWhenThere(log, cell, keys) {
    held = keys;
    cell.dispatchEvent(new Event("change", {bubbles: true}));
    const watch = new MutationObserver(() => {
        const next = cellFrom(log, cell, 1);
        if (next) { stop(); goTo(next); replay(log, next, keys); }
    });
    const stop = () => { watch.disconnect(); clearTimeout(late); held = null; };
    const late = setTimeout(stop, 1000 * SECONDS_TO_WAIT);
    watch.observe(log, {childList: true});
}

function move(log, cell, step, keys) {
    const next = cellFrom(log, cell, step);
    if (next) { goTo(next); replay(log, next, keys); }
    else if (step > 0) goWhenThere(log, cell, keys);
    else replay(log, cell, keys);
}

function replay(log, cell, keys) {
    let letters = "";
    while (keys.length) {
        const key = keys.shift();
        if (key === "Enter" || key === "ShiftEnter") { move(log, cell, key === "Enter" ? 1 : -1, keys); return; }
        if (key === "Tab") {
            const cells = [...log.querySelectorAll("input, select")];
            cell = cells[cells.indexOf(cell) + 1] || cell;
            letters = "";
            goTo(cell);
        } else if (cell.matches("select")) choose(cell, letters += key);
        else if (key === "Backspace") document.execCommand("delete");
        else document.execCommand("insertText", false, key);
    }
}

function choose(list, letters) {
    const at = [...list.options].findIndex(each => each.text.toLowerCase().startsWith(letters.toLowerCase()));
    if (at < 0 || at === list.selectedIndex) return;
    list.selectedIndex = at;
    list.dispatchEvent(new Event("change", {bubbles: true}));
}

function pressed(event) {
    const log = event.target.closest && event.target.closest(".LOG_CLASS");
    if (!log) return;
    const plain = !event.ctrlKey && !event.altKey && !event.metaKey && !event.isComposing;
    event.target.toggleAttribute("data-lm-suppress-shortcuts", plain);
    if (!plain || !event.target.matches("input, select") || event.key !== "Enter" && !held) return;
    event.preventDefault();
    event.stopPropagation();
    if (event.key === "Enter" && event.repeat) return;
    if (!held) move(log, event.target, event.shiftKey ? -1 : 1, []);
    else if (event.key === "Enter" && event.shiftKey) held.push("ShiftEnter");
    else if (event.key.length === 1 || REPLAYED.includes(event.key)) held.push(event.key);
}

if (!window[KEY]) {
    window[KEY] = true;
    window.addEventListener("keydown", pressed, true);
}
""".replace("LOG_CLASS", LOG_CLASS)


def enter_key():
    """What brings the Enter key into the page.

    Returns
    -------
    ipywidgets.Output
        Shows nothing; put it beside a grid that has the class `LOG_CLASS`.
    """
    output = {"output_type": "display_data", "data": {"application/javascript": ENTER_KEY}, "metadata": {}}
    return W.Output(outputs=(output,), layout=W.Layout(display="none"))
