"""The job folder: text files in, records out, and back again.

Everything about a column (header, unit, needed or not, range, explanation) is taken from the
records in ``model``; nothing here lists the fields of a record again.
"""
