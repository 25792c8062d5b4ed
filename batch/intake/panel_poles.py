"""Volts and phases of the rows of a panel's schedule by the poles of their circuits.

Three poles are three phases at the panel's volts between lines, two poles one phase between two lines, one pole one phase to neutral
(common practice of panel schedules; where the title gives no volts to neutral, one pole says no volts).
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from math import sqrt

from batch.intake.assignment import MOSTLY
from batch.intake.facts import Fact
from batch.intake.grid import worded
from batch.intake.heading_sense import EACH
from batch.intake.line_kinds import DATA, DOUBT, NOTE, Line
from batch.intake.panel_sides import OF_CIRCUITS
from batch.intake.plan import ListPlan
from batch.intake.supply_notation import SupplyFacts, supply_in_text
from batch.intake.survey import Region
from batch.intake.verdict import plain

POLES = re.compile(
    r"(?:no\.? of )?(?:ckt |breaker |bkr |brkr )?poles?(?: (?:no|nr|qty)\.?)?|p\.?|pol(?:e|zahl)|p[ôo]les?|polos|poli|polen|bieguny",
    re.IGNORECASE,
)
POLES_ALONE = re.compile(r"[123](?:\s*-?P(?:oles?)?)?", re.IGNORECASE)  # 3, 3P
OF_A_BREAKER = re.compile(  # 20/3P, 3P 20A
    r"\d{1,4}\s*A?\s*[/,-]?\s*([123])\s*-?\s*P(?:oles?)?|([123])\s*-?\s*P(?:oles?)?\s*[/,-]?\s*\d{1,4}\s*A?", re.IGNORECASE
)
ALL_CIRCUITS = re.compile(r"\ball (?:heater |branch )*circuits\b[^.;]*?\b(3|three)[- ]pole\b", re.IGNORECASE)
_LINE = r"(?:L[123]|[ABC]|[RST]|[UVW]|N|PE)"
LINES = re.compile(rf"{_LINE}(?:\s*[-–,/+. ]?\s*{_LINE})*", re.IGNORECASE)  # L1-L2-L3, A-B, L2-N
BREAKER_AND_POLES = re.compile(r"\b(?:bkr|brkr|breaker|cb|mcb|ocpd?|trip|amps?)\s*[/-]\s*p(?:oles?)?\b", re.IGNORECASE)
WITH_POLES = re.compile(r"\d{1,4}\s*A?\s*/\s*([123])")  # 30/3 under BKR/P
RATED = re.compile(r"(\d{1,4})\s*A?\s*/\s*[123]\s*P?(?:oles?)?", re.IGNORECASE)
ONE_HEATER = re.compile(r"\b(?:htr|heater)\b", re.IGNORECASE)
MORE_HEATERS = re.compile(r"\b(?:htrs|heaters|pair|both|two|three|four|\d{1,2}\s*[x×])\b", re.IGNORECASE)
A_BREAKER = re.compile(r"\W*(?:bkr|brkr|breaker|cb|mcb|ocpd|trip|fuse)\b", re.IGNORECASE)
MUCH_ABOVE = 2.5  # times what a circuit takes, for its breaker to be another load's: judgement, no source
MUCH_MORE = 1.1  # times the rating, for it not to be a rounding: judgement, no source
OTHER_NAME = 0.09  # of the volts: 460 and 440 are other names of a 480 V supply (common practice, no source), 208 is none of 230 V
KVA = re.compile(r"\bk?VA\b", re.IGNORECASE)
MOST_POLES = 3
ROUNDED_KVA = 0.06  # of the load of each pole: they are given to one decimal
NEAR_TITLE = 3  # rows above the headings in which a panel's title stands


def supply_by_poles(plan: ListPlan, region: Region, data: Sequence[int], around: Sequence[tuple[int, int, str]]) -> None:
    """Gives each row the supply of its poles, and takes back what a title said of all."""
    headings = [column.text.strip(" .#") for column in region.columns]
    if any(OF_CIRCUITS.fullmatch(text) for text in headings) and any(A_BREAKER.match(text) for text in headings):
        plan.why["circuits"] = "its headings are those of a panel's schedule"
    column, found = _poles(plan, region, data)
    said_of_all = any(ALL_CIRCUITS.search(text) for row, _, text in around if row < region.top)
    if (not found and not said_of_all) or "phases" in plan.columns:
        return
    panels = _panels(region, around)
    poles = found or dict.fromkeys(data, 3)
    if panels is None:
        plan.fixed.pop("phases", None)
        return
    given: dict[int, dict[str, object]] = {}
    for line, count in poles.items():
        over = [panel for row, panel in panels if row < line]
        if over:
            given[line + 1] = _of_poles(count, over[-1], "volts_v" not in plan.columns)
    plan.given_values = given
    plan.poles_at = column
    for key in ("volts_v", "phases"):
        plan.fixed.pop(key, None)
    plan.fixed_volts = plan.fixed_phases = None
    plan.why["poles"] = "the poles of each circuit and the supply of its panel"


def asked_by_panels(plan: ListPlan, region: Region, lines: Sequence[Line], around: Sequence[tuple[int, int, str]]) -> None:
    """A circuit at volts that its panel does not have, 480 V in one of 208Y/120: one of the two is wrong, or it is another panel's."""
    panels = _panels(region, around) if {"poles", "circuits"} & plan.why.keys() else None
    for line in lines if panels is not None else ():
        volts = line.figure("volts_v")
        over = [panel for row, panel in panels or () if row < line.index]
        if line.kind != DATA or volts is None or not over or over[-1].volts is None:
            continue
        named = {value for value in (over[-1].volts, over[-1].volts_to_neutral) if value is not None}
        to_neutral = over[-1].volts / sqrt(3.0)  # where the title names the volts between lines alone
        if not any(abs(volts - value) <= OTHER_NAME * value for value in (*named, to_neutral)):
            line.kind, line.at = DOUBT, line.facts["volts_v"].index
            line.why = f"{volts:g} V on a circuit of a panel of {'/'.join(f'{value:g}' for value in sorted(named))} V, which"


