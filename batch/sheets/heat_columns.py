"""The sheet Heat: every column, declared once. Values come from `batch.schedules.heat_rows`."""

from __future__ import annotations

from dataclasses import replace

from batch.sheets.column import Column, Sheet
from batch.sheets.results import BASIS, FINDINGS_OF_ROW, PROJECT, TANK, _calc, _given, _result, _text


def _two(sum_of: str) -> str:
    """Formula: to two figures, no finer than a hundredth (`batch.sizing.tank_heat.two_figures` is what it must agree with)."""
    return f"ROUND({sum_of},(({sum_of})<1)+(({sum_of})<1000/100)+(({sum_of})<100)-(({sum_of})>=1000)-1)"


def _where(key: str, formula: str) -> str:
    return f'IF([{key}]="","",{formula})'


def _kw(key: str, heading: str, make=_calc, **more) -> Column:
    return make(key, heading, "kW", "two_figures", **more)


VERDICT = (
    'IF([need_kw]="","not judged",IF([installed_kw]<=[idle_kw],"never gets there",'
    'IF([over_pct]>=100+[margin_pct],"enough","")&IF(([over_pct]>=100)*([over_pct]<100+[margin_pct])>0,"marginal","")'
    '&IF([over_pct]<100,"short","")))'
)

HEAT = Sheet(
    "heat", "Heat", "tank",
    "Is it enough heat: what each tank needs to heat up and to hold, against what its heaters deliver. Needs are good to two figures, no better.",
    key=("project", "tank"),
    as_sized=("operating_c", "start_c", "heatup_h", "surface_m2", "volume_l", "margin_pct", "installed_kw"),
    columns=(
        PROJECT, TANK,
        _text("verdict", "Verdict", 15, role="result", formula=VERDICT,
              help="enough: with the margin; marginal: without it; short; never gets there: loses more than it gets; not judged: too little is known."),
        _text("why", "Governed by", 26, help="Heat-up or holding, whichever needs more; or why it is not judged."),
        _kw("need_kw", "Need", _result, help="The greater of both, without margin.", formula=_where("hold_kw", "MAX([up_kw],[hold_kw])")),
        _kw("low_kw", "Need, low", help="The band that the laws deserve: tested correlations differ by 20 to 25 % in still air, by half in a draught."),
        _kw("high_kw", "Need, high", help="Its other end."),
        _given("margin_pct", "Heat margin", "%", "percent_0", help="The project's, over the need."),
        _calc("heaters", "Heaters", "ea", "count", total="sum", help="Heaters in the tank."),
        _given("installed_kw", "Installed", "kW", "kw", total="sum", help="What its banks deliver at the feeder's volts."),
        _calc("one_out_kw", "With one branch out", "kW", "kw", help="The same with the one branch open that costs most; a bank on a single circuit is out as a whole."),
        _calc("over_pct", "Installed over need", "%", "percent_0", help="100 is just the need; enough is 100 and the margin.",
              formula='IFERROR(ROUND(100*[installed_kw]/[need_kw],6),"")'),
        _result("hours_h", "Hours to heat up", "h", "two_figures", help="With what is installed, integrated against the losses on the way; blank: never."),
        _text("would_do", "Heaters that would do", 30, role="result", help="Of the kind listed, where they are not enough."),
        _text("duty", "Duty", 18, role="input", help="As given."),
        _text("liquid", "Liquid taken as", 24, help="Row of the table of liquids (see Code basis) that the tank's liquid was taken as."),
        _given("operating_c", "Operating temperature", "°C", "temperature", us_unit="°F", help="As given."),
        _given("start_c", "Start temperature", "°C", "temperature", us_unit="°F", help="As given, or a winter fill."),
        _given("heatup_h", "Heat-up time asked for", "h", "hours", help="Blank: judged on holding alone."),
        _given("surface_m2", "Surface", "m²", "length", us_unit="ft²", help="Length x width."),
        _given("volume_l", "Volume", "L", "volume", us_unit="gal", help="Given, or length x width x depth."),
        _calc("stored_kwh", "Heat stored", "kWh", "energy", help="What liquid, shell and load take up from start to operating temperature."),
        _kw("rest_kw", "Surface at rest", help="Evaporation, convection and radiation, covered as declared, before work."),
        _kw("walls_kw", "Walls and bottom", help="Through shell and insulation."),
        _kw("idle_kw", "Lost before work", help="Surface at rest and walls, at operating temperature.", formula=_where("rest_kw", _two("[rest_kw]+[walls_kw]"))),
        _kw("working_kw", "Surface at work", help="A lid counts as off, a fixed cover or floating balls as on."),
        _kw("work_kw", "Work", help="What the parts carry away."),
        _kw("makeup_kw", "Make-up", help="Cold liquid added, and at least what replaces the water that evaporates."),
        _kw("air_kw", "Air agitation", help="Free surface that the spargers add."),
        _kw("up_kw", "Need to heat up", help="Heat stored over the time asked for, and half of what is lost before work; or what the integrated time asks for, where that is more.",
            formula=_where("stored_kwh", f'IFERROR({_two("[stored_kwh]/[heatup_h]+{half_the_losses}*[idle_kw]")},"")')),
        _kw("hold_kw", "Need to hold", help="Everything lost in production. No rectifier heat is credited.",
            formula=_where("working_kw", _two("[working_kw]+[walls_kw]+[work_kw]+[makeup_kw]+[air_kw]"))),
        _calc("up_kwh", "Energy to heat up once", "kWh", "two_figures", help="Installed power over the hours to heat up.",
              formula=_where("hours_h", _two("[installed_kw]*[hours_h]"))),
        _calc("day_kwh", "Energy to hold a day", "kWh", "two_figures", total="sum", help="24 hours of production.",
              formula=_where("hold_kw", _two("[hold_kw]*{hours_a_day}"))),
        _given("energy_price", "Energy price", "per kWh", "number", help="The project's; blank: no cost."),
        _calc("up_cost", "Cost to heat up once", "currency", "two_figures", help="Energy times price.",
              formula='IF(([energy_price]="")+([up_kwh]="")>0,"",[up_kwh]*[energy_price])'),
        _calc("day_cost", "Cost to hold a day", "currency", "two_figures", total="sum", help="Energy times price.",
              formula='IF(([energy_price]="")+([day_kwh]="")>0,"",[day_kwh]*[energy_price])'),
        _calc("density_w_cm2", "Watt density", "W/cm²", "watt_density", us_unit="W/in²", help="Of the bank whose sheaths work hardest, at the applied volts."),
        _calc("density_low_w_cm2", "Watt density, careful", "W/cm²", "watt_density", us_unit="W/in²", help="Lower end of what the liquid is heated with. From memory."),
        _calc("density_high_w_cm2", "Watt density, most", "W/cm²", "watt_density", us_unit="W/in²", help="Upper end. From memory."),
        replace(FINDINGS_OF_ROW, help="Codes of the cautions of this tank; see Findings."),
        _text("assumed", "Assumed", 40, help="What was taken for blank cells of Tanks."),
        BASIS,
    ),
)
