"""The one-line diagram of a feeder: source, feeder OCPD, distribution unit, ways, control panels, heater panels, each with what it carries
and the fault current that it may see. A feeder with many panels goes on over as many sheets as it takes.

One line stands for all the lines of a circuit. Pillow is loaded when the first word is measured.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import lru_cache
from typing import NamedTuple

from batch.drawings.drawing_list import HEAD, MARGIN, NAME, TITLE, Drawing, Plan
from batch.drawings.lettering import wrap
from batch.drawings.one_line_legend import legend
from batch.drawings.one_line_words import (
    BOX,
    LEADING,
    PAD,
    WIDE,
    Fed,
    Load,
    available,
    end_words,
    fused,
    has_unit,
    kiloamps,
    length_words,
    loads_of,
    made_words,
    of_device,
    run_to,
    source_words,
    status_words,
    system_words,
)
from batch.drawings.schematic import Picture
from batch.drawings.symbols import shape
from batch.results import Device, Way
from batch.schedules.designations import PanelMarks
from batch.schedules.hanging import hangs_on
from batch.schedules.row_words import BAND, HOLD, ground_size, run_words

TALL = 1290  # of one sheet; a page's title and its way back stand above the drawing
BUS, BESIDE = 74, 120  # x of the supply and the bus, and of the words beside them
UNIT = (38, 356)  # left and right of the distribution unit
WAY_SWITCH, WAY_DEVICE = 142, 212
CONDUCTORS = 366  # the words of a way's conductors begin
PANEL_EDGE = (628, 1092)  # left and right of a control panel
PANEL_SWITCH, BACKUP, PANEL_BAR = 684, 770, 830  # its disconnect, its back-up contactor, and the bar behind them
IN_SWITCH = 792  # fuses of a disconnect that holds those of its only panel feeder
STEPS = (914, 1026)  # panel-feeder device, contactor
STAGE = 48  # of one apparatus between source and bus
WAY = 54  # above and below the loads of a way: its control panel's words, and room to the next
FOOTER = 104  # of the legend


class Piece(NamedTuple):
    """Loads of one way that stand on one sheet; `goes_on`: the way began on the sheet before."""

    way: Way
    loads: tuple[Load, ...]
    goes_on: bool

    @property
    def height(self) -> int:
        return sum(load.height for load in self.loads) + WAY


def plans(fed: Fed) -> tuple[Drawing, ...]:
    """The sheets of one feeder's diagram as drawing lists. Same feeder, same units: the same lists."""
    sheets = list(_paged(fed))
    return tuple(_sheet(fed, pieces, at, len(sheets)) for at, pieces in enumerate(sheets))


def draw_feeder(fed: Fed) -> tuple[Picture, ...]:
    """The pictures of one feeder's diagram."""
    from batch.drawings.raster import png

    drawings = plans(fed)
    alts = [alt_text(fed, at + 1, len(drawings)) for at in range(len(drawings))]
    return tuple(Picture(png(one), one.height, alt) for one, alt in zip(drawings, alts, strict=True))


def alt_text(fed: Fed, sheet: int, of: int) -> str:
    """What a sheet shows, in words for who cannot see it."""
    row, end = fed.row, fed.row.end
    ways = len(end.ways) if end is not None else 0
    where = f", part {sheet} of {of}" if of > 1 else ""
    into = f"{end.unit} of {ways} ways" if end is not None and end.unit else "one control panel"
    device = f"{row.device.rating_a:g} A {row.device.kind}" if row.device is not None else "no OCPD"
    return (
        f"One-line diagram of feeder {row.feeder.feeder}{where}: {system_words(fed)}, {device}, ending in {into}; "
        f"{row.panels} heater panels, {row.heaters} heaters, {row.connected_kw:.4g} kW."
    )


# --- sheets -----------------------------------------------------------------------------------------------------------------------