def asked_by_breakers(plan: ListPlan, region: Region, lines: Sequence[Line]) -> None:
    """A circuit whose heaters take more than its breaker's rating: one of the two is wrong (I = P / V, and P / (V root 3) on 3 phases)."""
    for column in region.columns if "poles" in plan.why else ():
        for line in lines:
            row = region.grid.rows[line.index]
            text = worded(row[column.index]).strip() if column.index < len(row) else ""
            rated = RATED.fullmatch(text)
            count, power, volts, phases = (line.figure(key) for key in ("quantity", "power_kw", "volts_v", "phases"))
            if line.kind != DATA or rated is None or not count or not power or not volts:
                continue
            each = line.facts["power_kw"].basis == EACH or line.facts["power_kw"].source == "description"
            power = count * power if each else power  # a panel's schedule gives the power of each circuit
            amps = 1000.0 * power / (volts * (sqrt(3.0) if phases == 3 else 1.0))
            if amps > MUCH_MORE * float(rated[1]):
                line.kind, line.at = DOUBT, column.index
                line.why = f'its {power:g} kW take {amps:.3g} A, more than the breaker of "{text}" carries, which'
    _asked_by_large_breakers(plan, region, lines)
    _asked_by_loads(plan, region, lines)


def _asked_by_loads(plan: ListPlan, region: Region, lines: Sequence[Line]) -> None:
    """A circuit whose kVA, those of its poles together, are not the kW of its heaters (a heater is resistive: 1 kVA is 1 kW)."""
    loads = [column.index for column in region.columns if KVA.search(column.text)] if {"poles", "circuits"} & plan.why.keys() else []
    told = {line.index: line.facts["description"].seen for line in lines if "description" in line.facts}
    circuits = sorted(row for row, text in told.items() if any(sign.isalnum() for sign in text))
    for line in lines if loads else ():
        count, power = line.figure("quantity"), line.figure("power_kw")
        own = line.facts.get("power_kw")
        if line.kind != DATA or not count or not power or own is None or own.index in loads:
            continue
        end = next((other for other in circuits if other > line.index), line.index + MOST_POLES)
        poles = range(line.index, min(end, line.index + MOST_POLES, len(region.grid.rows)))
        cells = [region.grid.rows[row][at] for row in poles for at in loads if at < len(region.grid.rows[row])]
        said = [float(cell) for cell in cells if isinstance(cell, (int, float)) and not isinstance(cell, bool)]
        kilowatts = count * power
        if said and abs(sum(said) - kilowatts) > max(ROUNDED_KVA * len(said), MUCH_MORE * kilowatts - kilowatts):
            line.kind, line.at = DOUBT, loads[0]
            line.why = f"its circuit has {sum(said):g} kVA, where its heaters take {kilowatts:g} kW, which"


def _asked_by_large_breakers(plan: ListPlan, region: Region, lines: Sequence[Line]) -> None:
    """A circuit of several heaters whose breaker is far above what its power takes, and right for that power in each of them."""
    rating = next((one.index for one in region.columns if A_BREAKER.match(one.text)), -1) if "poles" in plan.why else -1
    for line in lines if rating >= 0 else ():
        row = region.grid.rows[line.index]
        rated = plain(worded(row[rating])) if rating < len(row) else None
        count, power, volts, phases = (line.figure(key) for key in ("quantity", "power_kw", "volts_v", "phases"))
        power = power if power is not None else line.figure("total_kw")
        fact = line.facts.get("power_kw")
        if fact is not None and (fact.basis == EACH or fact.source == "description"):
            continue
        if line.kind != DATA or rated is None or not count or count < 2 or not power or not volts:
            continue
        amps = 1000.0 * power / (volts * (sqrt(3.0) if phases == 3 else 1.0))
        if rated > MUCH_ABOVE * amps and count * amps <= rated:
            line.kind, line.at = DOUBT, rating
            each = f"and a breaker of {rated:g} A is right for that power in each of the {count:g}"
            line.why = f"its {power:g} kW take {amps:.3g} A, {each}, which"


