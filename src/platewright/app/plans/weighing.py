"""Presets: named weights of the aims, taken for one plan."""

from __future__ import annotations

from dataclasses import replace

from platewright.foundation.errors import InputError, InputErrors, nearest
from platewright.model.job import Aims, Job
from platewright.tables.presets import Preset, preset, preset_names


def aims_by(row: Preset, aims: Aims) -> Aims:
    """Return the weights of a preset; what wishes, whole zones and the cable entry are worth stays the job's."""
    return Aims(**row.weights, wish=aims.wish, zone=aims.zone, entry=aims.entry)


def weighed_by(job: Job, name: str) -> Job:
    """Return the job with the weights of a preset; what wishes and zones are worth stays."""
    row = preset(name)
    if row is None:
        names = preset_names()
        fault = InputError(
            file="command line", field="--preset", value=name, problem="is no preset",
            cure=f"{nearest(name, names)} There are: {', '.join(names)}",
        )  # fmt: skip
        raise InputErrors([fault])
    return replace(job, settings=replace(job.settings, aims=aims_by(row, job.settings.aims)))
