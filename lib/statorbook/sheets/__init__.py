"""Sheets: pages for the bench, made as a PDF to print on A4 or US Letter."""

import lazy_loader

__getattr__, __dir__, __all__ = lazy_loader.attach(
    __name__,
    submod_attrs={
        "control_sheets": ["write_control_sheets"],
        "how_sure_sheet": ["write_how_sure_sheet"],
        "job_sheets": ["write_sheets"],
        "paper": ["PAPERS_MM"],
        "protection_sheets": ["write_protection_sheets"],
    },
)
