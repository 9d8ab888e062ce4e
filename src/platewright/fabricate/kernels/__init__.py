"""Compiled inner loops: arrays in, arrays out, each with its plain twin (``.py_func``)."""
