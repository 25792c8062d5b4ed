"""Quantities in words, for findings and descriptions: feet, gallons and °F first, with metric in brackets."""

from __future__ import annotations

from math import ceil, floor

from batch.units import FOOT


def amps(value: float) -> str:
    """ "12.5 A": to what a reader can use."""
    if value >= 100_000:
        return f"{value / 1000:,.0f} kA"
    return f"{value:.5g} A" if value < 100 else f"{round(value, 2):g} A"


def amps_above(value: float, limit: float) -> str:
    """ "48.0001 A": with as many digits as it takes to stand apart from the limit it is compared with."""
    words = amps(value)
    return f"{value:.9g} A" if words == amps(limit) and value != limit else words


def volts(value: float) -> str:
    return f"{value:.4g} V"


def sentence(words: str) -> str:
    """The words as they open a sentence; a tag in them keeps its capitals."""
    return words[:1].upper() + words[1:]


def air(ambient_c: float, fahrenheit: bool) -> str:
    """ "104 °F (40 °C)" where the trade speaks of both, else "40 °C"."""
    return f"{ambient_c * 9 / 5 + 32:.4g} °F ({ambient_c:g} °C)" if fahrenheit else f"{ambient_c:g} °C"


def size_words(size: str) -> str:
    """ "12 AWG", "1/0 AWG", "250 kcmil", "2.5 mm²"."""
    if size.endswith("mm²"):
        return size
    return f"{size} kcmil" if size.isdigit() and int(size) >= 250 else f"{size} AWG"


def poles_words(lines: int, neutral: bool = False) -> str:
    """ "3-pole", "4-pole with the neutral"."""
    return f"{lines + 1}-pole with the neutral" if neutral else f"{lines}-pole"


def celsius(value: float) -> str:
    """ "180 °F (82.2 °C)"."""
    return f"{round(value * 1.8 + 32, 1):g} °F ({round(value, 1):g} °C)"


def kelvins(value: float) -> str:
    """ "9 °F (5 K)", a difference."""
    return f"{round(value * 1.8, 1):g} °F ({round(value, 1):g} K)"


def energy(value: float) -> str:
    """ "476 × 10³ A²s": kA²s is a thousand A²s to the trade, and a million by the rules of units."""
    return f"{value / 1000.0:,.3g} × 10³ A²s" if value < 1e6 else f"{value / 1000.0:,.0f} × 10³ A²s"


def litres(value: float) -> str:
    """ "450 gal (1,703 L)"."""
    return f"{value / 3.785411784:,.0f} gal ({value:,.0f} L)"


def metres(value: float) -> str:
    """ "30 ft (9.14 m)"."""
    return f"{round(value / FOOT, 1):g} ft ({round(value, 2):g} m)"


def millimetres(value: float) -> str:
    """ "72.0 in (1,829 mm)"."""
    return f"{value / 25.4:,.1f} in ({value:,.0f} mm)"


def kilowatts(value: float) -> str:
    """ "10.999 kW": what is installed, to a watt and never rounded up to what is asked for."""
    return f"{floor(round(1000.0 * value, 6)) / 1000.0:.10g} kW"


def per_square(w_cm2: float) -> str:
    """ "20 W/in² (3.1 W/cm²)"."""
    return f"{w_cm2 * 6.4516:.0f} W/in² ({w_cm2:.1f} W/cm²)"


def range_per_square(low: float, high: float) -> str:
    """ "15 to 20 W/in² (2.3 to 3.1 W/cm²)"."""
    return f"{low * 6.4516:.0f} to {high * 6.4516:.0f} W/in² ({low:.1f} to {high:.1f} W/cm²)"


def fault_current(fault_ka: float) -> str:
    """ "3.5 kA": what is available at a place, as a label, a drawing or an order states it: to a tenth, never rounded down."""
    return f"{ceil(round(10 * fault_ka, 6)) / 10:.1f} kA"
