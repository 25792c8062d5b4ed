"""Heat: whether each tank has heat enough."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from msgspec.structs import replace

from batch.heat_results import TankHeat
from batch.results import JobResult, ProjectResult
from batch.schedules.hanging import of_tanks
from batch.schedules.row_words import basis_words, kinds_said
from batch.schedules.schedule import (
    Schedule,
    calculated,
    given,
    grouped,
    its_basis,
    its_findings,
    its_project,
    its_status,
    its_tank,
    selected,
    text,
    with_look_up,
)
from batch.sizing.tank_heat import two_figures

HOURS_A_DAY = "hours_a_day"


class HeatLine(NamedTuple):
    """A tank; `day` are the hours of one."""

    project: ProjectResult
    row: TankHeat
    day: float | None
    status: str


def _items(result: JobResult) -> Iterator[HeatLine]:
    """Every tank with heaters, judged or not; none where no tank of the job is judged, of which this may be a section."""
    section = result.job.section
    if not (section and section.heat) and not any(row.judged for project in result.projects for row in project.heat):
        return
    day = next((float(value.value) for value in result.code_values if value.name == HOURS_A_DAY), None)
    for project in result.projects:
        status = of_tanks(project)
        for row in project.heat:
            yield HeatLine(project, row, day, status[row.tag.casefold()])


def _up_kwh(at: HeatLine) -> float | None:
    return None if at.row.hours is None or not at.row.judged else two_figures(at.row.installed_kw * at.row.hours)


def _day_kwh(at: HeatLine) -> float | None:
    return None if at.row.hold_kw is None or at.day is None else two_figures(at.row.hold_kw * at.day)


def _cost(at: HeatLine, kwh: float | None) -> float | None:
    price = at.project.project.energy_price
    return None if price is None or kwh is None else kwh * price


def _two(sum_of: str) -> str:
    """Formula: to two figures, no finer than a hundredth (`batch.sizing.tank_heat.two_figures` is what it must agree with). Ten is written
    1000/100: it is none of the numbers that a formula may hold."""
    return f"ROUND({sum_of},(({sum_of})<1)+(({sum_of})<1000/100)+(({sum_of})<100)-(({sum_of})>=1000)-1)"


def _two_up(sum_of: str) -> str:
    """Formula: the same, up, as `two_figures_up` there."""
    return f"ROUNDUP(ROUND({sum_of},6),(({sum_of})<1)+(({sum_of})<1000/100)+(({sum_of})<100)-(({sum_of})>=1000)-1)"


def _where(key: str, formula: str) -> str:
    return f'IF([{key}]="","",{formula})'


VERDICT = (
    'IF([need_kw]="","not judged",IF([installed_kw]<=[idle_kw],"never gets there",'
    'IF([over_pct]>=100+[margin_pct],"enough","")&IF(([over_pct]>=100)*([over_pct]<100+[margin_pct])>0,"marginal","")'
    '&IF([over_pct]<100,"short","")))'
)

HEAT = Schedule(
    "heat", "Heat", "tank",
    "Is it enough heat: what each tank needs to heat up and to hold, against what its heaters deliver. Needs are good to two figures, no better: they are rounded up to two, and judged as they stand here.",
    key=("project", "tank"),
    as_sized=("operating_c", "start_c", "heatup_h", "surface_m2", "volume_l", "margin_pct", "installed_kw"),
    items=_items,
    columns=(
        its_project("project.project.project"),
        its_tank("row.tag"),
        text("verdict", "Verdict", 15, "row.verdict",
             role="result", formula=VERDICT, help="enough: with the margin; marginal: without it; short; never gets there: loses more than it gets; not judged: too little is known."),
        its_status("status"),
        text("why", "Governed by", 36, "row.why",
             help="Heat-up or holding, whichever needs more; or why it is not judged."),
        selected("need_kw", "Need", "kW", "two_figures", "row.need_kw",
                 formula=_where("hold_kw", "MAX([up_kw],[hold_kw])"), help="The greater of both, without margin; rounded up to two figures, and so judged."),
        calculated("low_kw", "Need, low", "kW", "two_figures", "row.low_kw",
                   help="The band that the laws deserve: tested correlations differ by 20 to 25 % in still air, by half in a draught."),
        calculated("high_kw", "Need, high", "kW", "two_figures", "row.high_kw",
                   help="Its other end."),
        given("margin_pct", "Heat margin", "%", "percent", "row.margin_pct",
              help="The project's, over the need."),
        calculated("heaters", "Heaters", "ea", "count", "row.heaters",
                   total="sum", help="Heaters in the tank."),
        given("installed_kw", "Installed", "kW", "kw", "row.installed_kw",
              total="sum", help="What its banks deliver at the feeder's volts; one on hold no more than its heaters are rated for."),
        calculated("one_out_kw", "With one branch out", "kW", "kw", "row.one_out_kw",
                   help="The same with the one branch open that costs most; a bank on a single circuit is out as a whole."),
        calculated("over_pct", "Installed / need", "%", "percent", "row.over_pct", also=("Installed over need",),
                   formula='IFERROR(ROUNDDOWN(ROUND(100*[installed_kw]/[need_kw],6),1),"")', help="100 is just the need; enough is 100 and the margin. Rounded down to a tenth."),
        selected("hours_h", "Hours to heat up", "h", "two_figures", "row.hours",
                 help="With what is installed, integrated against the losses on the way, rounded up; blank: never."),
        text("would_do", "Heaters that would do", 30, "row.would_do",
             role="result", help="Of the kind listed, where they are not enough."),
        text("duty", "Duty", 18, lambda at: at.row.tank.duty if at.row.tank else None,
             role="input", help="As given."),
        text("liquid", "Liquid taken as", 34, "row.liquid",
             help="Row of the table of liquids (see Code basis) that the tank's liquid was taken as."),
        given("operating_c", "Operating temperature", "°C", "temperature", "row.operating_c",
              us_unit="°F", help="As given."),
        *grouped("What it holds and loses",
            given("start_c", "Start temperature", "°C", "temperature", "row.start_c",
                  us_unit="°F", help="As given, or a winter fill."),
            given("heatup_h", "Heat-up time asked for", "h", "hours", "row.heatup_h",
                  help="Blank: judged on holding alone."),
            given("surface_m2", "Surface", "m²", "length", "row.surface_m2",
                  us_unit="ft²", help="Length x width."),
            given("volume_l", "Volume", "L", "volume", "row.volume_l",
                  us_unit="gal", help="Given, or length x width x depth."),
            calculated("stored_kwh", "Heat stored", "kWh", "energy", "row.stored_kwh",
                       help="What liquid, shell and load take up from start to operating temperature."),
            calculated("rest_kw", "Surface at rest", "kW", "two_figures", "row.rest_kw",
                       help="Evaporation, convection and radiation, covered as declared, before work."),
            calculated("walls_kw", "Walls and bottom", "kW", "two_figures", "row.walls_kw",
                       help="Through shell and insulation."),
            calculated("idle_kw", "Lost before work", "kW", "two_figures", "row.idle_kw",
                       formula=_where("rest_kw", _two_up("[rest_kw]+[walls_kw]")), help="Surface at rest and walls, at operating temperature; rounded up."),
            calculated("working_kw", "Surface at work", "kW", "two_figures", "row.working_kw",
                       help="A lid counts as off, a fixed cover or floating balls as on."),
            calculated("work_kw", "Work", "kW", "two_figures", "row.work_kw",
                       help="What the parts carry away."),
            calculated("makeup_kw", "Make-up", "kW", "two_figures", "row.makeup_kw",
                       help="Cold liquid added, and at least what replaces the water that evaporates."),
            calculated("air_kw", "Air agitation", "kW", "two_figures", "row.air_kw",
                       help="Free surface that the spargers add."),
                ),
        calculated("up_kw", "Need to heat up", "kW", "two_figures", "row.up_kw",
                   formula=f'IFERROR({_two_up("[stored_kwh]/[heatup_h]+{half_the_losses}*[idle_kw]")}/([stored_kwh]<>""),"")', help="Heat stored over the time asked for, and half of what is lost before work; or what the integrated time asks for, where that is more."),
        calculated("hold_kw", "Need to hold", "kW", "two_figures", "row.hold_kw",
                   formula=_where("working_kw", _two_up("[working_kw]+[walls_kw]+[work_kw]+[makeup_kw]+[air_kw]")), help="Everything lost in production. No rectifier heat is credited."),
        *grouped("Energy and cost",
            calculated("up_kwh", "Energy to heat up once", "kWh", "two_figures", _up_kwh,
                       formula=_where("hours_h", _two("[installed_kw]*[hours_h]")), help="Installed power over the hours to heat up."),
            calculated("day_kwh", "Energy to hold a day", "kWh", "two_figures", _day_kwh,
                       total="sum", formula=_where("hold_kw", _two("[hold_kw]*{hours_a_day}")), help="24 hours of production."),
            given("energy_price", "Energy price", "per kWh", "number", "project.project.energy_price",
                  help="The project's; blank: no cost."),
            calculated("up_cost", "Cost to heat up once", "currency", "two_figures", lambda at: _cost(at, _up_kwh(at)),
                       formula='IF(([energy_price]="")+([up_kwh]="")>0,"",[up_kwh]*[energy_price])', help="Energy times price."),
            calculated("day_cost", "Cost to hold a day", "currency", "two_figures", lambda at: _cost(at, _day_kwh(at)),
                       total="sum", formula='IF(([energy_price]="")+([day_kwh]="")>0,"",[day_kwh]*[energy_price])', help="Energy times price."),
                ),
        calculated("density_w_cm2", "Watt density", "W/cm²", "watt_density", "row.density_w_cm2",
                   us_unit="W/in²", help="Of the bank whose sheaths work hardest, at the applied volts."),
        *grouped("Watt density of the liquid",
            calculated("density_low_w_cm2", "Watt density, careful", "W/cm²", "watt_density", "row.density_low_w_cm2",
                       us_unit="W/in²", help="Lower end of what the liquid is heated with. From memory."),
            calculated("density_high_w_cm2", "Watt density, most", "W/cm²", "watt_density", "row.density_high_w_cm2",
                       us_unit="W/in²", help="Upper end. From memory."),
                ),
        *with_look_up(replace(its_findings(lambda at: kinds_said(at.row.findings)), help="Cautions of this tank; see Findings.")),
        text("assumed", "Assumed", 160, lambda at: ", ".join(at.row.assumed),
             on_paper=False, help="What was taken for blank cells of Tanks. Not printed: Findings says it once."),
        its_basis(lambda at: basis_words(at.row.basis)),
    ),
)
