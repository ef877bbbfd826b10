"""Logs as typed at the bench: columns, text in and out, meters, rows."""

import lazy_loader

__getattr__, __dir__, __all__ = lazy_loader.attach(
    __name__,
    submod_attrs={
        "bank_readings": ["require_bank_volts", "volts_shown"],
        "coast": ["coast_speed_rpm", "read_coast", "ring_inertia_kgm2"],
        "coils": ["ODD_SHARE", "coil_means", "ohms_or_open", "read_coils"],
        "csv_text": ["LogText", "format_log", "parse_log"],
        "drill": ["read_drill"],
        "evidence": ["require_meter_volts"],
        "logs": [
            "ALL_LOGS",
            "CHECKS_LOG",
            "HEADINGS",
            "LOGS",
            "RUN_LOG",
            "SERVICE_LOG",
            "SESSION_LOGS",
            "blank_row",
            "columns_of",
        ],
        "meters": [
            "HZ_SHARE",
            "LAMP_SHARE",
            "METER_CLASS",
            "METER_DIGITS",
            "METER_KINDS",
            "MOST_VOLTS",
            "Meter",
            "Meters",
            "NAME_PLATE_SHARE",
            "READING_SHARE",
            "TRUE_RMS_HZ",
        ],
        "ohms": ["read_ohms"],
        "paste": ["decoded", "pasted_rows"],
        "pole_count": ["count_poles", "pole_count_words"],
        "readings": ["read_logs"],
        "rows": ["Reading", "read_rows"],
        "sessions": ["ALL_SESSIONS", "day_words", "leave_out", "require_choice", "session_options", "sessions_words"],
        "speed": ["speed_of", "speed_sigma_rpm"],
        "spin": ["NAME_PLATE", "SPIN_LOG", "star_emf_v_rms"],
    },
)
