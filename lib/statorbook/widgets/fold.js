// The browser's own fold: named to every reader, reached by the Tab key; only its inside is ever replaced.
function render({model, el}) {
  const fold = document.createElement("details"), name = document.createElement("summary"), inside = document.createElement("div");
  fold.append(name, inside);
  el.append(fold);
  const show = () => {
    name.textContent = model.get("name");
    fold.open = model.get("is_open");
    inside.innerHTML = model.get("value");
  };
  const tell = () => {
    if (fold.open === model.get("is_open")) return;
    model.set("is_open", fold.open);
    model.save_changes();
  };
  show();
  fold.addEventListener("toggle", tell);
  model.on("change", show);
  return () => model.off("change", show);
}

export default {render};
