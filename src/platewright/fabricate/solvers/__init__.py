"""Solvers of the fabrication stage."""
