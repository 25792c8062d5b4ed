"""Schematics: what is drawn is what is wired. The drawing list is traced, conductor by conductor, and compared with the wiring list."""

from __future__ import annotations

import re
import struct
import subprocess
import sys
import zlib
from collections.abc import Iterator
from itertools import combinations
from pathlib import Path
from xml.etree import ElementTree

import pytest
from msgspec.structs import replace

import batch
from batch.drawings import schematic
from batch.drawings.branches import DRAWN, shown_branches
from batch.drawings.drawing_list import DOTS_PER_INCH, MARGIN, NAME, WIDTH, Drawing, Words
from batch.drawings.lettering import plain, width, wrap
from batch.drawings.symbols import IEC, POLE_PITCH, SHAPES, US, shape
from batch.drawings.us_symbols import US_SHAPES
from batch.drawings.vector import svg
from batch.errors import SpecificationError
from batch.findings import Remarks
from batch.records import Design, Part, Project, Supply
from batch.results import PanelDesign, TypeRow
from batch.rules import load
from batch.schedules.designations import US_SYMBOLS, PanelMarks
from batch.schedules.wiring_list import Join, panel_wiring
from batch.sizing.design import size_design
from batch.sizing.grounded_line import with_grounded_line
from batch.sizing.settings import resolve_settings
from batch.sizing.stock import Stock
from batch.systems import System

SAMPLES = Path(__file__).resolve().parents[1] / "sample_jobs"
RULES = load("NEC 2023")
WYE_3, WYE_4 = Supply(480.0, 3, System.WYE_GROUNDED), Supply(480.0, 4, System.WYE_GROUNDED)
DELTA_240 = Supply(240.0, 3, System.DELTA)


def sized(quantity: int, power_kw: float, volts_v: float, phases: int, supply: Supply, stock: Stock | None = None, **more) -> PanelDesign:
    """The first panel of a bank sized for real under NEC 2023."""
    settings = resolve_settings(Project(project="INVENTED"), RULES, Remarks()).settings
    design = Design(quantity, power_kw, volts_v, phases, supply, settings, **more)
    return size_design(design, RULES, stock or Stock()).panels[0]


def cornered(*given, start: int = 0, **more) -> PanelDesign:
    """The same on a corner-grounded delta, B grounded, from a start on."""
    settings = resolve_settings(Project(project="INVENTED"), RULES, Remarks()).settings
    supply = Supply(480.0, 3, System.CORNER_GROUNDED_DELTA, "B")
    made = size_design(Design(*given, supply, settings, **more), RULES)
    return with_grounded_line(made, supply, [start] * len(made.panels)).panels[0]


def invented() -> dict[str, PanelDesign]:
    one_phase, three_wire = Supply(240.0, 2, System.LINE_TO_LINE), Supply(240.0, 3, System.THREE_WIRE)
    return {
        "delta": sized(6, 6.0, 480.0, 1, WYE_3),
        "delta with breakers, no limits": sized(8, 6.0, 480.0, 1, Supply(480.0, 3, System.DELTA), device_kind="breaker", limits=False),
        "delta of four": sized(4, 6.0, 480.0, 1, WYE_3),
        "3-phase parallel": sized(8, 18.0, 480.0, 3, WYE_3),
        "3-phase breakers": sized(3, 18.0, 480.0, 3, WYE_3, device_kind="breaker"),
        "wye to neutral": sized(9, 4.0, 277.0, 1, WYE_4),
        "wye to neutral, breakers": sized(8, 4.0, 277.0, 1, WYE_4, device_kind="breaker"),
        "separate 3-heater wyes": sized(6, 4.0, 277.0, 1, WYE_3),
        "joined star": sized(6, 4.0, 277.0, 1, WYE_3, connection="common-point wye"),
        "one phase pair": sized(4, 6.0, 480.0, 1, WYE_3, connection="parallel"),
        "one leg": sized(4, 4.0, 277.0, 1, WYE_4, connection="parallel"),
        "1-phase": sized(7, 3.0, 240.0, 1, one_phase),
        "1-phase 3-wire": sized(6, 2.0, 120.0, 1, three_wire),
        "1-phase line to neutral": sized(5, 4.0, 277.0, 1, Supply(277.0, 2, System.LINE_TO_NEUTRAL)),
        "two circuits a heater": sized(2, 54.0, 480.0, 3, WYE_3),
        "one heater of two circuits": sized(1, 20.0, 240.0, 1, one_phase),
        "two circuits of a delta": sized(3, 30.0, 480.0, 1, WYE_3),
        "twenty": sized(20, 2.0, 480.0, 3, WYE_3, branches_per_panel=20),
        "forty-two in stars": sized(42, 1.0, 277.0, 1, WYE_3, branches_per_panel=42),
        "nine": sized(9, 3.0, 480.0, 3, WYE_3, branches_per_panel=9),
        "one heater of ten circuits": sized(1, 60.0, 480.0, 3, WYE_3, circuits_per_heater=10, branches_per_panel=10),
        "corner-grounded delta": cornered(7, 6.0, 480.0, 1),
        "corner-grounded delta, breakers": cornered(7, 6.0, 480.0, 1, start=1, device_kind="breaker"),
        "corner-grounded, 3-phase": cornered(4, 18.0, 480.0, 3, start=2),
        "corner-grounded, separate wyes": cornered(6, 4.0, 277.0, 1, device_kind="breaker"),
        "parallel sets": sized(4, 33.0, 480.0, 3, WYE_3, heater_run_m=400.0, panel_feeder_run_m=400.0),
    }


