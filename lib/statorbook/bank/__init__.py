"""The battery bank: its volts and its resistance."""
