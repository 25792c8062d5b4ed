"""Builds: what each bank is built of, so many of each panel type or single circuit, and each tank's control panel; what one of it costs."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from batch.material_lines import BANK
from batch.money_results import Atom, Share
from batch.results import JobResult
from batch.schedules.schedule import Schedule, calculated, its_bank, its_project, its_tank, ordinal, selected, text
from batch.schedules.ways import found, way, way_if_any


class BuildLine(NamedTuple):
    """`in_panels`: its bank has panels."""

    share: Share
    atom: Atom
    in_panels: bool


def _items(result: JobResult) -> Iterator[BuildLine]:
    if result.money.asked:
        owners = result.money.owners
        of_bank = ((project.project.project, row) for project in result.projects for row in project.banks if row.panels)
        in_panels = {owners.get((name, BANK, row.bank.tank, row.label)) for name, row in of_bank}
        for share in result.money.shares:
            yield BuildLine(share, result.money.atoms[share.owner - 1], share.owner in in_panels)


BUILDS = Schedule(
    "builds", "Builds", "line", "What each bank is built of: so many of a panel type, or a single circuit; and the control panel of each tank, at the price of one bill of Materials.",
    items=_items, named_by="build",
    columns=(
        its_project("share.build.project"),
        its_tank("atom.tank"),
        its_bank("atom.bank"),
        ordinal("owner_no", "Owner", "no.", "share.owner", width=8, help="Its line on Prices."),
        text("build", "Build", 18, "share.build.name", role="result", help="Panel type, single circuit, or kind of control panel."),
        text("hold", "On hold", 9, lambda at: "on hold" if at.atom.held else "", role="result", help="Not released for fabrication; its money is counted."),
        ordinal("build_no", "Bill", "no.", "share.build.number", width=8, help="By which Materials has its lines."),
        selected("count", "How many", "ea", "count", "share.times", total="sum", help="In this bank, or for this tank."),
        calculated("material_one", "Material of one", "currency", "money", "share.build.material",
                   formula="SUMIFS(<materials.price_one>,<materials.build_no>,[build_no])", help="Of what is priced: the bill for one."),
        calculated("hours_one", "Shop hours of one", "h", "hours", "share.build.shop_h",
                   formula='SUMIFS(<materials.hours_one>,<materials.build_no>,[build_no],<materials.supplied>,"")', help="In the shop, for one."),
        calculated("open_one", "Open lines of one", "ea", "count", "share.build.open",
                   formula='COUNTIFS(<materials.build_no>,[build_no],<materials.priced>,"open")', help="Lines of its bill that are open."),
        calculated("material", "Material", "currency", "money", lambda at: at.share.times * at.share.build.material,
                   total="sum", formula="[count]*[material_one]", help="Of all of them."),
        calculated("shop_h", "Shop hours", "h", "hours", lambda at: at.share.times * at.share.build.shop_h,
                   total="sum", formula="[count]*[hours_one]", help="Of all of them."),
        calculated("open", "Open lines", "ea", "count", lambda at: at.share.times * at.share.build.open,
                   total="sum", formula="[count]*[open_one]", help="Of all of them: each line as often as it is built."),
        way("to_bearer", "Borne by", "the row of Prices that bears it", found("prices.number", "owner_no")),
        way("to_bill", "Its bill", "the first line of its bill on Materials", found("materials.build_no", "build_no")),
        way_if_any("to_panels", "Panels", "the first panel of this bank", "panels.owner_no", "owner_no", there=lambda at: at.in_panels),
        way_if_any("to_circuits", "Circuits", "the first circuit of this bank", "circuits.owner_no", "owner_no", there=lambda at: at.atom.bank),
    ),
)
