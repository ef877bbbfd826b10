"""A job's folder on the disk: document, logs, history, drafts, zip."""

import lazy_loader

__getattr__, __dir__, __all__ = lazy_loader.attach(
    __name__,
    submod_attrs={
        "archive": ["export_job", "import_job", "sweep_imports"],
        "changes": ["DAMAGED", "JOB_FILES"],
        "drafts": ["QUICK_LOOK", "Drafts"],
        "files": ["DOCUMENT", "locked", "replace_file"],
        "history": ["JobFolder", "lost_jobs", "no_history_words", "restore", "told", "versions"],
        "job": ["Job", "open_current"],
        "logs": ["fingerprint_of", "load_log"],
        "overwrite": ["write_anew"],
        "places": ["EXAMPLE", "EXAMPLES", "base_folder", "current_name", "job_folder"],
        "progress": [
            "COMPARED_IN_WORDS",
            "PARTS_IN_WORDS",
            "counted_states",
            "inputs_fingerprint",
            "planned_for",
            "programmed_for",
            "protected_for",
        ],
    },
)
