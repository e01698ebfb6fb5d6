"""Kilns: their size, their walls and their firing."""
