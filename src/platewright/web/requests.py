"""What the page may send, checked against the same records the program works with."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import BaseModel, ConfigDict, Field

from platewright.app.beside.planning import How
from platewright.app.editing.edits import Edit

MOST_TAGS = 5_000
MOST_ROWS = 20_000
Cells = Annotated[
    dict[Annotated[str, Field(max_length=120)], Annotated[str, Field(max_length=2_000)]],
    Field(max_length=500),
]


class EditRequest(BaseModel):
    """One edit, and the page that asks for it."""

    model_config = ConfigDict(extra="forbid", allow_inf_nan=False)
    edit: Annotated[Edit, Field(discriminator="do")]
    client: Annotated[str, Field(max_length=64)] = ""


class StepRequest(BaseModel):
    """Undo, redo and the like: nothing but who asks."""

    model_config = ConfigDict(extra="forbid")
    client: Annotated[str, Field(max_length=64)] = ""


class CureRequest(BaseModel):
    """A finding by its number in the check of a revision."""

    model_config = ConfigDict(extra="forbid")
    revision: int
    number: Annotated[int, Field(ge=1)]
    client: Annotated[str, Field(max_length=64)] = ""


class PlanRequest(BaseModel):
    """Begin a plan."""

    model_config = ConfigDict(extra="forbid")
    how: How
    seed: Annotated[int, Field(ge=0, le=2**31)] = 1
    preset: Annotated[str, Field(max_length=64)] = ""
    client: Annotated[str, Field(max_length=64)] = ""


class TakeRequest(BaseModel):
    """Take a plan; ``name``: of a plate of the comparison."""

    model_config = ConfigDict(extra="forbid")
    name: Annotated[str, Field(max_length=64)] = ""
    client: Annotated[str, Field(max_length=64)] = ""


class ListRequest(BaseModel):
    """A whole list as cells, the headings first; ``hash`` of the list it was made from."""

    model_config = ConfigDict(extra="forbid")
    rows: Annotated[
        list[list[Annotated[str, Field(max_length=2_000)]]], Field(max_length=MOST_ROWS)
    ]
    hash: str
    label: Annotated[str, Field(max_length=120)] = ""
    client: Annotated[str, Field(max_length=64)] = ""


class RowCells(BaseModel):
    """A row of a list in the settings: which it was (0: new), and its changed cells."""

    model_config = ConfigDict(extra="forbid")
    was: Annotated[int, Field(ge=0, le=MOST_ROWS)]
    cells: Cells


class SettingsRequest(BaseModel):
    """Changed cells of ``job.toml`` and lists as they shall be, or the whole file as text."""

    model_config = ConfigDict(extra="forbid")
    hash: str
    cells: Cells = {}
    lists: Annotated[
        dict[str, Annotated[list[RowCells], Field(max_length=MOST_ROWS)]], Field(max_length=20)
    ] = {}
    text: Annotated[str | None, Field(max_length=1_000_000)] = None
    client: Annotated[str, Field(max_length=64)] = ""


class CornersRequest(BaseModel):
    """The plate's corners in a photo, in pixels: lower left, lower right, upper right, upper left."""

    model_config = ConfigDict(extra="forbid", allow_inf_nan=False)
    corners: Annotated[
        list[Annotated[list[float], Field(min_length=2, max_length=2)]],
        Field(min_length=4, max_length=4),
    ]


class KnownDistance(BaseModel):
    """A measured distance and its ends in the photo, in pixels."""

    model_config = ConfigDict(extra="forbid", allow_inf_nan=False)
    start: tuple[float, float]
    end: tuple[float, float]
    length: Annotated[float, Field(gt=0, le=20_000)]


class ChecksRequest(BaseModel):
    """What was marked in the photo beyond the corners."""

    model_config = ConfigDict(extra="forbid", allow_inf_nan=False)
    edges: dict[Literal["lower", "right", "upper", "left"], tuple[float, float]] = {}
    known: Annotated[list[KnownDistance], Field(max_length=50)] = []


class SeenRequest(BaseModel):
    """Where devices were seen on the plate (mm); to be taken over, or only kept to compare."""

    model_config = ConfigDict(extra="forbid", allow_inf_nan=False)
    seen: Annotated[dict[str, tuple[float, float]], Field(max_length=MOST_TAGS)]
    client: Annotated[str, Field(max_length=64)] = ""


class DragMessage(BaseModel):
    """Things in the hand, over the live channel."""

    model_config = ConfigDict(extra="forbid", allow_inf_nan=False)
    type: Literal["drag"]
    n: int
    heat: Literal["", "air", "surfaces"] = ""  # the view of heat that is to follow
    tags: Annotated[list[str], Field(min_length=1, max_length=MOST_TAGS)]
    at: Annotated[list[tuple[float, float]], Field(min_length=1, max_length=MOST_TAGS)]
