"""Waveforms of a winding at work: the same amps as the sweep, for star and delta, behind cable and bank resistance."""

import numpy as np
import pytest

from samples.machine_samples import BANK, windings
from statorbook.operation.speed_sweep import Conditions, sweep, winding_waveforms

AT_WORK = Conditions(cable_ohm=0.02)
SPEED = 800.0


@pytest.mark.parametrize("state", BANK.states, ids=lambda state: state.name)
def test_waveforms_carry_the_amps_of_the_sweep(state):
    made = windings()
    swept = sweep(made, np.array([SPEED]), state, AT_WORK, method="exact")
    for winding, dc_amps, lead_amps in zip(made, swept.dc_amps[:, 0], swept.phase_amps_rms[:, 0], strict=True):
        waves = winding_waveforms(winding, SPEED, state, AT_WORK, points=3601)
        assert np.trapezoid(waves.dc_amps, waves.angle_deg) / 360.0 == pytest.approx(dc_amps, rel=1e-4, abs=1e-9)
        rms = np.sqrt(np.trapezoid(waves.phase_amps[:, 0] ** 2, waves.angle_deg) / 360.0)
        assert rms == pytest.approx(lead_amps, rel=1e-4, abs=1e-9)
        # The bank's volts stand a diode drop inside each rail: two drops below the highest line volts.
        if dc_amps > 0.0:
            assert waves.line_volts.max() >= state.volts + 2.0 * AT_WORK.diode_drop_v - 1e-9


def test_open_leads_show_the_emf():
    # √2 × line rms: peak of a sinusoid.
    winding = windings()[0]
    waves = winding_waveforms(winding, SPEED, BANK.states[0], AT_WORK, points=3601)
    peak = 2.0**0.5 * winding.line_volts_rms(SPEED, AT_WORK.magnet_c)
    assert waves.line_emf_volts.max() == pytest.approx(peak, rel=1e-5)