INVENTED = invented()


def types_of(name: str) -> list[TypeRow]:
    return [row for project in batch.check(SAMPLES / name).projects for row in project.types]


@pytest.fixture(scope="module")
def every_type() -> dict[str, PanelDesign]:
    """Every distinct panel of the sample jobs, and the invented ones."""
    found = {f"invented {name}": panel for name, panel in INVENTED.items()}
    for sample in ("small-clean.xlsx", "whole-plant.xlsx", "every-finding.xlsx"):
        for row in types_of(sample):
            found.setdefault(f"{sample} {row.type} {hash(row.design)}", row.design)
    return found


# --- tracing the drawing list -----------------------------------------------------------------------------------------------------


class Nets:
    """Points of a drawing that one conductor joins, by union."""

    def __init__(self) -> None:
        self.up: dict[object, object] = {}

    def of(self, point: object) -> object:
        self.up.setdefault(point, point)
        while self.up[point] != point:
            point = self.up[point]
        return point

    def join(self, one: object, other: object) -> None:
        self.up[self.of(one)] = self.of(other)


def trace(drawing: Drawing) -> dict[str, object]:
    """The net of every name: drawn lines joined end to end and at junctions, never where they cross; devices and elements open."""
    nets, wires = Nets(), [line for line in drawing.lines if line.style in ("wire", "bar")]
    for line in wires:
        nets.join((line.x1, line.y1), (line.x2, line.y2))
    named: dict[str, tuple[int, int]] = {}
    poles: set[str] = set()
    for symbol in drawing.symbols:
        x, y, reach = symbol.x, symbol.y, shape(symbol.kind).reach
        if symbol.kind == "junction":
            for line in wires:
                if min(line.x1, line.x2) <= x <= max(line.x1, line.x2) and min(line.y1, line.y2) <= y <= max(line.y1, line.y2):
                    nets.join((x, y), (line.x1, line.y1))
            if symbol.of.endswith("sheath"):
                named[symbol.of] = (x, y)
        elif symbol.kind == "terminal":
            for ring in ((x - reach, y), (x + reach, y), (x, y - reach), (x, y + reach)):
                nets.join((x, y), ring)
        elif symbol.level and reach and symbol.kind not in ("element", "element 3~"):
            [name] = [words.text for words in drawing.words if words.at == (x - reach, y)]  # as printed beside it
            assert name == symbol.of
            ends = (" line side", " load side") if re.match(r"FU|CB|-F1\d\d\.[1-3]", name) else (":1", ":2")
            named |= {f"{name}{ends[0]}": (x - reach, y), f"{name}{ends[1]}": (x + reach, y)}
            poles.add(name)
    for words in drawing.words:
        if words.at is not None and words.text not in poles:
            strip = PanelMarks(drawing.standard).limit_strip
            name = f"{strip}{words.text}" if words.text[0] == ":" else words.text
            assert name not in named, f"{name} stands twice"
            named[name] = words.at
    return {name: nets.of(point) for name, point in named.items()}