def _paged(fed: Fed) -> Iterator[list[Piece]]:
    """The ways, cut into sheets: a way that does not fit goes on on the next."""
    end = fed.row.end
    left, pieces = TALL - _head_height(fed) - FOOTER, list[Piece]()
    for way in end.ways if end is not None else ():
        loads, begun = loads_of(fed, way), False
        while True:
            fits, used = 0, WAY
            while fits < len(loads) and used + loads[fits].height <= left:
                used, fits = used + loads[fits].height, fits + 1
            if fits == 0 and pieces:
                yield pieces
                pieces, left = [], TALL - 2 * TITLE - 80 - FOOTER
                continue
            fits = max(fits, 1)  # a load that is taller than a sheet makes the sheet taller
            pieces.append(Piece(way, loads[:fits], begun))
            left -= pieces[-1].height
            loads, begun = loads[fits:], True
            if not loads:
                break
    yield pieces


class _Stage(NamedTuple):
    symbols: tuple[str, ...]
    words: tuple[str, ...]


def _stages(fed: Fed) -> list[_Stage]:
    """What stands between the source and the feeder's end, from the top."""
    row, end = fed.row, fed.row.end
    stages = [_Stage(("transformer",) if has_unit(fed) else ("arrow",), tuple(source_words(fed)))]
    drop = "" if row.drop_pct is None else f", drop {row.drop_pct:.2f} %"
    ground = "bonding jumper" if row.feeder.device_at_end else PanelMarks(fed.project.symbols).ground
    conductors = _Stage((), (f"Feeder conductors: {run_to(row.wires, row.feeder.run_m, fed.us, ground)}{drop}",))
    device = [] if row.device is None else [_device_stage(fed, row.device)]
    stages += [conductors, *device] if row.feeder.device_at_end else [*device, conductors]
    if end is not None:
        main = () if end.main_a is None or row.device is None or row.feeder.device_at_end else _apparatus(row.device)
        stages.append(_Stage(main, tuple(end_words(fed))))
    return stages


def _apparatus(device: Device) -> tuple[str, ...]:
    return ("disconnect", "fuse") if device.kind == "fuse" else ("breaker",)


def _device_stage(fed: Fed, device: Device) -> _Stage:
    """The feeder's OCPD, with the fault current where it stands."""
    row, used = fed.row, "" if fed.row.use_pct is None else f"; {fed.row.use_pct:.1f} % used"
    there_a = row.feeder.device_there_a
    small = there_a is not None and there_a < device.rating_a
    existing = "" if there_a is None else " needed" if small else " (existing)"
    where, at_end = "at the source", row.feeder.device_at_end
    if at_end:
        where = "at the feeder's end"
    main = (" at its end", ", main device of the distribution unit")[bool(row.end and row.end.unit)] if at_end else ""
    too_small = f"; the existing one of {there_a:g} A is too small" if small else ""
    words = f"Feeder OCPD{main}{existing}: {device.in_full}{too_small}{used}"
    alone = "; no OCPD stands ahead on the secondary" if at_end else ""
    return _Stage(_apparatus(device), (words, f"{available(row.device_fault_ka)} {where}{alone}"))


def _stage_lines(stage: _Stage) -> list[str]:
    return [line for words in stage.words for line in wrap(words, HEAD, WIDE - MARGIN - BESIDE)]


def _stage_height(stage: _Stage) -> int:
    return max(STAGE * len(stage.symbols), LEADING * len(_stage_lines(stage)) + 14)


def _title_lines(fed: Fed) -> list[str]:
    row = fed.row
    load = f"{row.connected_kw:.4g} kW, {row.lines.maximum:.1f} A on the fullest line"
    words = [f"{system_words(fed)}; {load}; {status_words(fed)}"]
    if status_words(fed) == HOLD:
        words.append(f"{BAND}: {hangs_on(fed.project, row.feeder.feeder, fed.banks).words or 'see Findings'}")
    else:
        words += [open_words for open_words in (hangs_on(fed.project, row.feeder.feeder, fed.banks).words,) if open_words]
    return [line for each in words for line in wrap(each, HEAD, WIDE - 2 * MARGIN)]


