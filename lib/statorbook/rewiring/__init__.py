"""The plan of cuts and joins, its steps, and the circuit coil by coil."""
