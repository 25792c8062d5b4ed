"""A picture of each panel type, drawn from its design: panel feeder, block, branches, heaters, grounds, limit string, by name and rating.

The names are those of `batch.schedules.wiring_list`; the symbols are those that the
project's rule set asks for. Pillow is loaded when the first picture is drawn.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from functools import lru_cache, partial
from operator import eq
from types import MappingProxyType
from typing import NamedTuple

from batch.drawings.branches import draw_branches
from batch.drawings.drawing_list import Drawing, Plan
from batch.drawings.kept_drawings import recalled
from batch.drawings.limit_string import draw_loop, draw_notes
from batch.drawings.panel_feeder import columns_of, draw_feed
from batch.drawings.raster import png
from batch.drawings.symbol_legend import legend_alone, symbols_of
from batch.drawings.symbols import IEC
from batch.errors import SpecificationError
from batch.results import PanelDesign, TypeRow
from batch.rules import OURS, Wording

IN_HOLDERS: Mapping[str, str] = MappingProxyType({})


class Picture(NamedTuple):
    """A PNG of 200 dots to the inch, its height in pixels, what it shows in words for who cannot see it, and the symbols on it."""

    png: bytes
    height_px: int
    alt: str
    symbols: frozenset[str] = frozenset()


def plan(panel: PanelDesign, name: str, us: bool, standard: str = IEC, wording: Wording = OURS, *, ahead: str = "") -> Drawing:
    """The drawing list of a panel type, before it is turned into a picture. `us`: torques in lbf·in; `standard`: its set of symbols;
    `ahead`: the words of the panel feeder's device where its fuses stand in no holder."""
    if panel.branches < panel.heaters:
        raise SpecificationError(f"{name}: a bank without a panel has no schematic; draw only the types of a project")
    sheet = Plan(standard=standard, wording=wording)
    columns = columns_of(panel)
    block = draw_feed(sheet, panel, name, columns, ahead)
    below = draw_branches(sheet, panel, columns, block)
    below = draw_loop(sheet, panel, below + 34)
    return sheet.done(draw_notes(sheet, panel, us, below + 22))


def draw(panel: PanelDesign, name: str, us: bool, standard: str = IEC, wording: Wording = OURS, *, ahead: str = "") -> Picture:
    """The schematic of one panel type. Same design, name, units and symbols: the same bytes."""
    drawing = plan(panel, name, us, standard, wording, ahead=ahead)
    return Picture(_made(drawing), drawing.height, alt_text(panel, name), symbols_of(drawing))


def draw_legend(pictures: Iterable[Picture], standard: str, wide: int, wording: Wording = OURS) -> Picture:
    """The legend of all of them, once."""
    symbols = frozenset[str]().union(*(picture.symbols for picture in pictures))
    drawing = legend_alone(symbols, standard, wide, wording)
    words = "; ".join(one.text for one in drawing.words)
    return Picture(_made(drawing), drawing.height, f"Legend of the symbols, {standard}: {words}.", symbols)


def draw_all(
    types: Sequence[TypeRow], us: bool, standard: str = IEC, wording: Wording = OURS, project: str = "", *,
    ahead: Mapping[str, str] = IN_HOLDERS,
) -> dict[str, Picture]:  # fmt: skip
    """The pictures of a project's panel types by type name, each drawn once; `ahead` are the words of their panel feeders' devices."""
    pictures: dict[str, Picture] = {}
    for row in types:
        if row.type not in pictures:
            words = ahead.get(row.type, "")
            picture = partial(draw, row.design, row.type, us, standard, wording, ahead=words)
            pictures[row.type] = recalled((project, row.type, us, standard), (row.design, wording, words), eq, picture)
    return pictures


@lru_cache(maxsize=256)
def _made(drawing: Drawing) -> bytes:
    """Equal drawings, of two projects perhaps, share one picture."""
    return png(drawing)


def alt_text(panel: PanelDesign, name: str) -> str:
    """What the picture shows, in two sentences."""
    device, feed = panel.branch.device, panel.panel_feeder_device
    heaters = "1 heater" if panel.heaters == 1 else f"{panel.heaters} heaters"
    branches = "1 branch" if panel.branches == 1 else f"{panel.branches} branches"
    return (
        f"Schematic of panel type {name}: from a {panel.volts_v:g} V supply ({panel.system.words}) in the control panel through "
        f"a {feed.rating_a:g} A panel feeder {feed.kind}, a contactor and a power distribution block "
        f"to {branches} of {device.rating_a:g} A "
        f"({device.kind}, {device.poles}-pole) and {heaters}, {panel.connection}. "
        + (f"Below, the limit string in series over {panel.limit_terminals} terminals." if panel.limit_terminals else "No limit string.")
    )
