"""Compiled inner loops of the flow: arrays in, arrays out, each with its plain twin."""
