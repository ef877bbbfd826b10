"""The parts of a job's document, each with its fields, labels and limits."""

import lazy_loader

__getattr__, __dir__, __all__ = lazy_loader.attach(
    __name__,
    submod_attrs={
        "bank": ["BankPart"],
        "base": ["AssumingPart"],
        "converter": ["ConverterPart"],
        "drive": ["DrivePart"],
        "fields": ["field_facts"],
        "inductance": ["HenriesPart"],
        "meters": ["MetersPart", "meters_of"],
        "need": ["NeedPart"],
        "prices": ["PricesPart"],
        "protection": ["ProtectionPart"],
        "reader": ["ReaderPart", "units_of"],
        "refined": ["RefinedPart"],
        "results": ["ChoicePart", "CoilPart", "PlanPart", "facts_worked_out_for"],
        "service": ["ServicePart"],
        "sessions": ["SessionsPart"],
        "stator": ["StatorPart"],
        "site": ["SitePart"],
        "cable": ["CablePart"],
        "rectifier": ["RectifierPart"],
        "fuse": ["FusePart"],
        "rotor": ["RotorPart"],
        "guard": ["GuardPart"],
        "heat": ["HeatPart"],
        "year": ["YearPart"],
        "set_points": ["SetPointsPart"],
        "dump": ["DumpPart"],
        "water": ["WaterPart"],
        "inverter": ["InverterPart"],
        "control": ["ControlPart"],
        "program": ["ProgramPart"],
    },
)
