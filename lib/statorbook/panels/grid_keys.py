"""The Enter key in a log: it keeps the cell and goes to the same column one row down, with Shift one row up."""

import ipywidgets as W

LOG_CLASS = "statorbook-log"
# In the page, not in the kernel: a move that waited for the kernel would come while the next number is being typed, and
# its first digits would end up in the cell above. One listener serves all logs of the page, rows to come included.
# Lab's keys of one letter are held off the log: typed in a list of words they would add or cut cells of the page.
ENTER_KEY = """
const KEY = "statorbookEnterKey";
const SECONDS_TO_WAIT = 5;

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

// The row below is still on its way: nothing may be typed into the cell that was left.
function goWhenThere(log, cell) {
    cell.readOnly = true;
    cell.dispatchEvent(new Event("change", {bubbles: true}));
    const watch = new MutationObserver(() => {
        const next = cellFrom(log, cell, 1);
        if (next) { stop(); goTo(next); }
    });
    const stop = () => { watch.disconnect(); clearTimeout(late); cell.readOnly = false; };
    const late = setTimeout(stop, 1000 * SECONDS_TO_WAIT);
    watch.observe(log, {childList: true});
}

function pressed(event) {
    const log = event.target.closest && event.target.closest(".LOG_CLASS");
    if (!log) return;
    const plain = !event.ctrlKey && !event.altKey && !event.metaKey && !event.isComposing;
    event.target.toggleAttribute("data-lm-suppress-shortcuts", plain);
    if (event.key !== "Enter" || !plain || !event.target.matches("input, select")) return;
    event.preventDefault();
    event.stopPropagation();
    if (event.repeat || event.target.readOnly) return;
    const next = cellFrom(log, event.target, event.shiftKey ? -1 : 1);
    if (next) goTo(next);
    else if (!event.shiftKey) goWhenThere(log, event.target);
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
