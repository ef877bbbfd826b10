"""Six diodes into a stiff bank, sound or with faults: circuit, exact solver, chart, waveforms."""

import lazy_loader

__getattr__, __dir__, __all__ = lazy_loader.attach(
    __name__,
    submod_attrs={
        "derivations": [
            "best_ratios",
            "commutation_drop",
            "delta_as_star",
            "lossless_current",
            "resistive_gaps",
            "resistive_overlap",
            "scaling",
            "shorted_current",
            "six_pulse_mean",
        ],
        "diode_amps": ["DiodeAmps", "diode_amps"],
        "faulted": ["faulted_bridge"],
        "faults": ["BridgeFault"],
        "rectifier": ["bridge"],
        "waveforms": ["LEADS", "bridge_waveforms"],
    },
)
