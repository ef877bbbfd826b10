"""A job's parts put together into a machine, a plan and checks."""

import lazy_loader

__getattr__, __dir__, __all__ = lazy_loader.attach(
    __name__,
    submod_attrs={
        "inertia": ["inertia_found"],
        "judged": ["judged_from", "usable_year"],
        "log_reading": ["bench_logs", "choose_sessions", "sessions_used"],
        "machine": ["WRITE_CONSTANTS", "machine_from", "stale_words", "with_parts"],
        "meter_checks": ["BENCH_C", "HAND_RPM", "checks_for"],
        "narrowing": ["answers_words", "deciding_words", "narrowed_words", "narrowing_words"],
        "need": ["need_from", "year_with_bore"],
        "path_check": ["survey_words"],
        "charging": ["charging_from"],
        "control_text": ["control_text_from"],
        "plant": ["assumed_for_plant", "assumed_in_list", "plant_from"],
        "plan": ["choice_of", "choice_part", "choice_words", "found_words", "plan_of", "year_promise_words"],
        "stands_on": ["ANSWERS", "how_sure"],
        "typed_years": ["fuel_words"],
        "units": ["own_job", "speak_to_reader_of", "units_for"],
        "year": ["source_year_from", "with_year", "year_of", "year_readings"],
    },
)
