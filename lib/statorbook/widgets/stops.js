// A slider over named stops: the browser's own range input, and under its track a strip with a tick for each stop.
// In the page, not in the kernel: the name of the stop under the hand is said at once, the answer follows.
const THUMB_PX = 18; // as in stops.css: the middle of the handle goes from half of it to half of it
const PARTS = ["label", "name", "remark", "ends", "track", "mark", "note"];

function part(parent, kind, name, text = "") {
  const node = document.createElement(kind);
  node.className = `statorbook-stops-${name}`;
  node.textContent = text;
  parent.append(node);
  return node;
}

function place(share) {
  return `calc(${THUMB_PX / 2}px + ${share} * (100% - ${THUMB_PX}px))`;
}

function render({model, el}) {
  el.classList.add("jupyter-widgets", "statorbook-stops");
  const at = Object.fromEntries(PARTS.map(name => [name, part(el, "div", name)]));
  at.label.classList.add("widget-label");
  at.note.id = `${at.note.className}-${Math.random().toString(36).slice(2)}`;
  const range = document.createElement("input");
  Object.assign(range, {type: "range", min: 0, step: 1});
  range.setAttribute("aria-describedby", at.note.id);

  function share(stop) {
    return Math.min(Math.max(stop / Math.max(model.get("stops").length - 1, 1), 0), 1);
  }

  // What the hand is on: known here before the kernel has answered.
  function name() {
    const stop = Number(range.value);
    at.name.textContent = model.get("stops")[stop];
    at.remark.textContent = model.get("remarks")[stop] || "";
    range.setAttribute("aria-valuetext", [at.name, at.remark].map(node => node.textContent).filter(Boolean).join(": "));
  }

  function strip() {
    const stops = model.get("stops"), beyond = model.get("beyond"), marked = model.get("marked");
    at.label.textContent = model.get("label");
    range.setAttribute("aria-label", model.get("label"));
    range.max = stops.length - 1;
    range.value = model.get("value");
    at.ends.replaceChildren();
    model.get("ends").forEach(end => part(at.ends, "span", "end", end));
    const keyboard = document.activeElement === range;
    at.track.replaceChildren();
    if (beyond > 0) {
      const all = beyond >= stops.length;
      part(at.track, "div", "beyond").style.width = all ? "100%" : place(share(beyond - 0.5));
    }
    part(at.track, "div", "line");
    stops.forEach((_, stop) => {
      const crossed = model.get("crossed").includes(stop);
      part(at.track, "span", crossed ? "cross" : "tick", crossed ? "×" : "").style.left = place(share(stop));
    });
    at.track.append(range);
    if (keyboard) range.focus();
    const left = share(marked) <= 0.5, words = model.get("mark_words");
    at.mark.textContent = marked < 0 ? "" : left ? `▲ ${words}` : `${words} ▲`;
    at.mark.style.textAlign = left ? "left" : "right";
    // The arrow head stands under its tick; half of it reaches over.
    at.mark.style.paddingLeft = left ? `calc(${place(share(marked))} - 0.45em)` : 0;
    at.mark.style.paddingRight = left ? 0 : `calc(${place(1 - share(marked))} - 0.45em)`;
    at.note.textContent = model.get("note");
    name();
  }

  range.addEventListener("input", () => {
    model.set("value", Number(range.value));
    model.save_changes();
    name();
  });
  model.on("change:value", () => {
    range.value = model.get("value");
    name();
  });
  for (const trait of ["label", "stops", "ends", "remarks", "marked", "mark_words", "crossed", "beyond", "note"])
    model.on(`change:${trait}`, strip);
  strip();

  // Up and down step it as left and right do; without this Lab would take them and walk to another cell.
  function held(event) {
    if (event.target !== range) return;
    range.toggleAttribute("data-lm-suppress-shortcuts", !event.ctrlKey && !event.altKey && !event.metaKey);
  }
  window.addEventListener("keydown", held, true);
  return () => window.removeEventListener("keydown", held, true);
}

export default {render};
