// Of every panel: its pictures, and what the stock widgets leave out for who listens.

// --- the pictures ---

// All lines of the box, in the page's model; only those that changed come from the kernel.
function initialize({model}) {
  const take = () => {
    const {lines, changes} = model.get("sent");
    const now = lines || [...model.get("lines")];
    for (const [start, gone, put] of changes || []) now.splice(start, gone, ...put);
    model.set("lines", now);
  };
  model.on("change:sent", take);
  take();
}

function pictures(model, box) {
  let nodes = [];
  const whole = () => {
    box.innerHTML = model.get("lines").join("\n");
    nodes = nodesOf(box, model.get("lines"));
  };
  const draw = () => {
    const changes = nodes && model.get("sent").changes;
    if (!changes || !changes.every(change => redrawn(nodes, ...change))) whole();
  };
  whole();
  model.on("change:sent", draw);
  return () => model.off("change:sent", draw);
}

const opens = line => line.includes("<svg"), closes = line => line.includes("</svg>");
const nameOf = line => (/^<(\w+)/.exec(line) || [])[1];

// The element that each line stands for; null where lines and elements do not go together.
function nodesOf(box, lines) {
  const svgs = [...box.querySelectorAll("svg")], nodes = [];
  let child = null;
  for (const line of lines) {
    let node = null;
    if (opens(line) && closes(line)) return null;
    if (opens(line)) [node, child] = [svgs[0], (svgs.shift() || {}).firstElementChild];
    else if (closes(line) ? child : line && (!child || child.tagName !== nameOf(line))) return null;
    else if (line && !closes(line)) [node, child] = [child, child.nextElementSibling];
    nodes.push({line, node});
  }
  return svgs.length ? null : nodes;
}

// Draw the elements of a few lines anew; false where that takes the whole box.
function redrawn(nodes, start, gone, put) {
  const old = nodes.slice(start, start + gone);
  if (old.length === 1 && put.length === 1 && opens(old[0].line) && opens(put[0])) return renamed(old[0], put[0]);
  if ([...old.map(each => each.line), ...put].some(line => opens(line) || closes(line))) return false;
  const holder = document.createElementNS("http://www.w3.org/2000/svg", "g");
  holder.innerHTML = put.join("\n");
  const made = [...holder.children], fresh = put.map(line => ({line, node: line ? made.shift() : null}));
  const behind = nodes.slice(start + gone).find(each => each.node || closes(each.line));
  const before = nodes.slice(0, start).reverse().find(each => each.node);
  if (!behind || !before || fresh.some(each => each.line && !each.node) || made.length) return false;
  const svg = opens(before.line) ? before.node : before.node.parentNode;
  for (const {node} of old) if (node) node.remove();
  for (const {node} of fresh) if (node) svg.insertBefore(node, closes(behind.line) ? null : behind.node);
  nodes.splice(start, gone, ...fresh);
  return true;
}

// The opening line of a picture that stays: its other words, its other size.
function renamed(old, line) {
  const at = line.indexOf("<svg");
  if (line.slice(0, at) !== old.line.slice(0, old.line.indexOf("<svg"))) return false;
  const holder = document.createElement("div");
  holder.innerHTML = `${line.slice(at)}</svg>`;
  for (const {name} of [...old.node.attributes]) if (!holder.firstChild.hasAttribute(name)) old.node.removeAttribute(name);
  for (const {name, value} of [...holder.firstChild.attributes])
    if (old.node.getAttribute(name) !== value) old.node.setAttribute(name, value);
  old.line = line;
  return true;
}

// --- what stays as the reader left it, and the names: the answer is read when it changes, a slider's handle has one ---

// A table that comes anew stands where it was scrolled to. A drawing is moved by its own step.
const boxesOf = panel => [...panel.querySelectorAll("[role=region]")].filter(box => !box.closest(".statorbook-picture"));

function keepPlaces(panel) {
  const places = new Map(), known = new WeakSet();
  panel.addEventListener("scroll", ({target}) => {
    const number = boxesOf(panel).indexOf(target);
    if (number >= 0) places.set(number, [target.scrollLeft, target.scrollTop]);
  }, true);
  return () => boxesOf(panel).forEach((box, number) => {
    if (!known.has(box) && places.has(number)) [box.scrollLeft, box.scrollTop] = places.get(number);
    known.add(box);
  });
}

// Set on nodes that stay: the HTML widget replaces only what is inside it.
function name(panel) {
  for (const sentence of panel.querySelectorAll(".statorbook-sentence:not([aria-live])")) {
    sentence.setAttribute("aria-live", "polite");
    sentence.setAttribute("aria-atomic", "true");
  }
  for (const handle of panel.querySelectorAll(".widget-slider .noUi-handle")) {
    const label = handle.closest(".widget-slider").querySelector(".widget-label").textContent.trim();
    if (label && handle.getAttribute("aria-label") !== label) handle.setAttribute("aria-label", label);
  }
}

function names(el) {
  let watch = null;
  const start = () => {
    const panel = el.closest(".statorbook-panel");
    if (!panel) return false;
    const putBack = keepPlaces(panel);
    name(panel);
    watch = new MutationObserver(() => { name(panel); putBack(); });
    watch.observe(panel, {subtree: true, childList: true});
    return true;
  };
  // The view is made before it is put into its panel.
  const wait = () => { if (!watch && !start()) frame = requestAnimationFrame(wait); };
  let frame = requestAnimationFrame(wait);
  return () => { cancelAnimationFrame(frame); if (watch) watch.disconnect(); };
}

function render({model, el}) {
  const inside = document.createElement("div");
  inside.className = "widget-html-content";
  el.append(inside);
  const ends = [pictures(model, inside), names(el)];
  return () => ends.forEach(end => end());
}

export default {initialize, render};
