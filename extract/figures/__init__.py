"""Figures on a sheet and what they are figures of: labels, heads and temperatures bound to quantities."""
