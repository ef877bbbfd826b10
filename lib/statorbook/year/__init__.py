"""A source over the year, and the kilowatt-hours that each grouping makes of it."""

import lazy_loader

__getattr__, __dir__, __all__ = lazy_loader.attach(
    __name__,
    submod_attrs={
        "carried": ["carried"],
        "energy": ["GroupingYear", "grouping_years"],
        "engine": ["read_engine_months"],
        "known_speed": ["read_speed_hours"],
        "pedals": ["read_pedal_weeks"],
        "plus_minus": ["firm_over_year", "kwh_spread", "spread_words"],
        "source": ["HOURS_A_YEAR", "MONTHS", "MONTH_HOURS", "SourceYear"],
        "verdict": ["year_verdict"],
        "water": ["read_water_months"],
        "wind": ["year_of_mean_wind", "year_of_monthly_winds"],
        "wind_rows": ["read_wind_hours", "read_wind_months"],
        "wind_table": ["year_of_wind_hours"],
    },
)
