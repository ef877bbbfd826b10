"""What keeps the machine from burning or running away."""

import lazy_loader

__getattr__, __dir__, __all__ = lazy_loader.attach(
    __name__,
    submod_attrs={
        "brake_heat": ["brake_heat", "joined_at", "brake_curves"],
        "break_times": ["break_times"],
        "cable_distances": ["cable_distances"],
        "cable_needs": ["cable_needs"],
        "cable_run": ["AT_BANK", "AT_MACHINE", "CableRun", "MOST_OHM", "WISHED_DROP"],
        "cable_words": ["cable_words", "distance_words", "ohms_words", "year_words"],
        "derivations": ["bank_comes_off", "capacitor_at_rectifier", "diode_heat", "heat_in_a_row"],
        "enclosures": ["enclosure_grade", "makes_gas", "questions", "stops_by_itself"],
        "fuse": ["Fuse", "fuse_needs", "Switch"],
        "fuse_label": ["MISFIT", "ratings"],
        "fuse_words": ["FUSE_CODES", "fuse_words"],
        "guard_needs": ["CONTACTOR_S", "MOST_UF", "SWITCH_S", "WATTS_SPARE", "dump_watts", "guard_needs"],
        "guard_verdict": ["judged_guard"],
        "heat_at_work": ["degrees", "duration_words", "heat_of", "two_figures", "overload"],
        "heat_path": ["ENCLOSURES", "OPEN_AIR"],
        "joined_leads": ["brake", "highest_wind_m_s", "JOINED_LEADS_CAUTION"],
        "load_lost": ["load_lost"],
        "over_voltage_load": ["OverVoltageLoad"],
        "parts_list": ["parts_to_buy", "sized_words"],
        "plant": ["Plant"],
        "rectifier": ["diode_waves", "rectifier_needs"],
        "rectifier_fit": ["rectifier_fit", "rectifier_words"],
        "rectifier_label": ["KINDS", "Rectifier", "SHARINGS"],
        "rotor": ["DISC", "LIGHT_KGM2", "Rotor", "SHAPES", "inertia_from_size_kgm2"],
        "site": ["PLACES", "Site", "WET"],
        "touch": ["BANK_LOST", "CHARGING", "RUN_AWAY", "SPOTS", "touch"],
        "trade": ["BARE", "DRIVES", "LOAD", "trade"],
        "what_if": ["MISHAPS", "what_if"],
        "winding_heat": ["HeatRun", "WindingHeat"],
    },
)
