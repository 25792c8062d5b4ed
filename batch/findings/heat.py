"""Kinds of finding that the heat check raises: is it enough heat, and do the sheaths suit the liquid."""

from __future__ import annotations

from batch.findings.record import Harm, Kind, Severity

CAUTION, NOTE = Severity.CAUTION, Severity.NOTE
FIRE, OTHER = Harm.FIRE, Harm.OTHER
PRACTICE = "common practice, no source"
BALANCE = "heat balance of the tank: stored heat, surface, walls, work, make-up, air"


def _caution(code: str, title: str, template: str, basis: str, advice: str, *, harm: Harm = OTHER) -> Kind:
    return Kind(code, CAUTION, title, template, basis, advice, harm=harm)


def _note(code: str, title: str, template: str, basis: str, advice: str, *, by_project: bool = False) -> Kind:
    return Kind(code, NOTE, title, template, basis, advice, by_project=by_project)


HEAT: tuple[Kind, ...] = (
    _caution("heat-never", "Never gets to its temperature",
             "{installed} is installed; the tank loses {idle} at {operating} before any work, so it never gets there. It needs {need}, between {low} and {high}.", BALANCE,
             "Install more heat (Heat says how many heaters would do), cover the surface, insulate, or lower the temperature."),
    _caution("heat-short", "Not enough heat", "{installed} is installed; the tank needs {need} for {governs}, between {low} and {high}.{late}", BALANCE,
             "Install more heat (Heat says how many heaters would do), allow more time, cover the surface, or insulate."),
    _caution("heat-marginal", "Heat without margin", "{installed} is installed; the tank needs {need} for {governs}, between {low} and {high}: enough, but not by the margin of {margin}.", BALANCE,
             "Install more heat, or say a smaller Heat margin where the tank has been measured."),
    _note("heat-not-judged", "Heat not judged", "Not known for the heat check of this tank: {cells}.", "a tank is not guessed",
          "Ask the customer, and fill the cells on the Tanks sheet.", by_project=True),
    _note("heat-no-tank", "No tank data", "{count:tank with heaters has|tanks with heaters have} no row on the Tanks sheet: whether {count:~its|their} heat is enough is not judged.", "a tank is not guessed",
          "Ask the customer for their sizes, temperatures and heat-up times."),
    _note("heat-bank-refused", "Heat not judged for want of a bank", "A bank of this tank is not sized, so its installed heat is not known.", BALANCE, "Put that bank right."),
    _note("heat-up-not-judged", "Heat-up time not given", "No heat-up time is given: the tank is judged on holding its temperature alone, and Heat says how long it takes.", BALANCE,
          "Ask the customer, and fill Heat-up time."),
    _note("heat-default", "Tank cells left blank", "Left blank, and so by default: {settings}. Heat of tanks on Code basis says why.",
          "heat of tanks, defaults on Code basis", "Fill the cells on the Tanks sheet where they are known.", by_project=True),
    _note("liquid-unknown", "Liquid not known", "{liquid} is not in the table of liquids: water is taken for the heat check, and the watt density of its heaters is not judged.", "table of liquids",
          "Use one of the names of the table (see Code basis), and ask about strong caustic, oil or wax: they are not like water."),
    _note("material-unknown", "Material not known", "{material} is not in the table of tank materials: {used} is taken for the heat check.", "table of tank materials",
          "Use one of the names of the table (see Code basis)."),
    _note("tank-material-open", "Tank material to be asked for", "Tank material is blank, and plain carbon steel does not bear {liquid}. What is the tank made of or lined with? Until it is said the heat is reckoned as of lined {used}, which of steel and plastics asks for the most.",
          "table of liquids, from memory; " + PRACTICE, "Ask the customer, and fill Tank material on the Tanks sheet.", by_project=True),
    _caution("bath-boils", "Bath at its boiling point", "{operating} is nearer than {distance} to the boiling point of {liquid}, {boils}: the tank is not judged.", "no heat balance holds for a boiling bath; sea level",
             "Correct the temperature or its unit, or the liquid.", harm=FIRE),
    _caution("start-frozen", "Frozen at the start", "{start} is below the freezing point of {liquid}, {freezes}: its melting is counted in, but heaters must not be energized in a frozen bath.", PRACTICE,
             "Correct the start temperature or its unit, or thaw the bath by other means first.", harm=FIRE),
    _caution("start-not-below", "Starts no colder than it works", "The start temperature {start} is not below the operating temperature {operating}: nothing to heat up.", PRACTICE,
             "Correct Start temperature or Operating temperature."),
    _caution("volume-odd", "Volume does not fit the tank", "A volume of {given} is stated; length x width x depth are {worked_out}.", PRACTICE,
             "Correct one of them: a round tank holds 21 % less than its square, and an imperial gallon is a fifth more than a US one."),
    _caution("tank-size-unlikely", "Tank of an unlikely size", "Few process tanks are of that size: {sides}.", PRACTICE,
             "Look whether the unit is the one meant, feet, inches, metres or millimetres, and correct the cell; the heat is judged as it stands."),
    _caution("shell-too-hot", "Too hot for the tank's material", "{operating} is above what {material} usually bears, {highest}.", "plastics handbooks, from memory",
             "Ask the tank's maker, or correct material or temperature.", harm=FIRE),
    _note("heat-beyond-tests", "Hotter than the laws were tested", "{operating} is above {tested}, where the evaporation laws were last tested: the need is less certain than its band says.",
          "HVAC&R Research 8 (2002) 125, abstract", "Compare with a tank that runs."),
    _note("heat-generous", "Far more heat than needed", "{installed} is installed; the tank needs {need}, less than a third of it.", PRACTICE,
          "Check the power, its unit, and the tank's sizes.", by_project=True),
    _caution("watt-density", "Watt density high", "The sheaths work at {density}; {liquid} takes {usual}.", "table of liquids, from memory",
             "Ask the heater's maker for the liquid, or use more or longer heaters: a sheath that is too hot scales, cokes or fails.", harm=FIRE),
    _note("watt-density-upper", "Watt density in its upper range", "The sheaths work at {density}; {liquid} takes {usual}.", "table of liquids, from memory",
          "Good where the bath is stirred and clean; else use a lower one.", by_project=True),
    _note("watt-density-unknown", "Watt density not judged", "Heated length or diameter is not given: the watt density is not judged.", "a sheath is not guessed", "Ask the heater's maker, and fill both.", by_project=True),
    _note("tubes-assumed", "Heated tubes assumed", "Heated tubes was left blank: {count} a heater, each of the heated length.", PRACTICE, "Fill Heated tubes: the watt density goes with it."),
    _caution("heater-longer-than-tank", "Heater longer than the tank", "A heated length of {length} is more than any side of the tank, {longest}.", "the tank's own sizes",
             "Correct one of them; where the length is that of several tubes or passes, fill Heated tubes and give the length of one."),
)