def _head_height(fed: Fed) -> int:
    return MARGIN + TITLE + 8 + 26 * len(_title_lines(fed)) + 14 + sum(map(_stage_height, _stages(fed))) + 18


def _sheet(fed: Fed, pieces: Sequence[Piece], at: int, of: int) -> Drawing:
    plan, end = Plan(standard=fed.project.symbols, wording=fed.project.wording), fed.row.end
    y = MARGIN + TITLE
    sheet = f", part {at + 1} of {of}" if of > 1 else ""
    tag = _cut(fed.row.feeder.feeder, WIDE // 3)
    plan.say(MARGIN, y, f"Feeder {tag}: one-line diagram{sheet}", TITLE)
    y += 8
    if at == 0:
        for line in _title_lines(fed):
            y += 26
            plan.say(MARGIN, y, line, HEAD)
        top = _supply(plan, fed, y + 14)
        y = top + 18
        plan.line((BUS, top), (BUS, y))
    else:
        y += 18
        plan.line((BUS, y), (BUS, y + 48), style="bar" if end is not None and end.unit else "wire")
        plan.say(BESIDE, y + 18, f"from part {at}: {_end_short(fed)}", HEAD)
        y += 48
    y = _ways(plan, fed, pieces, y=y, at=at, of=of)
    return plan.done(legend(plan, y + 18), WIDE)


def _end_short(fed: Fed) -> str:
    end = fed.row.end
    if end is None or not end.unit:
        return f"control panel of {end.ways[0].tank}" if end is not None else ""
    return "taps of the feeder" if end.unit == "taps" else f"bus of the {end.unit}, {kiloamps(end.fault_ka)}"


def _supply(plan: Plan, fed: Fed, y: int) -> int:
    """From the source down to the feeder's end; returns y of the bus's top."""
    for stage in _stages(fed):
        high = _stage_height(stage)
        top = y
        for place, kind in enumerate(stage.symbols):
            share = high // len(stage.symbols)
            middle = y + share // 2 + place * share
            reach = shape(kind).reach
            if kind == "arrow":
                plan.symbol(kind, BUS, middle, of="source")
                top = middle
                continue
            if kind != "transformer":
                plan.line((BUS, top), (BUS, middle - reach))
            plan.symbol(kind, BUS, middle, of="source" if kind == "transformer" else "feeder")
            top = middle + reach
        plan.line((BUS, top), (BUS, y + high))
        lines = _stage_lines(stage)
        first = y + (high - LEADING * len(lines)) // 2 + LEADING - 6
        for number, line in enumerate(lines):
            plan.say(BESIDE, first + number * LEADING, line, HEAD)
        y += high
    return y


def _ways(plan: Plan, fed: Fed, pieces: Sequence[Piece], *, y: int, at: int, of: int) -> int:
    """The ways of one sheet below each other, along the bus; returns the y below them."""
    end = fed.row.end
    several, top = bool(end and end.unit), y
    last = y
    for piece in pieces:
        last = _way(plan, fed, piece, y, several)
        y += piece.height
    bottom = y
    more = at + 1 < of
    style = "bar" if several else "wire"
    plan.line((BUS, top), (BUS, bottom + 8 if more and several else last), style=style)
    if several and end is not None and end.unit != "taps":
        plan.box(UNIT[0], top - 8, UNIT[1], bottom + 2, "edge")
    if more:
        plan.say(BESIDE, bottom + 26, f"goes on in part {at + 2}", HEAD)
        bottom += 24
    return bottom


def _way(plan: Plan, fed: Fed, piece: Piece, y: int, several: bool) -> int:
    """One way with its control panel and what hangs on it; returns y of its own line."""
    way, bar_top, bottom = piece.way, y + 30, y + piece.height - 14
    loads = [(load, top) for load, top in zip(piece.loads, _tops(piece, y + 30), strict=True)]
    line = loads[0][1] + loads[0][0].height // 2 if loads else y + 60
    words = f"Control panel of {way.tank}{', goes on' if piece.goes_on else ''}"
    fault = "" if way.fault_ka is None else f"; {kiloamps(way.fault_ka)}"  # that it is not known is said at the source
    power = f"{way.connected_kw:.4g} kW, {way.lines.maximum:.1f} A{fault}"
    plan.box(PANEL_EDGE[0], y + 2, PANEL_EDGE[1], bottom + 8, "edge")
    plan.say(PANEL_EDGE[0] + PAD, y + 24, _cut(f"{words}: {power}", PANEL_EDGE[1] - PANEL_EDGE[0] - 2 * PAD), NAME)
    if not piece.goes_on:
        _to_panel(plan, fed, way, line, several)
    lines = [top + load.height // 2 for load, top in loads]
    if lines:
        plan.line((PANEL_BAR, min(lines[0], bar_top) if piece.goes_on else lines[0]), (PANEL_BAR, lines[-1]), style="bar")
    for (load, _), middle in zip(loads, lines, strict=True):
        _draw_load(plan, load, middle, fused(fed, way))
    return line


@lru_cache(maxsize=4096)
def _cut(words: str, room: int) -> str:
    """One line of the words; what does not fit is cut and ends in dots: the sheets behind have it whole."""
    lines = wrap(words, NAME, room)
    return "".join(lines) if len(lines) < 2 else f"{wrap(words, NAME, room - 20)[0]} ..."


def _tops(piece: Piece, y: int) -> Iterator[int]:
    for load in piece.loads:
        yield y
        y += load.height


def _to_panel(plan: Plan, fed: Fed, way: Way, y: int, several: bool) -> None:
    """From the bus to the control panel: the way's device and conductors, or the feeder itself where it ends there."""
    _disconnect(plan, fed, way, y)
    into = PANEL_SWITCH - shape("disconnect").reach
    if not several:
        plan.line((BUS, y), (into, y))
        return
    device, taps = way.device, fed.row.end is not None and fed.row.end.unit == "taps"
    kinds = () if device is None else _apparatus(device)
    shift = CONDUCTORS - BUS if taps else 0  # the device of a tap stands at its end
    x = BUS
    for kind, middle in zip(kinds, (WAY_SWITCH + shift, WAY_DEVICE + shift), strict=False):
        reach = shape(kind).reach
        plan.line((x, y), (middle - reach, y))
        plan.symbol(kind, middle, y, level=True, of=way.tag)
        x = middle + reach
    plan.line((x, y), (into, y))
    room = UNIT[1] - BUS - 2 * PAD
    plan.say(BUS + 14 + shift, y - 22, _cut(way.tag, room), NAME)
    if device is not None:
        frame = f", frame {way.frame_a:g} A" if way.frame_a is not None and not taps else ""
        words = f"{device.rating_a:g} A {made_words(device)}{frame}"
        _below(plan, BUS + 14 + shift, y + 36, words=words, room=min(room, PANEL_EDGE[0] - BUS - shift), most=2)
    left, room = (BUS + 14, CONDUCTORS - BUS - 14 - PAD) if taps else (CONDUCTORS, PANEL_EDGE[0] - CONDUCTORS - PAD)
    if way.wires is None or not way.wires.required_size:
        plan.say(left, y - 10, "no conductor serves", NAME)
        return
    plan.say(left, y - 10, _cut(run_words(way.wires), room), NAME)
    ground = f"{PanelMarks(plan.standard).ground} {ground_size(way.wires)}"
    low = _below(plan, left, y + 26, words=f"{ground}, {length_words(way.run_m, fed.us)}", room=room, most=2)
    if way.drop_pct is not None:
        _below(plan, left, low, words=f"drop {way.drop_pct:.2f} %", room=room, most=1)


def _disconnect(plan: Plan, fed: Fed, way: Way, y: int) -> None:
    """The control panel's own disconnect of this supply, with the fuses of its only panel feeder right behind it where they stand in it;
    and the back-up contactor behind it, ahead of all others."""
    supply, reach = fed.supplies.get(way.tank.casefold()), shape("disconnect").reach
    plan.symbol("disconnect", PANEL_SWITCH, y, level=True, of=f"{way.tank}/HCP")
    x, place = PANEL_SWITCH + reach, BACKUP
    if fused(fed, way):
        for load in loads_of(fed, way):
            x, place = _apparatus_on(plan, "fuse", IN_SWITCH, y=y, x=x, of=load.tag, words=(load.device, *of_device(load))), STEPS[0]
    if supply is not None and supply.backup:
        named = supply.backup, f"{supply.backup_a:.4g} A"
        x = _apparatus_on(plan, "contactor", place, y=y, x=x, of=f"{way.tank}/HCP", words=named)
    plan.line((x, y), (max(x, PANEL_BAR), y))
    tag = fed.disconnects.get(way.tank.casefold(), "").rpartition("/")[2] or PanelMarks(plan.standard).disconnect("", 1).removeprefix("/")
    _middle(plan, PANEL_SWITCH, y - 24, tag)
    if supply is not None:
        below = y + 32
        _middle(plan, PANEL_SWITCH, below, f"{supply.disconnect_a:g} A")
        for words in (f"{supply.lines + 1}-pole" * supply.neutral_pole, "fusible" * supply.fusible):  # that of one panel feeder alone
            if words:
                below += LEADING
                _middle(plan, PANEL_SWITCH, below, words)


def _below(plan: Plan, x: int, y: int, *, words: str, room: int, most: int) -> int:
    """Words below a line, of at most so many lines; what is cut ends in dots. Returns the y of the next line."""
    lines = list(plan.wrapped(words, NAME, room))
    if len(lines) > most:
        lines = [*lines[: most - 1], _cut(" ".join(lines[most - 1 :]), room)]
    for number, line in enumerate(lines):
        plan.say(x, y + LEADING * number, line, NAME)
    return y + LEADING * len(lines)


def _draw_load(plan: Plan, load: Load, y: int, in_switch: bool) -> None:
    """One heater panel or single-circuit bank: device, unless its fuses stand `in_switch`, contactor, and its box with
    what it is."""
    design, x = load.design, PANEL_BAR
    if design.device_at_way:
        _middle(plan, STEPS[0], y - 24, "at its way")
    elif not in_switch:
        x = _apparatus_on(plan, design.panel_feeder_device.kind, STEPS[0], y=y, x=x, of=load.tag, words=(load.device, *of_device(load)))
    words = load.contactor, f"{design.contactor_a:.4g} A"
    x = _apparatus_on(plan, "contactor", STEPS[1], y=y, x=x, of=load.tag, words=words)
    plan.line((x, y), (BOX[0], y))
    lines = load.lines
    high = LEADING * len(lines) + PAD + 6
    plan.box(BOX[0], y - high // 2, BOX[1], y - high // 2 + high, "bar" if load.hold else "wire")
    for number, line in enumerate(lines):
        plan.say(BOX[0] + PAD, y - high // 2 + LEADING * (number + 1), line, NAME)


def _apparatus_on(plan: Plan, kind: str, middle: int, *, y: int, x: int, of: str, words: Sequence[str]) -> int:
    """An apparatus on a line that comes from `x`: its designation above, its words below; returns where it ends."""
    reach = shape(kind).reach
    plan.line((x, y), (middle - reach, y))
    plan.symbol(kind, middle, y, level=True, of=of)
    above, *below = words
    _middle(plan, middle, y - 24, above)
    for number, each in enumerate(below):
        _middle(plan, middle, y + 32 + LEADING * number, each)
    return middle + reach


def _middle(plan: Plan, x: int, y: int, words: str) -> None:
    plan.say(x, y, _cut(words, STEPS[1] - STEPS[0] - 12), NAME, "m")
