"""The columns that are filled in beside a customer's own list, declared once.

Keys are those of the Banks sheet. Every heading begins with the same word, and none of them is a heading that a heater list
is read by: a filled list that comes back is still read by its own columns only.
"""

from __future__ import annotations

from batch.sheets.column import Column, Sheet

FIRST_WORD = "Sized"


def _text(key: str, heading: str, width: float, help: str, *, also: str = "") -> Column:
    return Column(key, f"{FIRST_WORD} {heading}", width=width, role="result", help=help, also=_also(also))


def _number(key: str, heading: str, unit: str, format: str, help: str, *, also: str = "") -> Column:
    return Column(key, f"{FIRST_WORD} {heading}", unit, kind="number", format=format, width=10, role="result", help=help, also=_also(also))


def _also(heading: str) -> tuple[str, ...]:
    """What a column is called in the words of another code."""
    return (f"{FIRST_WORD} {heading}",) if heading else ()


FILLED = Sheet(
    "filled", "Filled in", "row of the list", "What stands to the right of each row of a customer's own list after `fill`.",
    columns=(
        _text("status", "status", 22, "sized; sized, review (a caution); HOLD (not released for fabrication); not sized; not read. A formula: it says \"edited, size again\" by itself where the row no longer says what was sized."),
        _number("heater_a", "heater current", "A", "amps", "Line current of one heater at its rated volts, to 0.01 A."),
        _number("rating_a", "branch OCPD", "A", "rating", "Smallest standard rating that serves one heater's own branch, or what was fixed.", also="branch protective device"),
        _number("branches", "branches", "ea", "count", "Branch circuits of the bank: one for each heater or element circuit."),
        _number("panels", "heater panels", "ea", "count", "Heater panels; 0 where the bank is a single circuit."),
        _number("bank_device_a", "bank OCPD", "A", "rating", "Overcurrent device of a single-circuit bank, in place of branch OCPDs.", also="bank protective device"),
        _text("connection", "connection", 20, "How the heaters are connected."),
        _text("wire", "branch wire", 18, "Wires to each heater."),
        _text("ground", "EGC", 12, "Equipment grounding conductor of each branch.", also="PE"),
        _text("findings", "findings", 60, "Holds and cautions of the row in full, worst first, then the names of its notes; of a row that was not read, why."),
    ),
)

TITLES = tuple(f"{name} ({column.unit})" if column.unit else name for column in FILLED.columns for name in (column.heading, *column.also))
"""Every heading that a filled list may have, in the words of each code."""
