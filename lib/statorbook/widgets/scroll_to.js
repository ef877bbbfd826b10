// Brings one place of a picture into the middle of the box in which it scrolls; the page around it does not move.
// The picture comes anew with every answer, so the box is watched and scrolled again as soon as it is there.
const SECONDS_TO_WAIT = 20;

function render({model, el}) {
  el.style.display = "none";
  const watch = new MutationObserver(() => place());
  let waiting = null;

  function place() {
    const box = document.querySelector(`.${model.get("picture_class")} [role=region]`);
    if (!box) return;
    box.scrollLeft = model.get("across") * box.scrollWidth - box.clientWidth / 2;
    box.scrollTop = model.get("down") * box.scrollHeight - box.clientHeight / 2;
  }

  function begin() {
    const picture = document.querySelector(`.${model.get("picture_class")}`);
    if (!picture) return false;
    watch.observe(picture, {childList: true, subtree: true});
    place();
    return true;
  }

  if (!begin()) {
    const until = Date.now() + 1000 * SECONDS_TO_WAIT;
    waiting = setInterval(() => { if (begin() || Date.now() > until) clearInterval(waiting); }, 100);
  }
  model.on("change:across change:down", place);
  return () => { watch.disconnect(); clearInterval(waiting); model.off("change:across change:down", place); };
}

export default {render};
