"""Logs as typed at the bench: columns, text in and out, meters, rows."""

import lazy_loader

__getattr__, __dir__, __all__ = lazy_loader.attach(
    __name__,
    submod_attrs={
        "bank_readings": ["require_bank_volts", "volts_shown"],
        "coil_rows": ["ODD_SHARE", "coil_means", "ohms_or_open", "read_coils"],
        "columns": [
            "ADDED_WORDS",
            "ALL_LOGS",
            "HEADINGS",
            "LOGS",
            "SESSION_LOGS",
            "blank_row",
            "columns_of",
            "number_in",
        ],
        "csv_text": ["LogText", "format_log", "parse_log"],
        "drag_rows": [
            "CoastNumbers",
            "DrillNumbers",
            "coast_numbers",
            "coast_speed_rpm",
            "drill_numbers",
            "ring_inertia_kgm2",
            "speed_sigma_rpm",
        ],
        "evidence": ["require_meter_volts"],
        "meters": [
            "HZ_SHARE",
            "KINDS",
            "LAMP_SHARE",
            "METER_CLASS",
            "METER_DIGITS",
            "MOST_VOLTS",
            "Meter",
            "Meters",
            "NAME_PLATE_SHARE",
            "READING_SHARE",
            "TRUE_RMS_HZ",
        ],
        "paste": ["pasted_rows", "text_of"],
        "pole_count": ["count_poles", "pole_count_words"],
        "readings": ["Reading", "read_logs", "read_ohms", "read_rows"],
        "row_numbers": ["PLATE", "speed_of", "star_emf_v_rms"],
        "sessions": ["ALL", "day_words", "leave_out", "require_choice", "session_options", "sessions_words"],
    },
)
