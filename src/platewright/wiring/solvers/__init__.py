"""Solvers of the wiring stage."""
