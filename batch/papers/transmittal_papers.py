"""Group 00: what is handed over, what is on hold or to be looked at in it, the cautions, and the index."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from batch.counted_words import counted
from batch.findings import CATALOGUE, Effect, Harm, Severity
from batch.papers.job_at_hand import AtHand, some_held
from batch.papers.open_points import open_in_set
from batch.papers.paper_data import ColumnHead, Paper, PaperFact, PaperTable, table
from batch.papers.paper_sets import NO_MONEY, TRANSMITTAL
from batch.report.findings_groups import Group, grouped
from batch.schedules.finding_list import FINDINGS
from batch.sizing.not_sized import astray_words, missing_words

MOST_TOLD, MOST_ASSUMED = 4, 20  # of one kind of caution, and of assumptions: the rest stands in the workbook
ASSUMED = frozenset({"default-used", "runs-alone", "system-assumed", "feeders-assumed", "raceway-in-full"})


def transmittal_papers(at: AtHand) -> Iterator[Paper]:
    rows = [row for row in at.rows(FINDINGS) if at.audience not in NO_MONEY or row["harm"] != Harm.MONEY.word]
    missing = {one.tank for one in at.project.not_sized}  # told with their banks
    holds = [row for row in rows if row["severity"] == Severity.HOLD.word]
    holds = [row for row in holds if row["effect"] != Effect.NOT_SIZED.word or (row["tank"] or "") not in missing]
    panels = [panel for row in at.project.banks for panel in row.panels]
    held = sum(len(row.panels) for row in at.project.banks if row.hold is not None)
    band = some_held(held, len(panels), "heater panel").replace("see Status", "see below") if held else ""
    relays = any(feed.ground_fault_relay for control in at.project.controls for feed in control.feeds)
    settled = (open_in_set(relays=relays),) if at.project.banks else ()
    yield at.paper(
        TRANSMITTAL, "transmittal", "Transmittal",
        band=band, facts=tuple(_facts(at)), tables=(*_not_sized(at), *_holds(holds), *_cautions(rows), *_assumed(rows), *settled),
        notes=tuple(f"{words} ({basis})" if basis else words for words, basis in at.result.cautions),
    )  # fmt: skip
    yield at.paper(TRANSMITTAL, "index", "Index of papers", band=band)


def _facts(at: AtHand) -> Iterator[PaperFact]:
    project = at.project
    banks = project.banks
    heaters, kw = sum(row.bank.quantity for row in banks), sum(row.design.connected_kw for row in banks)
    tanks, panels = len({row.bank.tank.casefold() for row in banks}), sum(len(row.panels) for row in banks)
    single = sum(row.design.single_circuit is not None for row in banks)
    alone = "single-circuit bank"
    yield PaperFact(
        "What it is",
        f"{counted(tanks, 'tank')} with {counted(heaters, 'heater')}, {kw:,.6g} kW connected, in {counted(panels, 'heater panel')} of "
        f"{counted(len(project.types), 'type')}"
        f"{f' and {counted(single, alone)}' if single else ''}, "
        f"on {counted(len(project.feeders), 'feeder')}",
    )
    missing = len(project.not_sized)
    if missing:
        yield PaperFact("Not in it", f"{missing_words(project.not_sized)}: in no total, each below")
    if project.astray:
        yield PaperFact("Perhaps not in it", f"{astray_words(project.astray)}: the results workbook names them")
    held = sum(row.hold is not None for row in banks)
    if held:
        yield PaperFact(
            "On hold", f"{held:,} of {counted(len(banks), 'bank')}: no label, nameplate or test record until the hold is put right"
        )
    yield PaperFact("Code basis", at.result.code_titles.get(project.rule_set, project.rule_set))
    memory, quoted = (sum(getattr(value, how) for value in at.result.code_values) for how in ("from_memory", "quoted"))
    yield PaperFact(
        "Values behind it",
        f"{len(at.result.code_values):,}, of which {memory} from memory and {quoted} quoted, the document not seen; Code basis of the "
        "results workbook names each with its source",
    )
    if project.project.prepared_by:
        yield PaperFact("Prepared by", project.project.prepared_by)


def _not_sized(at: AtHand) -> Iterator[PaperTable]:
    """The banks that came to nothing, on the page that goes with every set: whoever has no schedule is to know of them too."""
    if not at.project.not_sized:
        return
    headings = (
        ColumnHead("Tank", share=1.2), ColumnHead("Bank", share=0.6), ColumnHead("Feeder", share=0.8),
        ColumnHead("By its row", "kW", "right", 0.8), ColumnHead("Why it is not sized", share=5.0), ColumnHead("What to do", share=4.0),
    )  # fmt: skip
    rows = []
    for one in at.project.not_sized:
        said = [finding for finding in one.findings if finding.kind.effect is Effect.NOT_SIZED]
        power = "" if one.connected_kw is None else f"{one.connected_kw:,.6g}"
        why = " ".join(dict.fromkeys(finding.message for finding in said)) or one.why
        rows.append((one.tank, one.label, one.feeder, power, why, " ".join(dict.fromkeys(finding.kind.advice for finding in said))))
    yield table("Not sized, in no total", headings, tuple(rows), tuple(range(len(rows))))


def _holds(holds: Sequence[Mapping]) -> Iterator[PaperTable]:
    if not holds:
        return
    headings = (
        ColumnHead("Tank", share=1.2), ColumnHead("Bank", share=0.6), ColumnHead("Feeder", share=0.8), ColumnHead("Effect", share=1.6),
        ColumnHead("What holds it", share=5.0), ColumnHead("What to do", share=4.0),
    )  # fmt: skip
    rows = tuple(
        (row["tank"] or "", row["bank"] or "", row["feeder"] or "", row["effect"] or "", row["message"], row["advice"]) for row in holds
    )
    yield table("On hold, and why", headings, rows, tuple(at for at, row in enumerate(holds) if row["effect"] != Effect.NONE.word))


def _cautions(rows: Sequence[Mapping]) -> Iterator[PaperTable]:
    groups = [group for group in grouped(rows) if group.severity is Severity.CAUTION]
    if groups:
        headings = (ColumnHead("Rows", "", "right", 0.5), ColumnHead("Can end in", share=0.9), ColumnHead("What", share=7.0),
                    ColumnHead("What to do", share=4.5))  # fmt: skip
        texts = tuple(
            (f"{one.rows:,}", rows[one.first]["harm"] or "", _where_and_what(one, rows), rows[one.first]["advice"]) for one in groups
        )
        yield table("To be looked at before use", headings, texts)


def _where_and_what(group: Group, rows: Sequence[Mapping]) -> str:
    """What a group of cautions says of the first of those that it is about, by their tags, and how many more there are."""
    kind = CATALOGUE[group.code]
    own = [row for row in rows if row["code"] == group.code and group.words in (row["message"], kind.title)]
    said = [": ".join(filter(None, (row["tank"] or row["feeder"], row["message"]))) for row in own[:MOST_TOLD]]
    more = [f"And {len(own) - MOST_TOLD:,} more, in Findings of the results workbook."] if len(own) > MOST_TOLD else []
    words = " ".join([*said, *more])
    return words if words.startswith(kind.title) else f"{kind.title}. {words}"  # what is said once for a project begins with its title


def _assumed(rows: Sequence[Mapping]) -> Iterator[PaperTable]:
    """What the job leaves blank and these papers rest on, in the words of its notes."""
    own = [row for row in rows if row["code"] in ASSUMED]
    if own:
        headings = (ColumnHead("What", share=1.5), ColumnHead("What was taken", share=7.0), ColumnHead("What to do", share=3.5))
        texts = tuple((CATALOGUE[row["code"]].title, row["message"], row["advice"]) for row in own[:MOST_ASSUMED])
        more = f"{len(own) - MOST_ASSUMED:,} more are in Findings of the results workbook." if len(own) > MOST_ASSUMED else ""
        yield table("Taken where the job says nothing", headings, texts, note=more)
