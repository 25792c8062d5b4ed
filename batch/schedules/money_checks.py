"""The money of a job checked against itself: every sum counted along two ways, over bearers of cost and over lines."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence

from batch.material_lines import BUILD, CABLE, CONDUCTORS, LABOUR, OPEN, OTHER, PER_CENT, Material
from batch.money_results import Money
from batch.price.bid_totals import bid_totals
from batch.price.cost_chain import chain, rounded
from batch.price.type_sums import by_type
from batch.results import Check, FeederRow, JobResult, PanelDesign, ProjectResult
from batch.schedules import each_row
from batch.schedules.material_list import material_lines
from batch.schedules.run_schedule import run_lines
from batch.sizing.allowances import SPARES

CLOSE = 1e-6  # of a sum
FIGURE = int, float
BRANCH = "branch"
SHOWN = ("material", "price")
OF_PRICES = ("project", *SHOWN)
OF_BUY = ("number", "held", "unit_price", "per", "supplied")
OF_VIEWS = ("project", "kind", "price")


def money_checks(result: JobResult) -> Iterator[Check]:
    """Of a job that says something of money; none of any other."""
    if not result.money.asked:
        return
    for project in result.projects:
        yield from _of_project(project, result.money)
        yield from _positions(project, result.money)
        yield _nothing_left_over(project, result.money)
    yield from _on_hold(result)
    yield from _stated(result)
    yield from _views(result)
    yield from _bought(result)


def _of_project(project: ProjectResult, money: Money) -> Iterator[Check]:
    """Prices against the lines of Materials and Runs; runs against circuits; heaters against the list."""
    name, lines = project.project.project, project.materials
    atoms = money.of_project(name)
    parts, others = ([one for one in lines if (one.sort == OTHER) is other] for other in (False, True))
    yield _sum(name, "Material on Prices = Materials + Runs", (atom.material for atom in atoms), _prices(parts))
    yield _sum(name, "Other costs on Prices = those of Materials", (atom.other for atom in atoms), _prices(others))
    built = (build.built * build.material for build in money.builds if build.project == name)
    yield _sum(name, "Builds x how many = their lines of Materials", built, _prices(one for one in lines if one.owner.kind == BUILD))
    still = sum(one.builds if one.owner.kind == BUILD else 1 for one in lines if one.status == OPEN)
    what = "Open lines on Prices = open lines of Materials and Runs, as often as they are built"
    yield Check(name, what, sum(atom.open for atom in atoms), still, 0.0)
    heaters = sum(one.quantity for one in lines if one.role == "heater")
    yield Check(name, "Heaters of banks = heaters on Materials", sum(row.bank.quantity for row in project.banks), heaters, 0.0)
    run = sum(one.stretch.circuits for one in lines if one.stretch is not None and one.stretch.kind == BRANCH)
    circuits = sum(
        row.bank.quantity * row.design.circuits_per_heater
        for row in project.banks if row.design.run_m != 0.0 and row.design.branch.wires.required_size
    )  # fmt: skip
    yield Check(name, "Branch circuits with a run = branch circuits on Runs", circuits, run, 0.0)
    yield from _fuses(project)
    wire = [one for one in lines if one.stretch is not None and one.role in (*CONDUCTORS, CABLE) and one.quantity]
    used = (one.quantity / (1 + (one.stretch.waste_pct or 0.0) / 100.0) for one in wire if one.stretch is not None)
    drawn = (
        one.stretch.abreast * ((one.stretch.length_m or 0.0) + 2 * (one.stretch.end_m or 0.0)) for one in wire if one.stretch is not None
    )
    yield _sum(name, "Wire bought without its waste = runs with their ends (m)", used, drawn)


def _on_hold(result: JobResult) -> Iterator[Check]:
    """What is on hold as Prices sums it up for the first page, against the lines that say it of themselves. Spares are the project's, which
    is never on hold as a whole."""
    lines: dict[str, list[Material]] = defaultdict(list)
    said = [(at.project, at.line, at.hold) for at in material_lines(result)]
    for project, line, hold in (*said, *((at.project, at.line, at.hold) for at in run_lines(result))):
        if hold and line.sort != OTHER:
            lines[project.project.project].append(line)
    for project in result.projects:
        name = project.project.project
        held = [atom.material for atom in result.money.of_project(name) if atom.held]
        if held or lines[name]:
            own = (line for line in lines[name] if line.used_for != SPARES)
            yield _sum(name, "Material on hold on Prices = on hold on Materials + Runs, without spares", held, _prices(own))
    yield from _held_to_buy(result, [line for some in lines.values() for line in some])


def _held_to_buy(result: JobResult, held: Sequence[Material]) -> Iterator[Check]:
    """What Buy list says is on hold of each part, which whoever orders reads, at its price, against Prices; in one currency alone."""
    rates = _rates(result)
    if not held or rates is None:
        return
    kept = 0.0
    for row in each_row(result, "buy_list", OF_BUY):
        amount, price, per = row["held"], row["unit_price"], row["per"]
        if isinstance(amount, FIGURE) and isinstance(price, FIGURE) and isinstance(per, FIGURE) and not row["supplied"]:
            kept += amount * price / per * rates[row["number"]]
    beside = [line for line in held if line.sort == PER_CENT]  # of no part
    on_prices = [atom.material for atom in result.money.atoms if atom.held]
    spares = _prices(line for line in held if line.used_for == SPARES)
    what = "Buy list, of it on hold, + lines of per cent on hold = material on hold on Prices + spares on hold"
    yield _sum("", what, (kept, *_prices(beside)), (*on_prices, *spares))


def _fuses(project: ProjectResult) -> Iterator[Check]:
    """Fuses of Materials against the poles that they stand in, counted from the design and from the control circuits; spares apart."""
    name = project.project.project
    bought: dict[str, float] = defaultdict(float)
    for line in project.materials:
        bought[line.role] += line.quantity
    branch = sum(
        panel.design.branches * row.design.branch.device.poles
        for row in project.banks if row.design.branch.device.kind == "fuse" for panel in row.panels
    )  # fmt: skip
    yield Check(name, "Poles of fused branches on Circuits = branch fuses on Materials", branch, bought["branch fuse"], 0.0)
    feeds = _fused_poles(panel.design for row in project.banks for panel in row.panels)
    yield Check(name, "Poles of fused panel feeders on Panels = panel feeder fuses on Materials", feeds, bought["panel feeder fuse"], 0.0)
    single = _fused_poles(row.design.single_circuit for row in project.banks if row.design.single_circuit is not None)
    yield Check(name, "Poles of fused single-circuit banks on Banks = bank fuses on Materials", single, bought["bank fuse"], 0.0)
    ways = sum(
        way.device.poles
        for row in project.feeders if row.end is not None and row.feeder.bus_a is None and (row.end.ours or row.end.unit == "taps")
        for way in row.end.ways if row.end.unit and way.device is not None and way.device.kind == "fuse"
    )  # fmt: skip
    yield Check(name, "Poles of our fused ways on Distribution = way fuses on Materials", ways, bought["way fuse"], 0.0)
    control = sum(element.kind == "fuse" for row in project.controls for element in row.circuit.elements)
    yield Check(name, "Fuses on Control circuits = control fuses on Materials", control, bought["control fuse"], 0.0)
    feeder = sum(row.device.poles for row in project.feeders if row.device is not None and row.device.kind == "fuse" and _ours(row))
    yield Check(name, "Poles of new fused feeder OCPDs on Feeders = feeder fuses on Materials", feeder, bought["feeder fuse"], 0.0)


def _fused_poles(designs: Iterable[PanelDesign]) -> int:
    """Poles of fused devices ahead of panels and single-circuit banks; one that is its way's is counted there."""
    return sum(
        one.panel_feeder_device.poles for one in designs if one.panel_feeder_device.kind == "fuse" and not one.device_at_way
    )