def lines_named(text: str) -> int:
    """How many lines the connection of a circuit names: three of "L1-L2-L3", two of "A-C", one of "L2-N"; 0 where it is no such text."""
    if LINES.fullmatch(text.strip()) is None:
        return 0
    named = [part.upper() for part in re.findall(_LINE, text, re.IGNORECASE)]
    live = {part for part in named if part not in ("N", "PE")}
    return len(live) if len(live) + ("N" in named) > 1 else 0


def _panels(region: Region, around: Sequence[tuple[int, int, str]]) -> list[tuple[int, SupplyFacts]] | None:
    """The supplies that stand over the table, as one, and over its further parts, by row; None where those over it differ."""
    told = [(row, said) for row, _, text in around if (said := supply_in_text(text)) is not None and said.volts is not None]
    told = [(row, said) for row, said in told if said.phases == 3 and not said.contradictions]
    over = [said for row, said in told if row < region.top]
    if len({said.volts for said in over}) > 1:
        over = [said for row, said in told if region.top - NEAR_TITLE <= row < region.top]
    if len({said.volts for said in over}) != 1 or len({said.volts_to_neutral for said in over} - {None}) > 1:
        return None
    first = max(over, key=lambda said: said.volts_to_neutral or 0.0)
    return [(region.top, first), *((row, said) for row, said in told if row >= region.start)]


def _of_poles(poles: int, panel: SupplyFacts, volts_too: bool) -> dict[str, object]:
    found: dict[str, object] = {"phases": 3 if poles == 3 else 1}
    volts = panel.volts if poles > 1 else panel.volts_to_neutral
    return found | ({"volts_v": volts} if volts_too and volts is not None else {})


def _poles(plan: ListPlan, region: Region, data: Sequence[int]) -> tuple[int, dict[int, int]]:
    """Poles by row, and the column: of 1, 2 and 3, or of breakers written as 20/3P; none where there is no such column."""
    used = {index for key, column in plan.columns.items() if key != "amps_a" for index in column.indexes()}
    for column in region.columns:
        cells = {
            line: worded(region.grid.rows[line][column.index]).strip() for line in data if column.index < len(region.grid.rows[line])
        }
        said = {line: text for line, text in cells.items() if text and text not in ("-", "–")}
        if column.index in used or not said:
            continue
        counted = {line: int(text[0]) for line, text in said.items() if POLES_ALONE.fullmatch(text)}
        if POLES.fullmatch(column.text.strip()) and len(counted) >= MOSTLY * len(said):  # a unit may stand there beside a total
            return column.index, counted
        lines = {line: count for line, text in said.items() if (count := lines_named(text))}
        if len(lines) >= MOSTLY * len(said) and any(count > 1 for count in lines.values()):
            return column.index, lines
        if BREAKER_AND_POLES.search(column.text):
            breakers = {line: match for line, text in said.items() if (match := WITH_POLES.fullmatch(text))}
            if len(breakers) >= MOSTLY * sum(any(sign.isdigit() for sign in text) for text in said.values()) and breakers:
                return column.index, {line: int(match[1]) for line, match in breakers.items()}
        breakers = {line: match for line, text in said.items() if (match := OF_A_BREAKER.fullmatch(text))}
        if len(breakers) >= MOSTLY * len(said):
            return column.index, {line: int(match[1] or match[2]) for line, match in breakers.items()}
    return -1, {}


def pole_of_another(line: Line, plan: ListPlan) -> bool:
    """In a panel's schedule, a mark that repeats the description of a circuit with several poles, and no poles of its own."""
    told = line.facts.get("description")
    if "poles" not in plan.why or told is None or told.source != "above" or line.index + 1 in plan.given_values:
        return False
    if any(key in line.facts and not line.facts[key].source for key in ("power_kw", "total_kw", "quantity")):
        return False
    line.kind, line.why = NOTE, "a pole of the circuit above"
    return True


def one_on_a_circuit(line: Line, plan: ListPlan) -> None:
    """A circuit of a panel's schedule whose description says heater, and not heaters, and no number: one."""
    told, phases = line.facts.get("description"), plan.columns.get("phases")
    scheduled = {"poles", "circuits"} & plan.why.keys() or (phases is not None and POLES.fullmatch(phases.heading) is not None)
    if not scheduled or "quantity" in plan.columns or "quantity" in line.facts or told is None or told.source:
        return
    if ONE_HEATER.search(told.seen) and not MORE_HEATERS.search(told.seen):
        line.facts["quantity"] = Fact(1, told.index, told.seen, source="description")
