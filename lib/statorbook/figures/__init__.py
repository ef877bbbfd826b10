"""Figures: functions that draw on given axes and return them."""

import lazy_loader

__getattr__, __dir__, __all__ = lazy_loader.attach(
    __name__,
    submod_attrs={
        "charging_house": ["draw_house_day"],
        "coast_fit": ["draw_coast_fit"],
        "coil_bars": ["draw_coil_bars"],
        "diodes": ["draw_diodes"],
        "drive_curves": ["draw_drive_curves"],
        "first_run": ["draw_first_run"],
        "formulas": ["draw_currents", "draw_powers", "draw_six_pulse"],
        "jet_and_bucket": ["draw_jet_and_bucket"],
        "loss_chain": ["draw_loss_chain"],
        "nozzle_power": ["draw_nozzle_power"],
        "one_curve": ["draw_one_curve"],
        "protect_brake": ["draw_brake"],
        "protect_cable": ["draw_cable_distances", "draw_cable_sizes"],
        "protect_fuse": ["draw_break_times"],
        "protect_heat": ["draw_heat"],
        "protect_over_voltage": ["draw_over_voltage"],
        "protect_rectifier": ["draw_rectifier"],
        "protect_trade": ["draw_trade"],
        "shorted_fit": ["draw_shorted_fit"],
        "speed_curves": ["draw_speed_curves"],
        "spin_fit": ["draw_spin_fit"],
        "torque_crossings": ["draw_torque_crossings"],
        "year_bars": ["draw_year_bars"],
        "year_between": ["draw_between"],
        "year_hours": ["draw_year_hours"],
        "year_months": ["draw_year_months"],
        "year_need": ["draw_need"],
        "year_pays": ["draw_pays"],
        "year_power": ["draw_year_power"],
        "year_switching": ["draw_switching"],
    },
)
