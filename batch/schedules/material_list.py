"""Materials: what to buy and who bears it, bill by bill; runs of wire and raceway are on Runs."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import NamedTuple

from batch.material_lines import PER_CENT, RACEWAY
from batch.results import JobResult, Material, ProjectResult
from batch.schedules.hanging import held_owner
from batch.schedules.money_columns import PRICE, STATUS, hours_due, looked_up, price_line
from batch.schedules.row_words import HELD, band_words
from batch.schedules.schedule import SEE, Schedule, calculated, given, grouped, its_project, ordinal, selected, text
from batch.schedules.ways import TO_PART, place, way
from batch.sizing.allowances import SPARES
from batch.sizing.materials import single_circuits


class MaterialLine(NamedTuple):
    """A line. `hold`: the band, where it is for what is not released for fabrication; `owner`, `build`: numbers on Prices and Builds;
    `asked`: the job says something of money; `rates`: the number of the project's on Pricing used.
    """

    project: ProjectResult
    line: Material
    hold: str
    owner: int | None
    build: int | None
    asked: bool
    rates: int


def material_lines(result: JobResult) -> Iterator[MaterialLine]:
    """Of lines in a row that are on hold for one reason the first says it."""
    said = ""
    for line in _lines(result):
        yield line._replace(hold=HELD) if line.hold and line.hold == said else line
        said = line.hold


def _lines(result: JobResult) -> Iterator[MaterialLine]:
    builds = {(build.project, build.name): build.number for build in result.money.builds}
    numbers = {rates.project: rates.number for rates in result.money.rates}
    for project in result.projects:
        name = project.project.project
        holds = {kind.type: band_words(kind.hold) for kind in project.types}
        holds |= _of_control_panels(project)
        holds |= {single.name: band_words(single.hold) for single in single_circuits(project.banks)}
        of_owner = held_owner(project)
        lines = [(line, holds.get(line.used_for, "") or of_owner(line.owner)) for line in project.materials if line.stretch is None]
        spares = _spares_on_hold(lines)
        for line, own in lines:
            build = builds.get((name, line.used_for)) if line.owner.kind == "build" else None
            owner = result.money.owners.get((name, *line.owner))
            hold = spares.get(_piece(line), "") if line.used_for == SPARES else own
            yield MaterialLine(project, line, hold, owner, build, result.money.asked, numbers.get(name, 0))


def _spares_on_hold(lines: Iterable[tuple[Material, str]]) -> dict[str, str]:
    """Why spares of a fuse, which the project bears, are not to be bought: all that it stands in is on hold."""
    holds: dict[str, list[str]] = {}
    for line, hold in lines:
        if line.used_for != SPARES and line.role.endswith("fuse"):
            holds.setdefault(_piece(line), []).append(hold)
    return {piece: said[0] for piece, said in holds.items() if all(said)}


def _piece(line: Material) -> str:
    """One stock part is one fuse, whatever circuit it protects."""
    return line.part or line.words


def _of_control_panels(project: ProjectResult) -> dict[str, str]:
    """Why control panels of a kind are on hold, by the name of the kind."""
    said: dict[str, list[str]] = {}
    for control in project.controls:
        if control.hold is not None:
            said.setdefault(control.type, []).append(control.hold.message)
    return {name: band_words(" ".join(dict.fromkeys(messages))) for name, messages in said.items()}


THEIRS = f'<runs.owner_no>,[owner_no],<runs.role>,"{RACEWAY}",<runs.supplied>,""'
PRICED = '<runs.price>,">-1000000000000"'  # every figure
RACEWAY_PRICE = f'IF(([sort]<>"{PER_CENT}")+(COUNTIFS({THEIRS})>COUNTIFS({THEIRS},{PRICED}))>0,"",SUMIFS(<runs.price>,{THEIRS}))'
OR_PER_CENT = f'IF([sort]="{PER_CENT}",IF(([raceway_price]="")+([supplied]<>"")>0,"",[quantity]*[raceway_price]/100),{PRICE})'

TO_BEARER = f'HYPERLINK(IF([build_no]="",{place("prices.number", "owner_no")},{place("builds.build_no", "build_no")}),"{SEE}")'


def _raceway_price(at: MaterialLine) -> float | None:
    return at.line.unit_price if at.line.sort == PER_CENT else None


MATERIALS = Schedule(
    "materials", "Materials", "line",
    "What to buy, bill by bill: panel types, single circuits and control panels (one, how many), feeders, heaters, allowances, other costs. An open line is in no total.",
    items=material_lines, named_by="words",
    columns=(
        its_project("project.project.project"),
        text("used_for", "Used for", 16, "line.used_for",
             role="result", help="Panel type, single circuit, kind of control panel, boxes (rail, duct, end stops and markers of all together), feeders, distribution, heaters, limit strings, allowances, spares, other costs or labour."),
        text("tank", "Tank", 10, "line.owner.tank", help="Tank that bears it; blank: see Builds, the feeder, or the project."),
        text("role", "What", 20, "line.role",
             role="result", help="What the part does."),
        text("part", "Stock part", 14, "line.part",
             role="input", help="The part of the Stock sheet; blank where none was chosen."),
        text("words", "Description", 43, "line.words",
             role="result", help="Rating and kind in words."),
        *grouped("In one",
            calculated("each", "In one", "of unit", "number", lambda at: at.line.each if at.line.unit != "m" else None if at.line.amount is None else at.line.amount / at.line.builds,
                       width=9, help="Quantity in one panel, single circuit or control panel; else the whole quantity."),
            calculated("builds", "How many", "ea", "count", "line.builds",
                       width=8, help="Panels, single circuits or control panels that are built so."),
        ),
        selected("quantity", "Quantity", "of unit", "number", "line.amount",
                 formula='IF([each]="","",[each]*[builds])', help="How many, or how much of the unit that the price is for; blank where that is not known."),
        *grouped("Whose",
            text("bank", "Bank", 8, lambda at: at.line.owner.name if at.line.owner.kind == "bank" else "", help="Bank that bears it."),
            text("feeder", "Feeder", 9, lambda at: at.line.owner.name if at.line.owner.kind == "feeder" else "", help="Feeder that bears it."),
            ordinal("owner_no", "Owner", "no.", "owner", width=8, help="Its line on Prices; blank: borne by the banks and tanks that have the build, see Builds."),
            ordinal("build_no", "Build", "no.", "build", width=8, help="Its number on Builds: a bill for one."),
            text("sort", "Sort", 10, "line.sort",
                 help="part, activity (hours alone), other cost, labour, or per cent (of the price of its owner's raceway)."),
            text("supplied", "Supplied by", 11, "line.supplied",
                 help="customer or others, where it is not ours to buy; with the heater, where it comes with one."),
            *hours_due(),
        ),
        text("unit", "Unit", 6, "line.buy_unit",
             help="ea, h, ft or m."),
        *grouped("Price line",
            *price_line(),
            calculated("raceway_price", "Price of raceway", "currency", "money", _raceway_price, formula=RACEWAY_PRICE,
                       help="Of a line of so many per cent: what the raceway of its owner on Runs costs; blank where any of it has no price."),
            calculated("price_one", "Price of one", "currency", "money", lambda at: None if at.line.price is None else at.line.price / at.line.builds,
                       formula='IF([price]="","",[price]/[builds])', help="Of one panel, single circuit or control panel."),
            calculated("hours_one", "Hours of one", "h", "hours", lambda at: None if at.line.hours is None else at.line.hours / at.line.builds,
                       formula='IF([hours]="","",[hours]/[builds])', help="Of one panel, single circuit or control panel."),
        ),
        *looked_up("stock.unit_price"),
        calculated("price", "Price", "currency", "money", "line.price",
                   total="sum", formula=OR_PER_CENT,
                   help="Quantity times unit price, in the project's currency, or so many per cent of the price of raceway; blank where something of it is."),
        given("hours_each", "Hours each", "h", "hours", "line.hours_each",
              becomes="stock.labour_h", help="From the Stock sheet, for Per of the unit."),
        calculated("hours", "Hours", "h", "hours", "line.hours",
                   total="sum", formula='IF(([hours_each]="")+([quantity]="")>0,"",[quantity]*[hours_each]/[per])', help="Quantity times hours each."),
        text("priced", "Status", 12, "line.status",
             role="result", formula=STATUS, also=("Priced",), help="priced; open: no price or no hours, in no total of them; customer supplies, by others, with the heater: not ours to buy."),
        text("hold", "On hold", 22, "hold",
             role="result", help="What it is for is not released for fabrication: do not buy it before that is put right. Why stands on the first of its lines."),
        text("why", "Why open", 34, "line.why_open", on_paper=False,
             role="result", help="Why the line was open when it was sized; blank: priced, or the Stock sheet has no price for it. Not printed."),
        way("to_part", "Its part", "its part on Buy list", TO_PART, there=lambda at: at.line.item),
        way("to_bearer", "Borne by", "its row of Prices; of a bill for one, to the first of the builds that have it", TO_BEARER, there=lambda at: at.build or at.owner),
    ),
)
