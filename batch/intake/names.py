"""Whose row is whose: projects, feeders and tanks by name, across the sheets. A name that cannot be placed refuses its row."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from math import isclose

from msgspec import Struct, field

from batch.findings import Finding, Remark, find, remark
from batch.intake.table import Row, Tables, names_of, rows_of_sheets, rows_worded

SAME_BATH = 0.01  # of two figures of a tank: rounding, and degrees of one scale or the other


def fold(name: object) -> str:
    """What two spellings of one name have in common: case and outer space are not looked at."""
    return str(name).strip().casefold()


class Names(Struct):
    """The projects of a workbook and the tags of each, by folded name."""

    projects: dict[str, str] = field(default_factory=dict)
    refused_projects: set[str] = field(default_factory=set)
    implicit: bool = False
    findings: list[Finding] = field(default_factory=list)

    def say(self, row: Row, said: Remark, key: str) -> None:
        seen = row.values.get(key, "")
        where = {"sheet": row.table.grid.name, "cell": row.table.cell(key, row.number), "seen": str(seen)[:60]}
        self.findings.append(find(said, **where, **names_of(row.values)))


def keep_first(table: Tables | None, key: str, code: str, names: Names, *, within: str = "", unless: str = "") -> None:
    """Of rows with one name the first is used, with a caution on each; the others are refused. `unless`: a column in which rows of one
    name may differ."""
    for same in _groups(table, key, within, unless):
        if len(same) > 1 and table is not None:
            _say_repeated(table, key, code, same, names)


def leave_listed(tanks: Tables | None, names: Names) -> None:
    """Of a tank that a sheet Tanks lists, or an earlier list describes, a further list of heaters fills what is blank there; where both say
    something and not the same, the first counts, and it is said.
    """
    known: dict[tuple[str, str], Row] = {}
    for table in sorted(tanks.all, key=lambda table: table.of_list) if tanks is not None else ():
        left = []
        for row in table.rows:
            who = str(row.values.get("project", "")), fold(row.values["tank"])
            first = known.setdefault(who, row)
            if not table.of_list or first is row:
                left.append(row)
                continue
            unlike = [key for key, value in row.values.items() if not _alike(first.values.setdefault(key, value), value)]
            apart = " and ".join(table.sheet[key].heading for key in unlike)
            if apart:
                said = {"tank": str(row.values["tank"]), "cells": apart, "first": first.table.grid.name, "sheet": table.grid.name}
                names.say(row, remark("bath-differs", "tank", **said), "tank")
        table.rows = left


def _alike(one: object, other: object) -> bool:
    if isinstance(one, float) and isinstance(other, float):
        return isclose(one, other, rel_tol=SAME_BATH)
    return fold(one) == fold(other)


def _groups(table: Tables | None, key: str, within: str = "", unless: str = "") -> Iterable[list[Row]]:
    groups: dict[tuple[str, object, str], list[Row]] = {}
    for row in table.rows if table else ():
        apart = row.values.get(unless) or 0 if unless else ""
        groups.setdefault((fold(row.values.get(within, "")) if within else "", apart, fold(row.values[key])), []).append(row)
    return list(groups.values())


def _say_repeated(table: Tables, key: str, code: str, same: Sequence[Row], names: Names) -> None:
    fields = {key: str(same[0].values[key]), "rows": _numbers(same)}
    for row in same:
        names.say(row, remark(code, key, **fields), key)
    for row in same[1:]:
        row.table.refuse(row, f"{table.sheet[key].heading.lower()} given in row {same[0].number} already")
    table.drop_refused()


def _numbers(rows: Sequence[Row]) -> str:
    return rows_of_sheets(rows).partition(" ")[2]


def settle_projects(tables: dict[str, Tables]) -> Names:
    """The projects of the workbook: those of the Projects sheet, or else those that the other rows name."""
    names = Names()
    sheet = tables.get("projects")
    keep_first(sheet, "project", "project-repeated", names)
    if sheet:
        names.projects = {fold(row.values["project"]): str(row.values["project"]) for row in sheet.rows}
        unread = sheet.refused_names()
        names.refused_projects = {fold(named.get("project", "")) for named in unread} - set(names.projects)
    if names.projects or names.refused_projects:
        return names
    names.implicit = True
    for kind in ("heaters", "feeders", "tanks"):
        for name in _named_projects(tables.get(kind)):
            names.projects.setdefault(fold(name), name)
    if not names.projects:
        names.projects[""] = ""
    listed = ", ".join(name for name in names.projects.values() if name)
    words = f"project {listed} is taken from the rows," if listed else "the rows are one project without a name,"
    if len(names.projects) > 1:
        words = f"the projects {listed} are taken from the rows,"
    names.findings.append(find(remark("project-implicit", projects=words), sheet=sheet.all[0].grid.name if sheet else ""))
    return names


def _named_projects(table: Tables | None) -> list[str]:
    """Projects that the rows of a table name, refused rows included: a refused row still tells that there is such a project."""
    if table is None:
        return []
    found: list[str] = []
    for one in table.all:
        named: dict[int, dict] = {row.number: row.values for row in one.rows} | one.named
        found += [str(named[number]["project"]) for number in sorted(named) if "project" in named[number]]
    return found


def place_rows(table: Tables | None, names: Names) -> None:
    """Gives every row the name of its project as the Projects sheet spells it; refuses the rows that have none."""
    if table is None:
        return
    respelt: set[str] = set()
    unread: dict[str, list[Row]] = {}
    count = len(names.projects) + len(names.refused_projects)
    for row in table.rows:
        given = row.values.get("project")
        if given is None and count == 1:
            folded = next(iter(names.projects or names.refused_projects))
        elif given is None:
            names.say(row, remark("project-blank", "project", count=count), "project")
            row.table.refuse(row, "project not said")
            continue
        else:
            folded = fold(given)
        if folded in names.projects:
            used = names.projects[folded]
            if given is not None and given != used and given not in respelt:
                respelt.add(str(given))
                names.say(row, remark("name-respelt", "project", column="Project", given=str(given), used=used), "project")
            row.values["project"] = used
        elif folded in names.refused_projects or "" in names.refused_projects:
            unread.setdefault(str(given or folded), []).append(row)
            row.table.refuse(row, "its project could not be read")
        else:
            names.say(row, remark("project-unknown", "project", project=str(given), offer=_offer(str(given), names)), "project")
            row.table.refuse(row, f"project {given} is not on the Projects sheet")
    table.drop_refused()
    for project, rows in unread.items():
        for some in _by_sheet(rows):
            sheet, numbers = some[0].table.grid.name, [row.number for row in some]
            said = remark("project-not-read", "project", project=project, rows=rows_worded(numbers), sheet=sheet)
            names.findings.append(find(said, sheet=sheet, cell=some[0].table.cell("project", numbers[0]), project=project))


def _by_sheet(rows: Sequence[Row]) -> list[list[Row]]:
    groups: dict[str, list[Row]] = {}
    for row in rows:
        groups.setdefault(row.table.grid.name, []).append(row)
    return list(groups.values())


def _offer(given: str, names: Names) -> str:
    from difflib import get_close_matches

    close = get_close_matches(fold(given), names.projects, n=1, cutoff=0.6)
    return f" Is it {names.projects[close[0]]}?" if close else ""


def settle_feeders(table: Tables | None, names: Names) -> None:
    """Feeders given twice: the first of equal ones is used; where they differ none is, because none can be known to be right."""
    if table is None:
        return
    for same in _groups(table, "feeder", "project"):
        if len(same) < 2:
            continue
        differing = sorted({key for row in same[1:] for key in _differing(same[0], row)}, key=list(table.sheet.by_key).index)
        if not differing:
            _say_repeated(table, "feeder", "feeder-repeated", same, names)
            continue
        columns = ", ".join(table.sheet[key].heading for key in differing)
        fields = {"feeder": str(same[0].values["feeder"]), "rows": _numbers(same), "columns": columns}
        for row in same:
            names.say(row, remark("feeder-contradicts", "feeder", **fields), "feeder")
            row.table.refuse(row, f"feeder {fields['feeder']} is given twice and differs")
    table.drop_refused()


def _differing(one: Row, other: Row) -> set[str]:
    keys = (one.values.keys() | other.values.keys()) - {"notes", "feeder", "project"}
    return {key for key in keys if one.values.get(key) != other.values.get(key)}


def settle_heaters(tables: dict[str, Tables], names: Names) -> None:
    """Heaters against feeders and tanks: spellings, tags that are missing, rows that hang on what could not be read."""
    heaters, feeders, tanks = (tables.get(kind) for kind in ("heaters", "feeders", "tanks"))
    if heaters is None:
        return
    _respell(heaters, feeders, "feeder", names)
    _respell(heaters, tanks, "tank", names)
    _refuse_unread_feeders(heaters, feeders, names)
    heaters.drop_refused()
    if tanks is not None and any(not table.of_list for table in tanks.all) and (tanks.rows or tanks.refused_names()):
        _compare_tanks(heaters, tanks, names)


def _respell(heaters: Tables, other: Tables | None, key: str, names: Names) -> None:
    """One tag, one spelling: that of its own sheet, or else of its first row."""
    spelt: dict[tuple[str, str], str] = {}
    for row in other.rows if other else ():
        spelt.setdefault((str(row.values.get("project", "")), fold(row.values[key])), str(row.values[key]))
    spaced = _without_spaces(spelt)
    said: set[tuple[str, str]] = set()
    for row in heaters.rows:
        if key not in row.values:
            continue
        project, given = str(row.values["project"]), str(row.values[key])
        near = spaced.get((project, unspaced(given))) if (project, fold(given)) not in spelt else None
        used = near or spelt.setdefault((project, fold(given)), given)
        if used == given:
            continue
        row.values[key] = used  # before it is said, so that the finding is about the tag that the row goes by
        if (project, given) not in said:
            said.add((project, given))
            code = "name-respelt" if near is None else "name-near"
            names.say(row, remark(code, key, column=heaters.sheet[key].heading, given=given, used=used), key)


def _without_spaces(spelt: Mapping[tuple[str, str], str]) -> dict[tuple[str, str], str]:
    """Listed tags by project and spelling without spaces; left out where two of them would then be one."""
    found: dict[tuple[str, str], set[str]] = {}
    for (project, _), tag in spelt.items():
        found.setdefault((project, unspaced(tag)), set()).add(tag)
    return {key: next(iter(tags)) for key, tags in found.items() if len(tags) == 1}


def unspaced(name: object) -> str:
    """A tag without its spaces: "F 1" and "F1" are most likely one."""
    return "".join(fold(name).split())


def _refuse_unread_feeders(heaters: Tables, feeders: Tables | None, names: Names) -> None:
    """A heater whose feeder could not be read, or may be that one, must not end up on another feeder by default."""
    if feeders is None:
        return
    unread = [
        one.named.get(number, {})
        for one in feeders.all for number in one.data_rows_refused() if "given in row" not in one.refused[number]
    ]  # fmt: skip
    if not unread:
        return
    known = {(str(row.values["project"]), str(row.values["feeder"])) for row in feeders.rows}
    projects = {fold(named.get("project", "")) for named in unread}
    lost: list[Row] = []
    for row in heaters.rows:
        project = str(row.values["project"])
        concerned = "" in projects or fold(project) in projects
        if concerned and (project, str(row.values.get("feeder", ""))) not in known:
            lost.append(row)
            row.table.refuse(row, "its feeder could not be read")
    for some in _by_sheet(lost):
        sheet, numbers = some[0].table.grid.name, [row.number for row in some]
        said = remark("feeder-not-read", "feeder", rows=rows_worded(numbers), sheet=sheet)
        names.findings.append(find(said, sheet=sheet, cell=some[0].table.cell("feeder", numbers[0])))


def _compare_tanks(heaters: Tables, tanks: Tables, names: Names) -> None:
    listed = {(str(row.values["project"]), str(row.values["tank"])) for row in tanks.rows}
    refused = {fold(named.get("tank", "")) for named in tanks.refused_names()}
    said: set[tuple[str, str]] = set()
    for row in heaters.rows:
        at = (str(row.values["project"]), str(row.values["tank"]))
        if at in listed or at in said:
            continue
        said.add(at)
        code = "tank-not-read" if fold(at[1]) in refused else "heater-without-tank"
        names.say(row, remark(code, "tank", tank=at[1]), "tank")
    heated = {(str(row.values["project"]), str(row.values["tank"])) for row in heaters.rows}
    half_read = {fold(named.get("tank", "")) for one in heaters.all for named in one.named.values()}
    heated |= {(project, tag) for project, tag in listed if fold(tag) in half_read}
    for row in tanks.rows:
        if (str(row.values["project"]), str(row.values["tank"])) not in heated:
            names.say(row, remark("tank-without-heaters", "tank", tank=str(row.values["tank"])), "tank")
