"""What the heat check returns: whether a tank's heaters are enough, frozen, read by `batch.schedules`."""

from __future__ import annotations

from math import floor

from msgspec import Struct

from batch.findings import Finding
from batch.records import Tank

ENOUGH, MARGINAL, SHORT, NEVER, NOT_JUDGED = "enough", "marginal", "short", "never gets there", "not judged"
VERDICTS = (NEVER, SHORT, MARGINAL, ENOUGH, NOT_JUDGED)  # worst first


def over_pct(installed_kw: float, need_kw: float) -> float:
    """What is installed in % of the need, rounded down to a tenth: so it is shown, and so it is judged."""
    return floor(round(10.0 * round(100.0 * installed_kw / need_kw, 6), 6)) / 10.0


class TankHeat(Struct, frozen=True):
    """Whether a tank's heaters are enough. Needs are stated to two figures, since no law knows more, rounded up; None where not judged."""

    tag: str
    tank: Tank | None  # None: the tank has no row
    banks: int
    heaters: int
    installed_kw: float  # at the feeder's volts
    one_out_kw: float  # the same with the branch open that costs most
    margin_pct: float
    verdict: str  # "enough", "marginal", "short", "never gets there", "not judged"
    why: str  # what governs, or why it is not judged
    assumed: tuple[str, ...] = ()  # what was taken for blank cells, in words
    liquid: str = ""  # as in the table of liquids
    operating_c: float | None = None
    start_c: float | None = None
    heatup_h: float | None = None
    surface_m2: float | None = None
    volume_l: float | None = None
    stored_kwh: float | None = None  # liquid, shell, load
    rest_kw: float | None = None  # surface, covered as declared, not working
    working_kw: float | None = None  # surface in production
    walls_kw: float | None = None
    work_kw: float | None = None
    makeup_kw: float | None = None
    air_kw: float | None = None
    idle_kw: float | None = None
    up_kw: float | None = None  # None: no time is asked for
    hold_kw: float | None = None
    need_kw: float | None = None
    low_kw: float | None = None
    high_kw: float | None = None
    hours: float | None = None  # to heat up; None: never
    would_do: str = ""  # how many heaters of the listed kind, where they are not enough
    density_w_cm2: float | None = None  # of the bank that works its sheaths hardest
    density_low_w_cm2: float | None = None
    density_high_w_cm2: float | None = None
    basis: tuple[str, ...] = ()
    findings: tuple[Finding, ...] = ()

    @property
    def over_pct(self) -> float | None:
        return over_pct(self.installed_kw, self.need_kw) if self.need_kw else None

    @property
    def judged(self) -> bool:
        return self.verdict != NOT_JUDGED
