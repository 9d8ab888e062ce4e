"""Platewright: from a parts list to a control-panel plate you can drill."""

__version__ = "0.1.0"
