// The Enter key in a log: it keeps the cell and goes to the next one that is to be filled, with Shift to the one before;
// from any other cell, such as a note, it goes down its column. Below a row that is not begun it leads nowhere.
// In the page, not in the kernel: a move that waited for the kernel would come while the next number is being typed, and
// its first digits would end up in the cell above. It serves the log that stands beside it, rows to come included.
// Lab's keys of one letter are held off the log: typed in a list of words they would add or cut cells of the page.
const SECONDS_TO_WAIT = 20;
const REPLAYED = ["Enter", "Tab", "Backspace"];
const CELLS = "input, select";
// A cell gets its class and its title only when it is already in the page.
const CHANGES = {childList: true, subtree: true, attributes: true, attributeFilter: ["class", "title"]};

function rowOf(cell) {
  return Number((/\d+$/.exec(cell.title) || [0])[0]);
}

// The cell where the Enter key leads, undefined where there is none yet, null where there shall be none.
function cellFrom(log, cell, step, toFill) {
  const cells = [...log.querySelectorAll(CELLS)], filled = cells.filter(other => other.closest(`.${toFill}`));
  if (filled.includes(cell)) {
    if (step > 0 && !filled.some(other => other.value && rowOf(other) >= rowOf(cell))) return null;
    return filled[filled.indexOf(cell) + step];
  }
  const left = cell.getBoundingClientRect().left;
  const column = cells.filter(other => Math.abs(other.getBoundingClientRect().left - left) < 2);
  return column[column.indexOf(cell) + step];
}

function cellAfter(log, cell) {
  const cells = [...log.querySelectorAll(CELLS)];
  return cells[cells.indexOf(cell) + 1];
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
  let held = null, last = null;
  const toFill = () => model.get("needed_class");

  function goWhenThere(log, cell, keys, find) {
    held = keys;
    cell.dispatchEvent(new Event("change", {bubbles: true}));
    const watch = new MutationObserver(() => {
      const next = find();
      if (next) { stop(); goTo(next); replay(log, next, keys); }
    });
    const stop = () => { watch.disconnect(); clearTimeout(late); held = null; };
    const late = setTimeout(stop, 1000 * SECONDS_TO_WAIT);
    watch.observe(log, CHANGES);
  }

  function move(log, cell, step, keys) {
    const find = () => cellFrom(log, cell, step, toFill()), next = find();
    if (next) { goTo(next); replay(log, next, keys); }
    else if (step > 0 && next !== null) goWhenThere(log, cell, keys, find);
    else replay(log, cell, keys);
  }

  function replay(log, cell, keys) {
    let letters = "";
    while (keys.length) {
      const key = keys.shift();
      if (key === "Enter" || key === "ShiftEnter") { move(log, cell, key === "Enter" ? 1 : -1, keys); return; }
      if (key === "Tab") {
        const left = cell, find = () => cellAfter(log, left);
        if (!find()) { goWhenThere(log, left, keys, find); return; }
        cell = find();
        letters = "";
        goTo(cell);
      } else if (cell.matches("select")) choose(cell, letters += key);
      else if (key === "Backspace") document.execCommand("delete");
      else document.execCommand("insertText", false, key);
    }
  }

  function pressed(event) {
    const log = ownLog(event.target);
    if (!isMine(log)) return;
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

  // A column that comes into sight by itself makes the cells behind it anew: the hand and its half-typed cell stay.
  const ownLog = node => node.closest && node.closest(`.${model.get("log_class")}`);
  const isMine = log => log && log.parentElement === el.parentElement;

  function entered(event) {
    const log = ownLog(event.target);
    last = isMine(log) && event.target.matches(CELLS) ? {cell: event.target, typed: null} : null;
    if (!last || log.hasAttribute("data-watched")) return;
    log.setAttribute("data-watched", "");
    new MutationObserver(() => comeBack(log)).observe(log, CHANGES);
  }

  function typed(event) {
    if (last && event.target === last.cell) last.typed = event.target.value;
  }

  function comeBack(log) {
    if (!last || last.cell.isConnected || document.activeElement !== document.body) return;
    const again = [...log.querySelectorAll(CELLS)].find(cell => cell.title && cell.title === last.cell.title);
    if (!again) return;
    const text = last.typed;
    goTo(again);
    if (text !== null && again.matches("input")) document.execCommand("insertText", false, text);
  }

  window.addEventListener("focusin", entered, true);
  window.addEventListener("input", typed, true);
  // On the window and on the way down: before Lab, which listens on the document.
  window.addEventListener("keydown", pressed, true);
  return () => {
    window.removeEventListener("focusin", entered, true);
    window.removeEventListener("input", typed, true);
    window.removeEventListener("keydown", pressed, true);
  };
}

export default {render};
