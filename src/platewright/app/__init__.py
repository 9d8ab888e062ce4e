"""The only place where the stages meet: gather, think, apply."""
