"""Tanks that are stages of machines, "Wash" and "Rinse" of washer 1 and of washer 2: their tag is the machine's and the stage's."""

from __future__ import annotations

import re
from collections.abc import Sequence

from msgspec.structs import replace

from batch.intake.grid import worded
from batch.intake.heading_sense import machine_in
from batch.intake.line_kinds import DATA, DOUBT, HIDDEN, Line
from batch.intake.list_words import is_heater, other_equipment
from batch.intake.plan import JOIN, ColumnPart, ColumnPlan, ListPlan
from batch.intake.survey import Region
from batch.intake.tank_words import tank_named

STAGE = re.compile(
    r"\b(?:stages?|sumps?|zones?|compartments?|sections?|steps?|position|stufen?|zonen?|kammern?|[ée]tapes?|etapas?|fas[ei]s?|stadi[oa]|vasca|stap"
    r"|etap\w*|strefa|komora|trin|steg|kammer|kammare|stupe[nň]|p[aá]smo)\b",
    re.IGNORECASE,
)
MACHINE = re.compile(
    r"\b(?:machines?|washers?|lines?|units?|systems?|equipment|cabinets?|anlagen?|maschinen?|linien?|lignes?|l[ií]neas?|m[áa]quinas?|linee?|macchin[ae]"
    r"|lijn|maszyn\w*|linia|linha|maskin\w*|anl[æe]g\w*|anl[äa]ggning\w*|linje\w*|stroj\w*|linka|za[rř][ií]zen[ií])\b",
    re.IGNORECASE,
)
LEAST_ROWS = 2
LONGEST_BANNER = 5  # words of a banner that is a machine's name: judgement, no source
WHY = "the column beside it tells rows apart that it names alike"


def stages_of_machines(plan: ListPlan, region: Region, data: Sequence[int]) -> None:
    """Where the tanks' column repeats itself and another one tells the rows apart, or no column has tanks: machine and stage together."""
    tank = plan.columns.get("tank")
    used = {index for key, column in plan.columns.items() if key != "tank" for index in column.indexes()}
    texts = {column.index: _texts(region, data, column.index) for column in region.columns if column.index not in used}
    headings = {column.index: column.text for column in region.columns}
    full = {at: some for at, some in texts.items() if len(some) == len(data) >= LEAST_ROWS and not any(text.isdecimal() for text in some)}
    if tank is not None and (tank.index not in full or tank.parts or any(sign.isdigit() for sign in "".join(full[tank.index]))):
        return
    stages = [tank.index] if tank is not None else [at for at in full if STAGE.search(headings[at])]
    for stage in stages:
        for machine in full:
            pairs = set(zip(full[machine], full[stage], strict=True))
            repeats = len(set(full[stage])) < len(data) and len(set(full[machine])) < len(data)
            if machine != stage and MACHINE.search(headings[machine]) and repeats and len(pairs) == len(data):
                parts = (ColumnPart(machine), ColumnPart(stage))
                heading = f"{headings[machine]} + {headings[stage]}"
                plan.columns["tank"] = ColumnPlan("tank", machine, heading, sure="likely", why=WHY, parts=parts, how=JOIN, between=" ")
                return


def _texts(region: Region, data: Sequence[int], at: int) -> list[str]:
    rows = [region.grid.rows[line] for line in data]
    return [text for row in rows if at < len(row) and isinstance(row[at], str) and (text := worded(row[at]).strip())]


def stages_under_banners(lines: Sequence[Line], title: str) -> None:
    """The same names below several machines' names: each row's tank bears that of its machine too. `title`: what stands over the table."""
    for line in lines:
        line.banner = line.banner or title
    heated = [line for line in lines if line.kind in (DATA, DOUBT, HIDDEN) and line.value("tank") is not None]
    under: dict[str, set[str]] = {}
    for line in heated:
        under.setdefault(worded(line.value("tank")).strip().casefold(), set()).add(line.banner)
    machines = {banner for line in heated if (banner := line.banner)}
    repeated = any(len(banners) > 1 for banners in under.values())
    if not repeated or len(machines) < LEAST_ROWS or not all(_of_a_machine(banner) for banner in machines):
        return
    if any(sign.isdigit() for line in heated for sign in worded(line.value("tank"))) and not _stages_numbered(heated):
        return
    for line in heated:
        tank = line.facts["tank"]
        if line.banner and not tank.source:
            line.facts["tank"] = replace(tank, value=f"{line.banner} {worded(tank.value)}")


def _of_a_machine(banner: str) -> bool:
    """Is a banner the name of a machine or a line: a few words, and none of a supply, of heaters or of other equipment?"""
    few = len(banner.split()) <= LONGEST_BANNER
    return few and not is_heater(banner) and not (other_equipment(banner) or machine_in(banner)) and not tank_named(banner).by_word


def _stages_numbered(lines: Sequence[Line]) -> bool:
    """ "Rinse 1", "Rinse 2" are names with a number, where T-1 and 104 are tags."""
    return all(re.fullmatch(r"[^\W\d_]{3,}(?:[ -][^\W\d_]+)*(?: \d)?", worded(line.value("tank")).strip()) for line in lines)
