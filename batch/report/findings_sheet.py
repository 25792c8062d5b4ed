"""Links between findings and the rows they are about."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from batch.report.placed import DATA, Placed

MOST_LINKS = 60_000  # a sheet holds 65,530 links (a limit of common programs); beyond this, rows are named without a link
SUBJECTS = {"banks": ("project", "tank", "bank"), "feeder_totals": ("project", "feeder")}  # sheets that a finding can lead to
SPEAKERS = {**SUBJECTS, "panels": ("project", "tank", "bank")}  # sheets whose rows list their findings


def point(rows: Mapping[str, Sequence[dict]], names: Mapping[str, str]) -> None:
    """Says on each row of Findings where the row stands that it is about: "Banks row 17", or nothing.

    `rows` are the schedules by sheet id, `names` the tabs of those that stand in the workbook.
    """
    places = {id: _places(rows[id], keys) for id, keys in SUBJECTS.items() if id in names}
    for row in rows["findings"]:
        row["go_to"] = None
        for id, known in places.items():
            at = known.get(tuple(row[key] or "" for key in SUBJECTS[id]))
            if at is not None:
                row["go_to"] = f"{names[id]} row {DATA + 1 + at}"
                break


def _places(rows: Sequence[Mapping], keys: tuple[str, ...]) -> dict[tuple, int]:
    places: dict[tuple, int] = {}
    for at, row in enumerate(rows):
        places.setdefault(tuple(row[key] or "" for key in keys), at)
    return places


def link_findings(placed: Mapping[str, Placed], rows: Mapping[str, Sequence[Mapping]]) -> None:
    """Links each finding to the row it is about, and each row's list of codes to its first finding. The words linked are our own."""
    findings = placed.get("findings")
    if findings is None:
        return
    first: dict[tuple, int] = {}
    for at, row in enumerate(rows["findings"]):
        for id, keys in SUBJECTS.items():
            if id in placed:
                first.setdefault((id, *(row[key] or "" for key in keys)), at)
        if row["go_to"] and at < MOST_LINKS:
            name, _, number = row["go_to"].rpartition(" row ")
            findings.link("go_to", at, f"'{name}'!A{number}", "the row it is about")
    for id, keys in SPEAKERS.items():
        subject = "banks" if id == "panels" else id
        for at, row in enumerate(rows.get(id, ())):
            if row["findings"] and at < MOST_LINKS and id in placed:
                about = first.get((subject, *(row[key] or "" for key in keys)))
                if about is not None:
                    placed[id].link("findings", at, findings.cell("no", about), "the first finding about it")
