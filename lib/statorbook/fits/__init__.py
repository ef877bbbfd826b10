"""From readings to constants with their ±; readings that do not belong; whether the models hold."""
