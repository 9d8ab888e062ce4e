"""A small job that plans in a moment: a few devices on rails, wired in a chain."""

from __future__ import annotations

from pathlib import Path

JOB = """
practice = "iec"
{head}
[job]
title = "Pump box"
[enclosure]
width_mm = {width}
height_mm = {height}
depth_mm = 210
door_inside_mm = {door}
[plate]
width_mm = {plate_width}
height_mm = {plate_height}
thickness_mm = 2.0
[stock]
ducts = [{{name = "25x60", width_mm = 25, height_mm = 60}}]
{tail}
"""
LIST = """\
name,width_mm,height_mm,depth_mm,door_inside_mm,plate_width_mm,plate_height_mm,fixing_inset_mm,price
flat,400,500,120,60,340,440,15,50
tiny,200,250,210,185,140,190,15,60
narrow,300,700,210,185,240,640,15,90
usual,500,600,210,185,440,540,15,120
roomy,600,600,210,185,540,540,15,100
hall,800,2000,400,378,700,1900,25,900
"""


def write_job(
    folder: Path, *, plate: tuple[int, int] = (440, 540), head: str = "", tail: str = "",
    breakers: int = 6, door: int = 185,
) -> Path:  # fmt: skip
    """Write the job: breakers, contactors and terminals."""
    folder.mkdir(exist_ok=True)
    text = JOB.format(
        width=plate[0] + 60, height=plate[1] + 60, plate_width=plate[0], plate_height=plate[1],
        head=head, tail=tail, door=door,
    )  # fmt: skip
    (folder / "job.toml").write_text(text, encoding="utf-8")
    devices, wires = ["tag,part"], ["number,from,to,size"]
    for k in range(1, breakers + 1):
        devices += [f"-F{k},typ-breaker-3p", f"-Q{k},typ-contactor-12a"]
        wires += [f"{2 * k - 1},-F{k}:2,-Q{k}:1,2.5 mm2"]
    devices.append("-X1,typ-terminals-10x2.5mm2")
    (folder / "devices.csv").write_text("\n".join(devices) + "\n", encoding="utf-8")
    (folder / "wires.csv").write_text("\n".join(wires) + "\n", encoding="utf-8")
    return folder


def write_list(folder: Path, text: str = LIST) -> Path:
    """Write the list of enclosures beside the job."""
    path = folder / "enclosures.csv"
    path.write_text(text, encoding="utf-8")
    return path
