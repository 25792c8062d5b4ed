"""The result sheets, each declared in a file of its own, and their rows: dictionaries by column key, canonical units or None."""

from __future__ import annotations

from collections.abc import Collection, Iterator

from batch.results import JobResult
from batch.schedules.bank_schedule import BANKS
from batch.schedules.box_list import BOXES
from batch.schedules.build_list import BUILDS
from batch.schedules.buy_list import BUY_LIST
from batch.schedules.carried_forward_list import CARRIED_FORWARD
from batch.schedules.check_list import CHECKS
from batch.schedules.circuit_schedule import CIRCUITS
from batch.schedules.code_basis_list import CODE_BASIS
from batch.schedules.control_circuit_list import CONTROL_CIRCUIT
from batch.schedules.control_label_list import CONTROL_LABELS
from batch.schedules.control_schedule import CONTROL
from batch.schedules.distribution_schedule import DISTRIBUTION
from batch.schedules.earth_fault_schedule import EARTH_FAULTS
from batch.schedules.feeder_schedule import FEEDERS
from batch.schedules.finding_list import FINDINGS
from batch.schedules.heat_schedule import HEAT
from batch.schedules.label_list import PANEL_LABELS
from batch.schedules.material_list import MATERIALS
from batch.schedules.panel_schedule import PANELS
from batch.schedules.price_schedule import PRICES
from batch.schedules.price_view_list import PRICE_VIEWS
from batch.schedules.pricing_list import PRICING_USED
from batch.schedules.question_list import QUESTIONS
from batch.schedules.reading_list import HOW_READ
from batch.schedules.row_words import NOT_SIZED, Row, status_of
from batch.schedules.run_schedule import RUNS
from batch.schedules.schedule import Schedule
from batch.schedules.source_schedule import SOURCES
from batch.schedules.type_schedule import PANEL_TYPES
from batch.schedules.wiring_schedule import WIRING
from batch.schedules.wiring_tag_list import WIRING_TAGS

__all__ = ["CHECKS", "RESULTS", "Row", "Schedule", "each_row", "rows", "sized_rows", "status_of"]

RESULTS: tuple[Schedule, ...] = (
    BANKS, PANELS, PANEL_TYPES, CIRCUITS, SOURCES, FEEDERS, DISTRIBUTION, EARTH_FAULTS, BOXES, CONTROL, CONTROL_CIRCUIT, HEAT, PRICES,
    PRICE_VIEWS, PRICING_USED, BUY_LIST, BUILDS, MATERIALS, RUNS, PANEL_LABELS, CONTROL_LABELS, WIRING, WIRING_TAGS, CARRIED_FORWARD,
    QUESTIONS, FINDINGS, HOW_READ, CODE_BASIS, CHECKS,
)  # fmt: skip
BY_ID = {sheet.id: sheet for sheet in RESULTS}


def each_row(result: JobResult, sheet_id: str, keys: Collection[str] = ()) -> Iterator[Row]:
    """The rows of one result sheet, one after the other, or of each these columns; KeyError for a sheet that is not one of RESULTS."""
    return BY_ID[sheet_id].some_of(result, keys) if keys else BY_ID[sheet_id].rows_of(result)


def sized_rows(result: JobResult, sheet_id: str) -> list[Row]:
    """The same without the rows of what could not be sized: Banks has one for each bank sized, Feeders one for each feeder sized."""
    return [row for row in each_row(result, sheet_id) if row.get("status") != NOT_SIZED]


def rows(result: JobResult, sheet_id: str) -> list[Row]:
    """The rows of one result sheet; KeyError for a sheet that is not one of RESULTS."""
    return list(each_row(result, sheet_id))
