"""Fuel, gas and draught."""
