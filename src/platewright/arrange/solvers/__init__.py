"""Solvers of the arrangement stage."""
