"""A source over the year, and the kilowatt-hours that each grouping makes of it."""

import lazy_loader

__getattr__, __dir__, __all__ = lazy_loader.attach(
    __name__,
    submod_attrs={
        "bank_hours": ["BankYears", "SIZES", "bank_years", "enough_kwh"],
        "carried": ["carried"],
        "between": ["between_years", "describe_between"],
        "energy": ["GroupingYear", "grouping_years"],
        "engine": ["read_engine_months", "year_of_engine"],
        "fuel": ["fuel_year"],
        "hour_by_hour": ["order_words", "watts_by_hour"],
        "household": ["household_kwh_a_day"],
        "known_speed": ["read_speed_hours", "year_of_speeds"],
        "need": ["Need", "NeedMonths", "bank_kwh_for", "capacity_caution", "need_months", "share_of_peak"],
        "need_log": ["need_by_month", "read_need_months"],
        "pays": ["CABLE_AWG", "CABLE_MM2", "cable_ohm", "cable_years", "payback", "pipe_bores_mm", "pipe_years"],
        "pedals": ["read_pedal_weeks", "year_of_riders"],
        "plus_minus": ["firm_over_year", "kwh_spread", "largest_steps", "single_years_words", "spread_words"],
        "price_list": ["read_prices"],
        "shaft": ["mean_and_share_above", "shaft_kwh_by_month"],
        "source": ["HOURS_A_YEAR", "MONTHS", "MONTH_HOURS", "SourceYear"],
        "switch_contacts": ["switch_contacts"],
        "switch_words": ["is_worth_it", "switch_words", "verdict_words"],
        "switching": ["gain_plus_minus_kwh", "switchings"],
        "verdict": ["year_verdict"],
        "water": ["read_water_months", "year_of_same_water", "year_of_water"],
        "weibull": ["LEAST_SHAPE", "MOST_MEAN_M_S", "MOST_SHAPE", "RAYLEIGH_SHAPE"],
        "wind": ["year_of_mean_wind", "year_of_monthly_winds"],
        "wind_log": ["read_wind_log", "year_of_wind_log"],
        "wind_rows": ["read_wind_hours", "read_wind_months"],
        "wind_table": ["year_of_wind_hours"],
        "wind_text": ["WIND_UNITS", "read_wind_text"],
    },
)
