"""Solvers of the heat stage: the flow of air between plate and door."""
