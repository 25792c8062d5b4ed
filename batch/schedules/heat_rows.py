"""Rows of Heat."""

from __future__ import annotations

from collections.abc import Iterator

from batch.results import JobResult, ProjectResult, TankHeat
from batch.schedules.words import Row, basis_words, codes
from batch.sizing.tank_heat import two_figures

SAME = (
    "verdict", "why", "liquid", "operating_c", "start_c", "heatup_h", "surface_m2", "volume_l", "stored_kwh", "rest_kw", "walls_kw",
    "idle_kw", "working_kw", "work_kw", "makeup_kw", "air_kw", "up_kw", "hold_kw", "need_kw", "low_kw", "high_kw", "margin_pct", "heaters",
    "installed_kw", "one_out_kw", "would_do", "density_w_cm2", "density_low_w_cm2", "density_high_w_cm2", "assumed",
)  # fmt: skip
HOURS_A_DAY = "hours_a_day"


def heat_rows(result: JobResult) -> Iterator[Row]:
    """Every tank with heaters, judged or not; none where no tank of the job is judged."""
    if not any(row.judged for project in result.projects for row in project.heat):
        return
    day = next((value.value for value in result.code_values if value.name == HOURS_A_DAY), None)
    for project in result.projects:
        for row in project.heat:
            yield _heat(project, row, day)


def _heat(project: ProjectResult, row: TankHeat, day: float | None) -> Row:
    price = project.project.energy_price
    up_kwh = None if row.hours is None or not row.judged else two_figures(row.installed_kw * row.hours)
    day_kwh = None if row.hold_kw is None else two_figures(row.hold_kw * day)
    over = round(100.0 * row.installed_kw / row.need_kw, 6) if row.need_kw else None
    return {
        "project": project.project.project,
        "tank": row.tag,
        "duty": row.tank.duty if row.tank else None,
        **{key: getattr(row, key) for key in SAME},
        "hours_h": row.hours,
        "over_pct": over,
        "up_kwh": up_kwh,
        "day_kwh": day_kwh,
        "energy_price": price,
        "up_cost": None if price is None or up_kwh is None else up_kwh * price,
        "day_cost": None if price is None or day_kwh is None else day_kwh * price,
        "findings": codes(row.findings),
        "basis": basis_words(row.basis),
    }
