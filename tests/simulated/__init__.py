"""Vehicles of the invented world with a known truth, and listings of them in words."""