def spoken(end: str) -> str:
    """A name of the wiring list as it stands in the picture."""
    return re.sub(r"^(contactor |wye point |(PDB1|-X0):)", "", end).replace(" and terminal box", "")


def wired(panel: PanelDesign, symbols: str = US_SYMBOLS) -> Iterator[tuple[str, str]]:
    joins: Iterator[Join] = panel_wiring(panel, PanelMarks(symbols))
    for join in joins:
        yield spoken(join.start), spoken(join.end)


def groups(net_of: dict[str, object]) -> set[frozenset[str]]:
    found: dict[object, set[str]] = {}
    for name, net in net_of.items():
        found.setdefault(net, set()).add(name)
    return {frozenset(names) for names in found.values()}


@pytest.mark.parametrize("name", [name for name, panel in INVENTED.items() if panel.branches <= DRAWN])
def test_drawn_as_wired(name: str) -> None:
    """The picture joins exactly what the wiring list joins, under the same names: no more, no less, none missing."""
    panel = INVENTED[name]
    for symbols in (US_SYMBOLS, "IEC 60617"):
        nets = Nets()
        for start, end in wired(panel, symbols):
            nets.join(start, end)
        listed = {name: nets.of(name) for name in list(nets.up)}
        assert groups(trace(schematic.plan(panel, "Type 01", True, symbols))) == groups(listed), symbols


@pytest.mark.parametrize("name", [name for name, panel in INVENTED.items() if panel.branches > DRAWN])
def test_drawn_as_wired_as_far_as_drawn(name: str) -> None:
    """Of more branches than are drawn, those drawn are joined as wired, and the others are said by number."""
    panel, nets = INVENTED[name], Nets()
    drawing = schematic.plan(panel, "Type 01", True, US_SYMBOLS)
    net_of = trace(drawing)
    for start, end in wired(panel):
        nets.join(start, end)
    listed = {name: nets.of(name) for name in list(nets.up)}
    assert set(net_of) < set(listed)
    loop = {name for name in net_of if name[:3] in ("TB3", "OTL")}
    drawn = {name: net for name, net in listed.items() if name in net_of and name not in loop}
    assert groups({name: net for name, net in net_of.items() if name not in loop}) == groups(drawn)
    text = " ".join(words.text for words in drawing.words)
    count = shown_branches(panel)
    assert f"{count + 1} to {panel.branches} alike" in text or f"Branch {panel.branches} alike" in text
    assert f"{panel.branches} in all" in text
    last = PanelMarks().device(panel.branch.device.kind, panel.branches)
    assert f"TB3:{panel.limit_terminals}" in net_of and last in text and f"HTR+{panel.heaters}" in text


def test_every_sample_type_is_drawn_as_wired(every_type: dict[str, PanelDesign]) -> None:
    for what, panel in every_type.items():
        if panel.branches <= DRAWN:
            nets = Nets()
            for start, end in wired(panel):
                nets.join(start, end)
            listed = {name: nets.of(name) for name in list(nets.up)}
            assert groups(trace(schematic.plan(panel, "Type 01", True, US_SYMBOLS))) == groups(listed), what


def test_tracing_sees_a_lost_junction() -> None:
    """The comparison above can fail: one junction less, and the picture no longer agrees."""
    drawing = schematic.plan(INVENTED["delta"], "Type 01", True, US_SYMBOLS)
    whole = groups(trace(drawing))
    lost = next(symbol for symbol in drawing.symbols if symbol.kind == "junction" and symbol.of == "L2")
    assert groups(trace(drawing._replace(symbols=tuple(symbol for symbol in drawing.symbols if symbol != lost)))) != whole


# --- counts and ratings -----------------------------------------------------------------------------------------------------------


