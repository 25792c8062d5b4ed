"""Runs: every stretch of wire and raceway, from where to where, as long as it is bought."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from batch.material_lines import BANK, FEEDER, METRES
from batch.results import JobResult, Material, ProjectResult
from batch.schedules.hanging import held_owner
from batch.schedules.money_columns import PRICE, STATUS, hours_due, looked_up, price_line
from batch.schedules.schedule import SEE, Schedule, calculated, given, grouped, its_project, ordinal, selected, text
from batch.schedules.ways import TO_PART, found, place, way


class RunLine(NamedTuple):
    project: ProjectResult
    line: Material
    owner: int | None
    asked: bool
    hold: str
    rates: int


def run_lines(result: JobResult) -> Iterator[RunLine]:
    numbers = {rates.project: rates.number for rates in result.money.rates}
    for project in result.projects:
        of_owner = held_owner(project)
        for line in project.materials:
            if line.stretch is not None:
                owner = result.money.owners.get((project.project.project, *line.owner))
                number = numbers.get(project.project.project, 0)
                yield RunLine(project, line, owner, result.money.asked, of_owner(line.owner), number)


def _in_unit(line: Material, length_m: float | None) -> float | None:
    """A length in the unit that the line is bought by."""
    return None if length_m is None else length_m / METRES[line.buy_unit]


TO_CIRCUITS = (
    f'HYPERLINK(IF([bank]="",{place("feeder_totals.owner_no", "owner_no")},{place("circuits.owner_no", "owner_no")}),"{SEE}")'
)
RUNS = Schedule(
    "runs", "Runs", "line",
    "Every run of wire and raceway: a line for its conductors, its neutral, its grounding conductor and its raceway; for its cables where those are multicore. Lengths are in the unit that it is bought by.",
    items=run_lines, named_by="words",
    columns=(
        its_project("project.project.project"),
        text("tank", "Tank", 12, "line.owner.tank", help="Tank that it is for; blank: the feeder's own."),
        text("bank", "Bank", 8, lambda at: at.line.owner.name if at.line.owner.kind == "bank" else "", help="Bank that bears it."),
        text("feeder", "Feeder", 9, "line.stretch.feeder", help="Feeder that it hangs on."),
        text("run", "Run", 17, "line.used_for",
             role="result", help="branch, panel feeder, device to contactor, feeder, or way of a distribution unit."),
        text("start", "From", 16, "line.stretch.start", help="Where it begins: panels by their tags."),
        text("end", "To", 18, "line.stretch.end", help="Where it ends: panels by their tags."),
        text("role", "What", 20, "line.role",
             role="result", help="conductor, neutral, grounding conductor or raceway; cable, where one of several cores is laid."),
        text("words", "Description", 34, "line.words",
             role="result", help="Size and kind."),
        text("part", "Stock part", 14, "line.part",
             role="input", help="The part of the Stock sheet; blank where none was chosen."),
        *grouped("Whose",
            ordinal("owner_no", "Owner", "no.", "owner", width=8, help="Its line on Prices."),
            text("sort", "Sort", 10, "line.sort", help="part."),
            text("supplied", "Supplied by", 11, "line.supplied", help="customer or others, where it is not ours to buy."),
            *hours_due(),
        ),
        ordinal("circuits", "Circuits", "ea", lambda at: at.line.stretch.circuits or None, width=8,
                help="Branch circuits, panel feeders or feeders that run so; said once for each run, at its conductors."),
        calculated("count", "Side by side", "ea", "count", "line.stretch.abreast", width=8,
                   help="Conductors, or raceways where circuits share them, of all circuits together."),
        text("unit", "Unit", 6, "line.buy_unit", help="ft or m, as it is bought."),
        given("length", "Length", "of unit", "length", lambda at: _in_unit(at.line, at.line.stretch.length_m),
              help="One way, as the job gives it; blank: not given, and the line is open."),
        given("ends", "At each end", "of unit", "length", lambda at: _in_unit(at.line, at.line.stretch.end_m),
              help="Added at each end of a conductor, as Pricing has it."),
        given("waste_pct", "Waste", "%", "percent", "line.stretch.waste_pct",
              help="Added to wire, or to raceway, as Pricing has it."),
        selected("quantity", "Quantity", "of unit", "length", "line.amount",
                 formula='IF(([length]="")+([ends]="")+([waste_pct]="")>0,"",([length]+2*[ends])*[count]*(1+[waste_pct]/100))',
                 help="Length with both ends, times how many side by side, with waste."),
        *grouped("Price line",
            *price_line(),
        ),
        *looked_up(),
        calculated("price", "Price", "currency", "money", "line.price",
                   total="sum", formula=PRICE, help="Quantity times unit price, in the project's currency; blank where something of it is."),
        given("hours_each", "Hours each", "h", "hours", "line.hours_each",
              help="On site, from the Stock sheet, for Per of the unit."),
        calculated("hours", "Hours", "h", "hours", "line.hours",
                   total="sum", formula='IF(([hours_each]="")+([quantity]="")>0,"",[quantity]*[hours_each]/[per])', help="Quantity times hours each."),
        text("priced", "Status", 16, "line.status",
             role="result", formula=STATUS, help="priced; open: no length, price or hours, in no total of them; customer supplies, by others: not ours to buy."),
        text("hold", "On hold", 22, "hold",
             role="result", help="The bank or feeder that it is for is not released for fabrication, and why: neither pull nor buy it before that is put right."),
        text("why", "Why open", 34, "line.why_open", on_paper=False,
             role="result", help="Why the line was open when it was sized; blank: priced, or the Stock sheet has no price for it. Not printed."),
        way("to_part", "Its part", "its part on Buy list", TO_PART, there=lambda at: at.line.item),
        way("to_bearer", "Borne by", "its row of Prices", found("prices.number", "owner_no"), there=lambda at: at.owner),
        way("to_circuits", "Circuits", "the first circuit of its bank; of a feeder's own run, to its row of Feeders", TO_CIRCUITS,
            there=lambda at: at.owner and at.line.owner.kind in (BANK, FEEDER)),
    ),
)
