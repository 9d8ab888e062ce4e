"""A job folder made to harm whoever opens it: markup, formulas and odd characters as names."""

from __future__ import annotations

from pathlib import Path

SCRIPT = "<script>window.harmed=1</script>"
IMAGE = '"><img src=x onerror=window.harmed=1>'
TAG = "-<svg/onload=window.harmed=1>"

JOB = """
format = 1
[job]
title = '''{script}'''
number = '''{image}'''
owner = '''=cmd|calc'''
[enclosure]
width_mm = 600
height_mm = 600
depth_mm = 250
door_inside_mm = 220
[plate]
width_mm = 500
height_mm = 500
thickness_mm = 2
keep_outs = [{{x_mm = 10, y_mm = 10, width_mm = 20, height_mm = 20, reason = '''{script}'''}}]
[[groups]]
name = "M"
title = '''{image}'''
[stock]
[[stock.ducts]]
name = '''{script}'''
width_mm = 40
height_mm = 60
"""
PARTS = """part,description,kind,width_mm,height_mm,depth_mm,mount,screw,hole_pattern_width_mm,hole_pattern_height_mm,terminals_top,source
"{script}","{quoted}",{script},40,80,60,screws,M5,30,70,1 2,"{quoted}"
"""
DEVICES = """tag,part,function,group
{tag},"{script}","{quoted}",M
-B2,"{script}","{{\\C1;}} javascript:window.harmed=1",M
"""
WIRES = """number,from,to,size,colour,group
"{script}",{tag}:1,-B2:2,1.5 mm2,"{quoted}",M
"""
LAYOUT = """
format = 1
[devices]
"{tag}" = {{x_mm = 100, y_mm = 300}}
[ducts]
"{script}" = {{x_mm = 50, y_mm = 200, length_mm = 300, width_mm = 40, height_mm = 60, run = "across", stock = "{script}"}}
[holes]
"{tag}h" = {{x_mm = 120, y_mm = 320, kind = "tapped", size = "M5", drill_mm = 4.2, holds = "{tag}"}}
"""


def hostile_job(folder: Path) -> Path:
    """Write the folder."""
    folder.mkdir()
    words = {"script": SCRIPT, "image": IMAGE, "tag": TAG, "quoted": IMAGE.replace('"', '""')}
    for name, text in (
        ("job.toml", JOB), ("parts.csv", PARTS), ("devices.csv", DEVICES), ("wires.csv", WIRES),
        ("layout.toml", LAYOUT),
    ):  # fmt: skip
        (folder / name).write_text(text.format(**words), encoding="utf-8")
    return folder
