"""All groupings side by side: verdict, ±, how firm the choice is, and what else would suit."""

import lazy_loader

__getattr__, __dir__, __all__ = lazy_loader.attach(
    __name__,
    submod_attrs={
        "alternatives": ["needs_another_way", "other_ways"],
        "assumed_ranges": ["COPPER_STEP_K", "MAGNET_STEP_K", "source_words", "variations"],
        "comparison": ["Comparison", "around_delta", "compare", "watts_band"],
        "firmness": [
            "ONE_SETTING",
            "at_settings",
            "choices_at_ends",
            "firmness_words",
            "other_choices",
            "settings_words",
            "source_warning",
        ],
        "first_guess": ["quick_look"],
        "machine": ["Machine", "corners", "ends"],
        "rewinding": ["COUNT_TURNS"],
        "setting": ["Setting"],
        "shares": ["CONSTANTS", "shares_in_squares", "shares_of"],
        "uncertainty": [
            "Spread",
            "amps_band",
            "half_width",
            "reach",
            "rounded",
            "watts_range",
            "windings_at_ends",
            "with_plus_minus",
        ],
        "verdict": [
            "ABOVE",
            "CHOSEN",
            "MOST_AMPS_PER_MM2",
            "NEEDS_A_GUARD",
            "REJECTED",
            "WORKABLE",
            "Worth",
            "gone_words",
        ],
    },
)
