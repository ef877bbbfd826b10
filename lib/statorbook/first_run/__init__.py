"""The finished machine beside its promise."""

import lazy_loader

__getattr__, __dir__, __all__ = lazy_loader.attach(
    __name__,
    submod_attrs={
        "case": ["RunCase", "run_case"],
        "causes": ["undetectable_causes"],
        "misfit": ["amps_at"],
        "outliers": ["odd_rows"],
        "promise": ["promise_of"],
        "ranking": ["verdict_on"],
        "refine": ["refined"],
        "rows": ["read_run", "source_heading"],
        "tells": ["Tells"],
        "words": ["headline", "verdict_words"],
    },
)