def test_counts_equal_the_data(every_type: dict[str, PanelDesign]) -> None:
    for what, panel in every_type.items():
        drawing = schematic.plan(panel, "Type 01", True, US_SYMBOLS)
        shown, each = shown_branches(panel), panel.branches // panel.heaters
        kinds = [symbol.kind for symbol in drawing.symbols]
        devices = {symbol.of for symbol in drawing.symbols if symbol.of[:2] in ("FU", "CB")}
        assert shown == panel.branches or panel.branches > DRAWN, what
        alone = panel.branch.device.kind == "fuse" or panel.branch.device.poles == 1  # no pole of it in a grounded line
        poles = [part for leg in panel.legs[:shown] for part in leg.split("-") if part[0] == "L" and not (alone and part == panel.grounded)]
        assert len(devices) == len(poles), what
        assert panel.grounded or len(poles) == shown * panel.branch.device.poles, what
        assert {symbol.kind for symbol in drawing.symbols if symbol.of in devices} == {panel.branch.device.kind}, what
        assert kinds.count("element") + kinds.count("element 3~") == shown, what
        heaters = {words.text for words in drawing.words if re.fullmatch(r"HTR\+\d+", words.text)}
        assert len(heaters) == -(-shown // each), what
        through = bool(panel.grounded) and panel.panel_feeder_device.kind == "fuse"
        assert kinds.count("contactor") == panel.panel_feeder_device.poles + through and "disconnect" not in kinds, what
        kind = panel.panel_feeder_device.kind
        feed = [symbol for symbol in drawing.symbols if symbol.of.startswith("panel feeder ") and symbol.kind == kind]
        assert len(feed) == panel.panel_feeder_device.poles, what
        if shown == panel.branches:
            loop = [symbol for symbol in drawing.symbols if re.fullmatch(r"TB3:\d+", symbol.of)]
            assert len(loop) == panel.limit_terminals, what
            assert kinds.count("over_temperature_limit") == (panel.heaters if panel.limit_terminals else 0), what


def test_ratings_and_wires_are_in_words(every_type: dict[str, PanelDesign]) -> None:
    for what, panel in every_type.items():
        drawing = schematic.plan(panel, "Type 07", True, US_SYMBOLS)
        text = " ".join(words.text for words in drawing.words)
        branch, feed = panel.branch.device, panel.panel_feeder_device
        assert text.count(f"{branch.rating_a:g} A") >= shown_branches(panel), what
        for part in (branch.in_full, feed.in_full, panel.block, panel.contactor, panel.connection):
            assert plain(part) in plain(text), (what, part)
        for wires in (panel.panel_feeder_wires, panel.branch.wires):
            assert (wires.size in text and f"EGC {wires.ground}" in text) if wires.required_size else "none serves" in text, what
        assert f"{panel.connected_kw / panel.heaters:.4g} kW" in text and US_SYMBOLS in text and text.startswith("Type 07"), what


def test_no_wire_and_no_part_are_said() -> None:
    panel = INVENTED["delta"]
    wires = replace(panel.panel_feeder_wires, size="none serves", ground="none serves", required_size="")
    panel = replace(panel, panel_feeder_wires=wires, contactor="", branch=replace(panel.branch, wires=replace(wires, lines=2)))
    text = " ".join(words.text for words in schematic.plan(panel, "Type 01", True, US_SYMBOLS).words)
    assert "Contactor: none serves: see Findings" in text and "Panel feeder conductors: none serves: see Findings" in text


def test_torques_in_the_units_asked_for() -> None:
    """35 lbf·in is 3.95 N·m (1 lbf·in = 0.112985 N·m, NIST SP 811 Appendix B, from memory)."""
    panel = replace(INVENTED["delta"], torque_nm=3.954466, branch=replace(INVENTED["delta"].branch, torque_nm=3.954466))
    us, si = (" ".join(words.text for words in schematic.plan(panel, "Type 01", unit).words) for unit in (True, False))
    assert "panel feeder on the block 35 lbf·in, branches 35 lbf·in" in us and "N·m" not in us
    assert "panel feeder on the block 4.0 N·m, branches 4.0 N·m" in si and "lbf" not in si


def test_nothing_is_printed_as_a_rating_that_no_part_states() -> None:
    """Short-circuit rating and torque are those of marked parts; else there is room for the builder's."""
    bare = replace(INVENTED["delta"], torque_nm=None, sccr_ka=10.0, sccr_marked=False)
    text = " ".join(words.text for words in schematic.plan(bare, "Type 01", True, US_SYMBOLS).words)
    assert "SCCR ____ kA, builder to mark" in text and "10 kA" not in text.replace("200 kA", "")
    assert "panel feeder on the block as marked ____" in text
    marked = replace(bare, sccr_marked=True)
    drawing = schematic.plan(marked, "Type 01", True, US_SYMBOLS)
    assert "Short-circuit rating 10 kA by marked parts" in " ".join(words.text for words in drawing.words)


# --- readable on paper ------------------------------------------------------------------------------------------------------------


def box(words: Words) -> tuple[int, int, int, int]:
    """Left, top, right, bottom of the words' capitals; descenders may touch."""
    long = width(words.text, words.size)
    back = {"l": 0, "m": long // 2, "r": long}[words.anchor]
    high = round(0.72 * words.size)
    if words.turned:
        return words.x - high, words.y - long + back, words.x, words.y + back
    return words.x - back, words.y - high, words.x - back + long, words.y


@pytest.mark.parametrize("code", ["NEC 2023", "IEC 60364"])
def test_nothing_overlaps_and_nothing_is_cut_off(every_type: dict[str, PanelDesign], code: str) -> None:
    """In the words and symbols of either code."""
    rules = load(code)
    symbols = rules.symbols
    for what, panel in every_type.items():
        drawing = schematic.plan(panel, "Type 120", True, symbols, rules.wording)
        boxes = [(words, box(words)) for words in drawing.words]
        for words, (left, top, right, bottom) in boxes:
            assert left >= MARGIN - 2 and right <= WIDTH - 6 and top >= 0 and bottom <= drawing.height - 6, (what, words)
            assert words.size >= NAME, (what, words)
            for line in drawing.lines:
                level = line.y1 == line.y2
                x1, x2, y1, y2 = min(line.x1, line.x2), max(line.x1, line.x2), min(line.y1, line.y2), max(line.y1, line.y2)
                crossed = left < x2 and right > x1 and top <= y1 <= bottom + 1 if level else top < y2 and bottom > y1 and left < x1 < right
                assert not crossed, (what, words, line)
        for (one, a), (other, b) in combinations(boxes, 2):
            assert a[2] <= b[0] or b[2] <= a[0] or a[3] <= b[1] or b[3] <= a[1], (what, one, other)


def test_size_on_paper(every_type: dict[str, PanelDesign]) -> None:
    """Half a Letter page across (ANSI/ASME Y14.1, size A: 8.5 x 11 in), and never taller than the page less its margins."""
    for what, panel in every_type.items():
        drawing = schematic.plan(panel, "Type 01", True, US_SYMBOLS)
        assert drawing.width / DOTS_PER_INCH <= 8.5 / 2 and drawing.height / DOTS_PER_INCH <= 11 - 1, (what, drawing.height)


def test_long_part_names_are_wrapped_not_cut() -> None:
    name = "CONTACTOR-OF-THE-INVENTED-STOCK-LIST-WITH-A-NAME-THAT-IS-LONGER-THAN-ONE-LINE-TAKES"
    panel = replace(INVENTED["delta"], contactor=f"{name} {name} {name} {name} {name}, 60 A, 3-pole")
    drawing = schematic.plan(panel, "Type 01", True, US_SYMBOLS)
    text = "".join(words.text for words in drawing.words)
    assert text.count(name) == 5
    assert all(box(words)[2] <= WIDTH - 6 for words in drawing.words)


def test_signs_that_the_type_lacks() -> None:
    """Accents are dropped, what is left is a question mark, and the picture says so."""
    stock = Stock([Part("SCHÜTZ-Ω90", "contactor", rating_a=90.0, poles=3, volts_v=600.0, wires_per_terminal=2)])
    panel = sized(6, 6.0, 480.0, 1, WYE_3, stock)
    drawing = schematic.plan(panel, "Type 01", True, US_SYMBOLS)
    assert "SCHÜTZ" in panel.contactor and any("stand as plain letters or ?" in words.text for words in drawing.words)
    assert plain("SCHÜTZ-Ω90\n") == "SCHUTZ-Ω90\n".replace("Ω", "?").replace("\n", "?")
    assert schematic.draw(panel, "Type 01", True, US_SYMBOLS).png


def test_wrapping_keeps_every_sign_and_the_unit_with_its_number() -> None:
    text = "from 600 V to 200 kA and 12 AWG " * 4
    lines = list(wrap(text, NAME, 130))
    assert " ".join(lines).split() == text.split()
    assert all(width(line, NAME) <= 130 for line in lines)
    assert not any(re.match(r"(V|kA|AWG)\b", line) for line in lines)
    assert list(wrap("wires of 3 x 12 AWG copper", NAME, width("wires of 3 x 12", NAME))) == ["wires of", "3 x 12 AWG", "copper"]
    assert "".join(wrap("X" * 99, NAME, 60)) == "X" * 99


# --- the picture ------------------------------------------------------------------------------------------------------------------


def chunks(png: bytes) -> dict[bytes, bytes]:
    """The chunks of a PNG (ISO/IEC 15948, clause 5: length, type, data, CRC), with their checksums proved."""
    assert png[:8] == b"\x89PNG\r\n\x1a\n"
    found, at = {}, 8
    while at < len(png):
        long, kind = struct.unpack(">I4s", png[at : at + 8])
        data = png[at + 8 : at + 8 + long]
        assert struct.unpack(">I", png[at + 8 + long : at + 12 + long])[0] == zlib.crc32(kind + data)
        found[kind] = found.get(kind, b"") + data
        at += 12 + long
    return found


def test_png() -> None:
    """Sizes as said, 200 dots to the inch, and nothing else in it: no clock, no program, no words."""
    picture = schematic.draw(INVENTED["delta"], "Type 01", True, US_SYMBOLS)
    parts = chunks(picture.png)
    across, down, bits, colour = struct.unpack(">IIBB", parts[b"IHDR"][:10])
    assert (across, down, bits, colour) == (WIDTH, picture.height_px, 2, 3)
    assert struct.unpack(">IIB", parts[b"pHYs"]) == (round(200 / 0.0254), round(200 / 0.0254), 1)
    assert set(parts) == {b"IHDR", b"PLTE", b"IDAT", b"IEND", b"pHYs"}
    rows = zlib.decompress(parts[b"IDAT"])
    assert len(rows) == down * (1 + -(-across * bits // 8))


def test_ink_is_where_the_list_says() -> None:
    """Every drawn-through line is black in the picture along its whole length, and the margin is white."""
    from PIL import Image

    panel = INVENTED["wye to neutral"]
    drawing = schematic.plan(panel, "Type 01", True, US_SYMBOLS)
    from io import BytesIO

    page = Image.open(BytesIO(schematic.draw(panel, "Type 01", True, US_SYMBOLS).png)).convert("L")
    assert page.size == (drawing.width, drawing.height)
    hidden = {(symbol.x, symbol.y) for symbol in drawing.symbols if symbol.kind == "terminal"}
    for line in drawing.lines:
        if line.style in ("wire", "bar"):
            for at in range(max(abs(line.x2 - line.x1), abs(line.y2 - line.y1)) + 1):
                x = line.x1 + (at if line.x2 > line.x1 else -at if line.x2 < line.x1 else 0)
                y = line.y1 + (at if line.y2 > line.y1 else -at if line.y2 < line.y1 else 0)
                near = any(abs(x - a) <= 5 and abs(y - b) <= 5 for a, b in hidden)
                assert near or page.getpixel((x, y)) == 0, (line, x, y)
    assert all(page.getpixel((x, y)) == 255 for x in (0, drawing.width - 1) for y in range(drawing.height))


def test_same_bytes_each_time_and_in_a_new_process() -> None:
    code = (
        "import hashlib, sys; sys.path.insert(0, sys.argv[1]); import batch; from batch.drawings import schematic;"
        "types = batch.check(sys.argv[2]).projects[0].types;"
        "print(hashlib.sha256(b''.join(schematic.draw_all(types, True)[row.type].png for row in types)).hexdigest())"
    )
    root = SAMPLES.parent
    runs = {
        subprocess.run(
            [sys.executable, "-c", code, str(root), str(SAMPLES / "small-clean.xlsx")],
            capture_output=True,
            text=True,
            check=True,
            cwd=root,
            env={"PYTHONHASHSEED": seed, "PATH": ""},
        ).stdout
        for seed in ("1", "2")
    }
    assert len(runs) == 1 and len(runs.pop().strip()) == 64


def test_every_type_of_the_samples_draws(every_type: dict[str, PanelDesign]) -> None:
    for what, panel in every_type.items():
        picture = schematic.draw(panel, "Type 01", True, US_SYMBOLS)
        assert struct.unpack(">I", chunks(picture.png)[b"IHDR"][:4]) == (WIDTH,), what


def test_a_direct_bank_is_refused() -> None:
    settings = resolve_settings(Project(project="INVENTED"), RULES, Remarks()).settings
    direct = size_design(Design(2, 6.0, 480.0, 1, WYE_3, settings), RULES).single_circuit
    with pytest.raises(SpecificationError, match="no schematic"):
        schematic.draw(direct, "T-1/1 direct", True)


def test_draw_all_draws_each_type_once() -> None:
    types = types_of("small-clean.xlsx")
    pictures = schematic.draw_all([*types, *types], True)
    assert list(pictures) == [row.type for row in types]
    assert len({picture.png for picture in pictures.values()}) == len(types)
    again = schematic.draw(types[0].design, types[0].type, True)
    assert again.png is pictures[types[0].type].png  # an equal drawing is shared


def test_alt_text_says_what_is_shown(every_type: dict[str, PanelDesign]) -> None:
    for what, panel in every_type.items():
        alt = schematic.draw(panel, "Type 09", True).alt
        assert "Type 09" in alt and f"{panel.branches} branch" in alt and f"{panel.heaters} heater" in alt, what
        assert f"{panel.branch.device.rating_a:g} A" in alt and panel.connection in alt, what
        assert not any("stand as plain letters" in words.text for words in schematic.plan(panel, "Type 09", True).words), what
        assert alt.count(". ") == 1 and alt.endswith(".") and len(alt) < 420, (what, alt)


def test_pillow_is_loaded_by_the_first_picture_only() -> None:
    code = (
        "import sys; sys.path.insert(0, sys.argv[1]); from batch.drawings import schematic; assert 'PIL' not in sys.modules;"
        "schematic.draw_all([], True); assert 'PIL' not in sys.modules"
    )
    subprocess.run([sys.executable, "-c", code, str(SAMPLES.parent)], check=True, cwd=SAMPLES.parent)


def test_symbols_meet_their_conductors() -> None:
    """Every symbol with two ends has ink at both, where its conductors begin; an unknown symbol is refused by name."""
    assert SHAPES.keys() == US_SHAPES.keys()
    for forms in (SHAPES, US_SHAPES):
        for kind, form in forms.items():
            assert form.reach == SHAPES[kind].reach, kind  # so that a drawing is laid out once for both
            if form.reach and kind != "terminal":
                points = [point for stroke in form.strokes for point in stroke]
                assert min(x for x, _ in points) == -form.reach and max(x for x, _ in points) == form.reach, kind
        assert max(y for stroke in forms["element 3~"].strokes for _, y in stroke) > 2 * POLE_PITCH
    with pytest.raises(SpecificationError, match="propeller"):
        shape("propeller")


def test_svg_holds_every_line_and_word_of_the_drawing() -> None:
    """The vector picture is well formed, whatever a name holds; each line is a stroke and each text stands once, at its place."""
    panel = invented()["delta"]
    for standard in (IEC, US):
        drawing = schematic.plan(panel, "Type <&> \x07", True, standard)
        text = svg(drawing)
        tree = ElementTree.fromstring(text)
        assert tree.get("viewBox") == f"0 0 {drawing.width} {drawing.height}" and text == svg(drawing)
        words = [(element.text, element.get("x"), element.get("y")) for element in tree.iter("{http://www.w3.org/2000/svg}text")]
        assert words == [("".join(sign if sign.isprintable() else " " for sign in w.text), str(w.x), str(w.y)) for w in drawing.words]
        drawn = " ".join(element.get("d", "") for element in tree.iter("{http://www.w3.org/2000/svg}path"))
        assert all(f"M{line.x1} {line.y1}L{line.x2} {line.y2}" in drawn for line in drawing.lines)
        assert any(standard in words.text for words in drawing.words)
    assert svg(schematic.plan(panel, "Type 01", True, IEC)) != svg(schematic.plan(panel, "Type 01", True, US))
