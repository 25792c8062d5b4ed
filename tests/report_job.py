"""An invented job, sized, with customer's text that tries to be more than text."""

from __future__ import annotations

from io import BytesIO
from zipfile import ZipFile, ZipInfo

from msgspec.structs import replace

from batch.origin import Origin
from batch.received_rows import ReceivedRow, ReceivedTable
from batch.records import Bank, Feeder, Job, Project, Tank
from batch.results import JobResult
from batch.schedules.reconciliation import reconcile
from batch.sizing.project import size_job
from batch.writing.earlier_file import MADE

NASTY = (
    "=1+1",
    "+1",
    "-1",
    "@SUM(A1)",
    "http://example.invalid/x",
    "mailto:someone@example.invalid",
    "internal:Banks!A1",
    "{=1+1}",
    "'quoted",
    '<b>&"</b>',
    "line\nbreak",
    "tab\tstop",
    "_x0041_",
    "  spaces  ",
    "ünïcode ✓ 漢字 😀",
    "1,250",
    "a\ud800b",
)
HEADINGS = ("Tank", "Qty", "kW", "=Remark", "tank", "", "Fate", "tab\there", "line\nbreak", "_x0041_", "x" * 300)


def job_result(banks: int = 20, feeders: int = 3, project: str = "P-1") -> JobResult:
    """`banks` banks of six 6 kW heaters on `feeders` 480 V feeders of an invented plant; every third has no limit."""
    record = Project(project, "=Invented plating line, for demonstration", "Fictitious Works", "Nowhere", "B", "A. Estimator", "2024-05-06")
    feeds = tuple(Feeder(project, f"F-{at + 1}", 480.0, 3, 3, run_m=30.0) for at in range(feeders))
    tanks = tuple(Tank(project, f"T-{at + 101}", level_cutoff="yes") for at in range(banks))
    columns = {"tank": "A", "quantity": "B", "power_kw": "C"}
    rows = tuple(
        Bank(
            project,
            tanks[at].tank,
            "1",
            feeds[at % feeders].feeder,
            6,
            6.0,
            480.0,
            1,
            heater_run_m=7.62,
            over_temperature_limit="no" if at % 3 == 0 else "yes",
            notes=NASTY[at % len(NASTY)],
            origin=Origin("Heaters", at + 2, columns),
        )
        for at in range(banks)
    )
    received = ReceivedTable(
        "Heaters",
        "heaters",
        1,
        HEADINGS,
        ("tank", "quantity", "power_kw", *[""] * 8),
        (
            *(ReceivedRow("Heaters", at + 2, (row.tank, 6, 6.0, row.notes, True, None, "x")) for at, row in enumerate(rows)),
            ReceivedRow("Heaters", banks + 2, ("Total", banks * 6), "total row"),
        ),
    )
    job = Job("invented plant.xlsx", "0" * 64, (record,), feeds, tanks, rows, (), (received,))
    result = size_job(job)
    return replace(result, checks=reconcile(result))


def earlier_file() -> bytes:
    """What stood there before, by its properties written by this program: a package with hardly anything in it."""
    with ZipFile(held := BytesIO(), "w") as package:
        package.writestr(ZipInfo("docProps/core.xml"), f"<dcterms:modified>{MADE:%Y-%m-%dT%H:%M:%SZ}</dcterms:modified>")
    return held.getvalue()
