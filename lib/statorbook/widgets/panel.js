// What the stock widgets leave out for who listens: the answer is read when it changes, and a slider's handle has a name.
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

function render({el}) {
  let watch = null;
  const start = () => {
    const panel = el.closest(".statorbook-panel");
    if (!panel) return false;
    name(panel);
    watch = new MutationObserver(() => name(panel));
    watch.observe(panel, {subtree: true, childList: true});
    return true;
  };
  // The view is made before it is put into its panel.
  const wait = () => { if (!watch && !start()) frame = requestAnimationFrame(wait); };
  let frame = requestAnimationFrame(wait);
  return () => { cancelAnimationFrame(frame); if (watch) watch.disconnect(); };
}

export default {render};
