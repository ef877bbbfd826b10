"""What the meter must say after each step, and the verdict on what it does say."""

import lazy_loader

__getattr__, __dir__, __all__ = lazy_loader.attach(
    __name__,
    submod_attrs={
        "bands": ["DRY_IT", "numbered", "numbers_in_words"],
        "expected": ["bench_checks"],
        "groups": ["check_groups"],
        "rows": ["read_checks"],
        "verdicts": ["compare_readings", "doubts", "latest_of", "stops", "verdict_words"],
    },
)
