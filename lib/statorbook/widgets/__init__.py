"""Controls that know no chapter: form, grid, guard, frame, fold, table."""

import lazy_loader

__getattr__, __dir__, __all__ = lazy_loader.attach(
    __name__,
    submod_attrs={
        "answer": ["Answer"],
        "at_rest": ["OnceAtRest"],
        "controls": [
            "WIDEST",
            "NumberField",
            "button",
            "choice",
            "download_link",
            "html",
            "label_with_unit",
            "labelled",
            "side_by_side",
            "slider",
            "stacked",
            "tick",
        ],
        "fold": ["Fold"],
        "form": ["Form"],
        "form_field": ["number_field"],
        "frame": ["Panel"],
        "grid": ["LogGrid"],
        "guard": ["GOOD", "ODD", "MessageLine"],
        "kept_fields": ["keep_fields"],
        "made_anew": ["MadeAnew"],
        "own_job": ["job_prefix", "require_own"],
        "picture": ["Picture"],
        "scroll_to": ["ScrollTo"],
        "stops": ["Stops"],
        "table": ["Table", "in_a_box"],
    },
)
