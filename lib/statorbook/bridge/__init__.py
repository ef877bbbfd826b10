"""Six diodes into a stiff bank: circuit, exact solver, chart, waveforms."""
