"""What a saved page holds: never a panel that looks alive and has nothing behind it."""

import re
from copy import deepcopy
from pathlib import Path

VIEW = "application/vnd.jupyter.widget-view+json"
STILL = "still"  # in the metadata of an output: a panel's stored picture
AT_REST = "These are the stored words of a panel, not the panel. Press “Run the page” to use it."
_OURS = re.compile(r"^\s*(?:from|import)\s+statorbook\b", re.MULTILINE)
_ALWAYS_AS_STORED = ("kernelspec", "language_info")  # Lab writes the version of this machine's Python into them


def before_save(model, path, contents_manager, **more):
    """Take the live panels out of a page of the workbook before JupyterLab writes it: its `pre_save_hook`."""
    # A failure does not stop the save: the server notes it in its log, and nothing of the model has been changed then.
    content = model.get("content")
    if model.get("type") != "notebook" or not content or not is_ours(content):
        return
    model["content"] = at_rest(content, stored_page(Path(contents_manager.root_dir, path.strip("/"))))


def is_ours(notebook):
    """Whether a notebook uses the workbook's library; others are saved as they are."""
    return any(cell.get("cell_type") == "code" and _OURS.search(_text(cell)) for cell in notebook.get("cells", ()))


def stored_page(path):
    """The page that is about to be written over, when it is one with stored pictures; else None."""
    import nbformat  # JupyterLab brings it; the library itself does without

    try:
        page = nbformat.read(path, as_version=4)
    except Exception:  # whatever is wrong with it, it is being replaced
        return None
    outputs = [output for cell in page.cells for output in cell.get("outputs", ())]
    if not any(STILL in output.get("metadata", {}) for output in outputs):
        return None
    return None if any(VIEW in output.get("data", {}) for output in outputs) else page


def at_rest(notebook, stored=None):
    """A new notebook without a live panel, nor the state of one; the text of every cell as it was."""
    notebook = deepcopy(notebook)
    notebook.get("metadata", {}).pop("widgets", None)
    known = {}
    if stored:
        kept = {name: stored["metadata"][name] for name in _ALWAYS_AS_STORED if name in stored["metadata"]}
        notebook.setdefault("metadata", {}).update(deepcopy(kept))
        known = {cell.get("id"): cell for cell in stored["cells"] if cell["cell_type"] == "code"}
    for cell in notebook["cells"]:
        # Cells whose code is the same keep all outputs that they have on the disk, so that no page tells of two jobs.
        before = known.get(cell.get("id"))
        if before and cell.get("cell_type") == "code" and _text(cell) == _text(before):
            cell["outputs"], cell["execution_count"] = deepcopy(before["outputs"]), before["execution_count"]
        for output in cell.get("outputs", ()):
            _rest(output)
    return notebook


def _text(cell):
    source = cell.get("source", "")
    return source if isinstance(source, str) else "".join(source)


def _rest(output):
    data = output.get("data", {})
    if data.pop(VIEW, None) is not None:
        output.get("metadata", {}).pop(VIEW, None)
        words = data.get("text/plain", "")
        words = words if isinstance(words, str) else "".join(words)
        data["text/plain"] = f"{words}\n{AT_REST}".strip()
