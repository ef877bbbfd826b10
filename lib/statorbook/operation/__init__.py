"""A winding with a drive and a bank: sweep, operating point, start, hazards."""
