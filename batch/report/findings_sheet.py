"""Links between findings and the rows they are about."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence

from batch.schedules.country_words import codes_of
from batch.schedules.row_words import OF_PROJECT
from batch.writing.placed import DATA, Placed, quoted

MOST_LINKS = 60_000  # a sheet holds 65,530 links (a limit of common programs); beyond this, rows are named without a link
SUBJECTS = {  # sheets that a finding can lead to
    "banks": ("project", "tank", "bank"),
    "feeder_totals": ("project", "feeder"),
    "heat": ("project", "tank"),
}
TAGS = ("tank", "bank", "feeder")
ROW = " row "  # between the tab and the number
SPEAKERS = (*SUBJECTS, "panels")  # sheets whose rows list their findings


def point(rows: Mapping[str, Sequence[dict]], names: Mapping[str, str], summaries: Mapping[str, str]) -> None:
    """Says on each row of Findings where the row stands that it is about: "Banks row 17"; of what is about a whole project the tab of its
    Summary; or nothing.

    `rows` are the schedules by sheet id, `names` the tabs of those that stand in the workbook, `summaries` those of the projects.
    """
    places = {id: _places(rows[id], keys) for id, keys in SUBJECTS.items() if id in names}
    only = _alone(rows["banks"]) if "banks" in names else {}
    for row in rows["findings"]:
        row["go_to"] = None if any(row[key] for key in TAGS) or row["count"] > 1 else summaries.get(row["project"] or "")
        for id, known in places.items():
            keys = SUBJECTS[id]
            if id == "feeder_totals" and row["tank"]:
                continue  # it is about the tank, whatever feeds it
            at = known.get(tuple(row[key] or "" for key in keys)) if row[keys[1]] else None  # of no tag: about the project
            if at is not None:
                row["go_to"] = f"{names[id]}{ROW}{DATA + 1 + at}"
                break
        else:
            alone = only.get(row["tank"] or "", -1)  # of a row that could not be read neither project nor bank may be known
            if alone >= 0:
                row["go_to"] = f"{names['banks']}{ROW}{DATA + 1 + alone}"


def _alone(rows: Sequence[Mapping]) -> dict[str, int]:
    """The one row of each tank that has no other."""
    times = Counter(row["tank"] for row in rows)
    return {row["tank"]: at for at, row in enumerate(rows) if row["tank"] and times[row["tank"]] == 1}


def _places(rows: Sequence[Mapping], keys: tuple[str, ...]) -> dict[tuple, int]:
    places: dict[tuple, int] = {}
    for at, row in enumerate(rows):
        places.setdefault(tuple(row[key] or "" for key in keys), at)
    return places


def link_findings(placed: Mapping[str, Placed], rows: Mapping[str, Sequence[Mapping]], rule_sets: tuple[str, ...]) -> None:
    """Links each finding to the row it is about, and beside each row's list of them to the first of those that Findings says about it, or
    about its tank, feeder or project. The words linked are our own; those of the rows are in the words of `rule_sets`.
    """
    findings = placed.get("findings")
    if findings is None:
        return
    tabs = {one.name for one in placed.values()}
    for at, row in enumerate(rows["findings"][:MOST_LINKS]):
        if row["go_to"]:
            name, _, number = row["go_to"].rpartition(ROW)
            of_row = name in tabs and number.isdecimal()
            place = f"'{name}'!A{number}" if of_row else f"{quoted(row['go_to'])}!A1"
            findings.link("go_to", at, place, "the row it is about" if of_row else "the project it is about")
    said = _said(rows["findings"])
    codes: dict[str, tuple[str, ...]] = {}  # by the words of a cell: few, and each of many rows
    of_project: dict[str, int] = {}
    for about, at in said.items():
        if about[0] == "project":
            of_project.setdefault(about[2], at)
    for id in SPEAKERS:
        for at, row in enumerate(rows.get(id, ())[:MOST_LINKS]):
            if not row["findings"] or id not in placed:
                continue
            words = row["findings"]
            if words not in codes:
                codes[words] = tuple(code for several in codes_of(words, rule_sets) for code in several)
            ways = [said.get(about) for code in codes[words] for about in _about(code, row)]
            if OF_PROJECT in words:
                ways.append(of_project.get(row["project"] or ""))
            first = next((way for way in ways if way is not None), None)
            if first is not None:
                placed[id].link("look_up", at, findings.cell("no", first), "the first finding about it")


def _said(rows: Sequence[Mapping]) -> dict[tuple, int]:
    """Code and subject -> the first row of Findings, from nought, that says so of this subject."""
    said: dict[tuple, int] = {}
    for at, row in enumerate(rows):
        said.setdefault(_about(row["code"], row)[0], at)
    return said


def _about(code: str, row: Mapping) -> list[tuple]:
    """What a row of any sheet can be the subject of, nearest first: its bank, tank, feeder, project, the workbook."""
    project, tank, bank, feeder = (row.get(key) or "" for key in ("project", "tank", "bank", "feeder"))
    wide: list[tuple] = [("feeder", code, project, feeder)] if feeder else []
    wide += [("project", code, project), ("project", code, "")]
    if tank:
        wide.insert(0, ("tank", code, project, tank))
        if bank:
            wide.insert(0, ("bank", code, project, tank, bank))
    return wide