def _ours(row: FeederRow) -> bool:
    """Whether a feeder's OCPD is bought: none is there, and it does not come with a distribution unit of others."""
    with_unit = row.feeder.device_at_end and row.end is not None and bool(row.end.unit) and not row.end.ours
    return row.feeder.device_there_a is None and not with_unit


def _positions(project: ProjectResult, money: Money) -> Iterator[Check]:
    """What the quotation asks by tank, and by panel type: its positions, each rounded once, against the price, off by at most half a step
    each.
    """
    name, atoms = project.project.project, money.of_project(project.project.project)
    known = [atom.cost.price for atom in atoms if atom.cost.price is not None]
    if not known or len(known) < len(atoms):
        return
    prices: dict[tuple[str, str], float] = defaultdict(float)
    for atom in atoms:
        prices[("tank", atom.tank) if atom.tank else ("feeder", atom.feeder)] += atom.cost.price or 0.0
    of_types = [price or 0.0 for _, price in by_type(project.materials, atoms).values()]
    step, whole = atoms[0].rates.round_to, sum(known)
    for words, some in (("tank", [*prices.values()]), ("panel type, heaters, runs and the rest", of_types)):
        asked = float(sum(rounded(price, step) for price in some))
        what = f"Quotation by {words}, positions rounded once = price before tax, off by at most half a step each"
        yield Check(name, what, asked, whole, len(some) * step / 2 + CLOSE * max(1.0, whole))


