// The Enter key in a log: it keeps the cell and goes to the same column one row down, with Shift one row up.
// In the page, not in the kernel: a move that waited for the kernel would come while the next number is being typed, and
// its first digits would end up in the cell above. It serves the log that stands beside it, rows to come included.
// Lab's keys of one letter are held off the log: typed in a list of words they would add or cut cells of the page.
const SECONDS_TO_WAIT = 20;
const REPLAYED = ["Enter", "Tab", "Backspace"];
const CELLS = "input, select";

function cellFrom(log, cell, step) {
  const left = cell.getBoundingClientRect().left;
  const column = [...log.querySelectorAll(CELLS)].filter(other => Math.abs(other.getBoundingClientRect().left - left) < 2);
  return column[column.indexOf(cell) + step];
}

function goTo(cell) {
  cell.focus();
  if (cell.select) cell.select();
}

function choose(list, letters) {
  const at = [...list.options].findIndex(word => word.text.toLowerCase().startsWith(letters.toLowerCase()));
  if (at < 0 || at === list.selectedIndex) return;
  list.selectedIndex = at;
  list.dispatchEvent(new Event("change", {bubbles: true}));
}

function render({model, el}) {
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
        const cells = [...log.querySelectorAll(CELLS)];
        cell = cells[cells.indexOf(cell) + 1] || cell;
        letters = "";
        goTo(cell);
      } else if (cell.matches("select")) choose(cell, letters += key);
      else if (key === "Backspace") document.execCommand("delete");
      else document.execCommand("insertText", false, key);
    }
  }

  function pressed(event) {
    const log = event.target.closest && event.target.closest(`.${model.get("log_class")}`);
    if (!log || log.parentElement !== el.parentElement) return;
    const plain = !event.ctrlKey && !event.altKey && !event.metaKey && !event.isComposing;
    event.target.toggleAttribute("data-lm-suppress-shortcuts", plain);
    if (!plain || !event.target.matches(CELLS) || event.key !== "Enter" && !held) return;
    event.preventDefault();
    event.stopPropagation();
    if (event.key === "Enter" && event.repeat) return;
    if (!held) move(log, event.target, event.shiftKey ? -1 : 1, []);
    else if (event.key === "Enter" && event.shiftKey) held.push("ShiftEnter");
    else if (event.key.length === 1 || REPLAYED.includes(event.key)) held.push(event.key);
  }

  // On the window and on the way down: before Lab, which listens on the document.
  window.addEventListener("keydown", pressed, true);
  return () => window.removeEventListener("keydown", pressed, true);
}

export default {render};
