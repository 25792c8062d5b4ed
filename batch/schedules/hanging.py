"""What hangs on a feeder, or makes up a project: its status is never better than theirs, and words say how much is open."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from operator import attrgetter
from typing import NamedTuple

from batch.control_results import ControlFeed, TankControl
from batch.earth_fault_results import EarthFault
from batch.findings import Finding
from batch.material_lines import BANK, FEEDER, TANK, Owner
from batch.results import BankRow, FeederRow, PanelDesign, PanelRow, ProjectResult, Way
from batch.schedules.row_words import HOLD, REVIEW, SIZED, band_words, single_tag, status_of, worst_of
from batch.schedules.worked_once import once
from batch.sizing.holds import worst_hold
from batch.sizing.not_sized import astray_words, missing_on_feeder, missing_words
from batch.sizing.placing import groups
from batch.unsized_results import NotSized


class Hanging(NamedTuple):
    """`status` is the worst of the banks; one that is not sized keeps what it hangs on from being released."""

    status: str
    words: str  # "2 of 14 banks on hold, 36 of 210 kW; without 5 banks not sized, at least 120 kW by their rows"; "" = nothing is open


def banks_of_feeders(project: ProjectResult) -> dict[str, list[BankRow]]:
    """The banks of each feeder that has any, in their order."""
    found: dict[str, list[BankRow]] = {}
    for row in project.banks:
        found.setdefault(row.feeder.feeder, []).append(row)
    return found


def banks_of_tanks(project: ProjectResult) -> dict[str, list[BankRow]]:
    """The banks of each tank that has any, by its tag folded, in their order."""
    found: dict[str, list[BankRow]] = {}
    for row in project.banks:
        found.setdefault(row.bank.tank.casefold(), []).append(row)
    return found


def hangs_on(project: ProjectResult, feeder: str, banks: Sequence[BankRow]) -> Hanging:
    """What hangs on a feeder: its banks, and rows that are not sized. One that names no feeder may hang on any: to be looked at."""
    missing, loose = _not_sized(project)
    found = _hung(project, banks, missing_on_feeder(missing.get(feeder, ())))
    more = [f"{loose}, may hang on it: no feeder could be read"] if loose else []
    if lost := astray_on(project, feeder):
        more.append(f"{astray_words(lost)}, may hang on it")
    return Hanging(worst_of((found.status, REVIEW)), "; ".join(filter(None, (found.words, *more)))) if more else found


def astray_on(project: ProjectResult, feeder: str) -> list[NotSized]:
    """Rows of no project that is listed, which name this feeder or none."""
    named = feeder.casefold()
    return [row for row in project.astray if not row.fed_from or named in map(str.casefold, row.fed_from)]


def not_sized_by_feeder(rows: Iterable[NotSized]) -> dict[str, list[NotSized]]:
    """Rows that are not sized by each feeder that they may hang on, "" where none is known."""
    found: dict[str, list[NotSized]] = {}
    for row in rows:
        for name in row.fed_from or ("",):
            found.setdefault(name, []).append(row)
    return found


def _by_feeder(rows: Sequence[NotSized]) -> tuple[dict[str, list[NotSized]], str]:
    """Rows by the feeder that they name, and in words those that name none."""
    named = not_sized_by_feeder(rows)
    return named, missing_words(named.get("", ()))


_not_sized = once(attrgetter("not_sized"), _by_feeder)  # of the last project: feeders come project by project


def short_of_fault(panel: PanelRow, of_feeder: Sequence[Finding]) -> tuple[Finding, ...]:
    """The feeder's cautions on unmarked parts, where this panel's rating is below its fault current, or some part of it has none."""
    if panel.fault_ka is None:
        return ()
    short = panel.design.sccr_ka is not None and panel.fault_ka > panel.design.sccr_ka
    codes = {"fault-over-default"} if short else set()
    codes |= set() if panel.design.sccr_marked else {"fault-rating-unknown"}
    return tuple(finding for finding in of_feeder if finding.code in codes)


def status_by_tag(project: ProjectResult) -> dict[str, str]:
    """The status of each heater panel and single-circuit bank by its tag, the same on every paper that names it."""
    of_feeder = {row.feeder.feeder: row.findings for row in project.feeders}
    found = {}
    for row in project.banks:
        if row.design.single_circuit is not None:
            found[single_tag(row)] = status_of(row.findings, row.around, project.said_once)
        for panel in row.panels:
            said = (*row.findings, *short_of_fault(panel, of_feeder.get(row.feeder.feeder, ())))
            found[panel.tag] = status_of(said, row.around, project.said_once)
    return found


def control_status(project: ProjectResult, panel: TankControl) -> str:
    """The status of a control panel: on hold where one of its banks is."""
    return HOLD if panel.hold is not None else status_of(panel.findings, (), project.said_once)


def held_owner(project: ProjectResult) -> Callable[[Owner], str]:
    """Why what a bank, a tank or a feeder bears is on hold, in the words of the band; "" where it is not.

    A feeder is sized for its banks: while one of them must not be built as it stands, nothing of the feeder is to be bought.
    """
    banks = {(row.bank.tank, row.label): row.hold.message for row in project.banks if row.hold is not None}
    feeders = {row.feeder.feeder: row.hold.message for row in project.banks if row.hold is not None}
    feeders |= {row.feeder.feeder: hold.message for row in project.feeders if (hold := worst_hold(row.findings)) is not None}
    tanks = {control.tank: control.hold.message for control in project.controls if control.hold is not None}

    def words(owner: Owner) -> str:
        if owner.kind == BANK:
            return band_words(banks.get((owner.tank, owner.name), ""))
        if owner.kind == TANK:
            return band_words(tanks.get(owner.tank, ""))
        return band_words(feeders.get(owner.name, "")) if owner.kind == FEEDER else ""

    return words


def of_feeders(project: ProjectResult) -> dict[str, Hanging]:
    """Each feeder with its own status and what hangs on it."""
    banks, found = banks_of_feeders(project), {}
    for row in project.feeders:
        name = row.feeder.feeder
        hung = hangs_on(project, name, banks.get(name, ()))
        found[name] = hung._replace(status=worst_of((status_of(row.findings, (), project.said_once), hung.status)))
    return found


def of_sources(project: ProjectResult) -> dict[str, Hanging]:
    """Each source with its own status and what its feeders say, by their tags."""
    feeders, found = of_feeders(project), {}
    for row in project.sources:
        on = {name: feeders[name] for name in row.feeders if name in feeders}
        status = worst_of((status_of(row.findings, (), project.said_once), *(one.status for one in on.values())))
        words = "; ".join(f"{name}: {one.words}" if row.named else one.words for name, one in on.items() if one.words)
        found[row.source.source] = Hanging(status, words)
    return found


def of_ways(project: ProjectResult) -> Callable[[Way], Hanging]:
    """What hangs on a way: its banks on its feeder, and the control panel itself."""
    banks = {(row.feeder.feeder, row.bank.tank, row.label): row for row in project.banks}
    held = {row.tank: row.hold.message for row in project.controls if row.hold is not None}

    def hung(way: Way) -> Hanging:
        on = [banks[key] for label in way.banks if (key := (way.feeder, way.tank, label)) in banks]
        found = _hung(project, on, "")
        if way.tank not in held:
            return found
        return found._replace(status=HOLD, words=found.words or f"its control panel on hold: {held[way.tank]}")

    return hung


def of_earth_faults(project: ProjectResult) -> Callable[[FeederRow, EarthFault], str]:
    """The status of a circuit whose earth fault is judged: of a bank that bank's, of a way that of all it feeds, else its feeder's."""
    of_feeder, banks = of_feeders(project), {(row.feeder.feeder, row.bank.tank, row.label): row for row in project.banks}
    of_way = of_ways(project)
    ways = {(way.feeder, way.tag): way for row in project.feeders if row.end is not None for way in row.end.ways}

    def status(row: FeederRow, one: EarthFault) -> str:
        if (bank := banks.get((row.feeder.feeder, one.tank, one.bank))) is not None:
            return status_of(bank.findings, bank.around, project.said_once)
        way = ways.get((row.feeder.feeder, one.tag)) if one.tank else None
        return of_way(way).status if way is not None else of_feeder[row.feeder.feeder].status

    return status


def of_tanks(project: ProjectResult) -> dict[str, str]:
    """The status of each tank, by its tag folded: the worst of its banks, its control panel and what is said of its heat; rows that are not
    sized keep it on hold."""
    found: dict[str, list[str]] = {}
    for row in project.banks:
        found.setdefault(row.bank.tank.casefold(), []).append(status_of(row.findings, row.around, project.said_once))
    for tank in project.heat:
        found.setdefault(tank.tag.casefold(), []).append(status_of(tank.findings, (), project.said_once))
    kept = (*(lost.tank for lost in project.not_sized), *(panel.tank for panel in project.controls if panel.hold is not None))
    for tag in kept:
        found.setdefault(tag.casefold(), []).append(HOLD)
    return {tag: worst_of(statuses) for tag, statuses in found.items()}


def makes_up(project: ProjectResult) -> Hanging:
    """What a project is made of, the remarks of its feeders and tanks among it, and what is said once for it."""
    said = (*(row.findings for row in project.feeders), *(row.findings for row in project.heat), *(row.findings for row in project.banks))
    own = [status_of(findings) for findings in said]
    found = _hung(project, project.banks, missing_words(project.not_sized))
    own += [REVIEW] if project.astray else []
    perhaps = f"perhaps without {astray_words(project.astray)}" if project.astray else ""
    return Hanging(worst_of((found.status, *own)), "; ".join(filter(None, (found.words, perhaps))))


def _hung(project: ProjectResult, banks: Sequence[BankRow], missing: str) -> Hanging:
    held = [row for row in banks if row.hold is not None]
    count = power = ""
    if held:
        some, all_kw = (sum(row.design.connected_kw for row in rows) for rows in (held, banks))
        count = f"{len(held):,} of {len(banks):,} bank{'' if len(banks) == 1 else 's'}"
        power = f"{some:,.6g} of {all_kw:,.6g} kW"
    words = [f"{count} on hold, {power}"] if held else []
    if missing:
        words.append(f"without {missing}")
    statuses = [status_of(row.findings, row.around, project.said_once) for row in banks]
    return Hanging(worst_of((*statuses, HOLD if missing else SIZED)), "; ".join(words))


class BoxFeed(NamedTuple):
    """A panel feeder or single-circuit bank of a control panel with its bank and design."""

    feed: ControlFeed
    row: BankRow
    design: PanelDesign


def hung_on(control: TankControl, rows: Sequence[BankRow]) -> list[BoxFeed]:
    """What hangs on a control panel, by number."""
    found = []
    for row in rows:
        feeds = [feed for feed in control.feeds if feed.bank == row.label]
        found += [BoxFeed(feed, row, design) for feed, design in zip(feeds, groups(row.design), strict=False)]
    return sorted(found, key=lambda one: one.feed.number)
