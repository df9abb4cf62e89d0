"""Bench sums: film, coverage, dew point, mixing, grit, viscosity and units. Pure functions, no Qt, no SQL."""