def _nothing_left_over(project: ProjectResult, money: Money) -> Check:
    """What the lines use, at the prices of the buy list and by the chain of costs, against the price of all positions: what is bought by
    whole lots and left over is in none of them. Of a project without a price its material.
    """
    name, bought = project.project.project, {one.number: one for one in money.buy}
    material = other = 0.0
    for line in project.materials:
        if line.price is None:
            continue
        if line.sort == OTHER:
            other += line.price
        elif line.item:
            one = bought[line.item]
            material += (line.amount or 0.0) * (one.unit_price or 0.0) * (line.rate or 0.0) / one.per
        else:
            material += line.price
    atoms = money.of_project(name)
    hours = {key: sum(getattr(atom, key) for atom in atoms) for key in ("shop_h", "field_h", "freight_sum")}
    price = chain(material=material, other=other, rates=atoms[0].rates, **hours).price if atoms else None
    if price is None:
        what = "Parts used, without what is left over of whole lots, + lines of per cent = material of all positions"
        return _sum(name, what, (material,), (atom.material for atom in atoms))
    what = "Price of parts used, without what is left over of whole lots = price of all positions"
    return _sum(name, what, (price,), (atom.cost.price or 0.0 for atom in atoms))


def _stated(result: JobResult) -> Iterator[Check]:
    """What the rows of Prices show against what Read first and Summary state of the project."""
    shown: dict[object, dict[str, float]] = defaultdict(lambda: defaultdict(float))
    for row in each_row(result, "prices", OF_PRICES):
        for figures in SHOWN:
            if isinstance(amount := row[figures], (int, float)):
                shown[row["project"] or ""][figures] += amount
    for project in result.projects:
        name = project.project.project
        stated = bid_totals(result.money, {name})
        if stated is None:
            continue
        for figures, whole in (("material", stated.material), ("price", stated.price)):
            if whole is not None:
                yield _sum(name, f"{figures.capitalize()} stated of the project = rows of Prices", (whole,), (shown[name][figures],))


def _views(result: JobResult) -> Iterator[Check]:
    """Price views by tank, by feeder, and by type with what is no type's, against the price of the project: nothing is left out of any of
    them, and nothing is in it twice.
    """
    shown: dict[tuple[str, str], float] = defaultdict(float)
    for row in each_row(result, "price_views", OF_VIEWS):
        if isinstance(amount := row["price"], (int, float)):
            shown[str(row["project"] or ""), str(row["kind"])] += amount
    for project in result.projects:
        name = project.project.project
        stated = bid_totals(result.money, {name})
        if stated is not None and stated.price is not None:
            for kind in ("by tank", "by feeder"):
                yield _sum(name, f"Price views {kind} = price of the project", (shown[name, kind],), (stated.price,))
            sums = by_type(project.materials, result.money.of_project(name))
            built = {line.owner.name for line in project.materials if line.owner.kind == BUILD}
            beside = sum(price or 0.0 for tag, (_, price) in sums.items() if tag not in built)
            what = "Price views by type + heaters, runs and the rest = price of the project"
            yield _sum(name, what, (shown[name, "by type"], beside), (stated.price,))


def _bought(result: JobResult) -> Iterator[Check]:
    """Buy list against the lines: money where all of it is in one currency, and the lines that are open."""
    lines = [one for project in result.projects for one in project.materials if one.sort in ("part", LABOUR)]
    buy = result.money.buy
    rates = _rates(result)
    if rates is not None:
        bought = 0.0
        for part in buy:
            if part.unit_price is not None and not part.supplied:
                bought += part.used * part.unit_price / part.per * rates[part.number]
        yield _sum("", "Buy list, what is used = parts on Materials and Runs", (bought,), _prices(lines))
        beside = [one for project in result.projects for one in project.materials if one.sort in (PER_CENT, OTHER)]
        what = "Buy list, what is used + lines of per cent + other costs = material and other costs on Prices"
        yield _sum("", what, (bought, *_prices(beside)), (atom.material + atom.other for atom in result.money.atoms))
    still = sum(one.status == OPEN for one in lines)
    yield Check("", "Open lines on Buy list = open lines of parts", sum(one.open for one in buy), still, 0.0)


def _rates(result: JobResult) -> Mapping[object, float] | None:
    """Of each line of the buy list the rate of its currency; None where it is not the same for all that need it."""
    found: dict[object, float] = defaultdict(float)
    for one in (line for project in result.projects for line in project.materials if line.sort in ("part", LABOUR)):
        if one.price is not None and one.rate is not None and found.setdefault(one.item, one.rate) != one.rate:
            return None
    return found if len({project.project.currency or "" for project in result.projects}) == 1 else None


def _prices(lines: Iterable[Material]) -> Iterator[float]:
    return (one.price for one in lines if one.price is not None)


def _sum(project: str, what: str, left: Iterable[float], right: Iterable[float]) -> Check:
    one, other = sum(left), sum(right)
    return Check(project, what, one, other, CLOSE * max(1.0, abs(one), abs(other)))
