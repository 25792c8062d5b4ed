"""What a person is told about an input column: small print, message, drop-down and limits, all from its declaration."""

from __future__ import annotations

from collections.abc import Sequence

from batch.sheets import Column

SHORT, LONG = 32, 255  # what a cell's input message can hold (ECMA-376 part 1, 18.3.1.32: promptTitle, prompt)
UNLISTED, OTHER_WORDS = "Not in the list", "Other spellings are read where they are plain; otherwise the results say so."


def validation(column: Column, us: bool, listed: str = "", more: Sequence[str] = ()) -> dict:
    """Data validation of a column: the help as input message, choices as a list, limits as limits. `listed`: the cells that list what is
    usual in this column, where a sheet of the form does. `more`: choices at hand beside those that are declared.

    Lists and limits warn and let the user go on: other spellings and units in the cell are read too.
    """
    rule: dict = {
        "validate": "any",
        "input_title": _cut(column.heading, SHORT),
        "input_message": _cut(help_words(column, us), LONG),
        "error_type": "information",
        "ignore_blank": True,
    }
    if column.kind == "choice":
        rule |= {
            "validate": "list",
            "source": listed or [*(column.offered or column.choices), *more],
            "error_title": UNLISTED,
            "error_message": OTHER_WORDS,
        }
    elif listed:
        rule |= {
            "validate": "list",
            "source": listed,
            "error_title": "Not listed yet" if column.listed_on else UNLISTED,
            "error_message": "Add it on its own sheet, or leave it: what is missing there is said in the results."
            if column.listed_on
            else OTHER_WORDS,
        }
    elif column.kind in ("integer", "number") and (column.low is not None or column.above is not None or column.high is not None):
        rule |= {"validate": "decimal" if column.kind == "number" else "integer"} | _limits(column, us)
        rule |= {
            "error_title": "Outside the usual limits",
            "error_message": f"Expected {limit_words(column, us)}. A unit may stand in the cell, such as 6000 W.",
        }
    return rule


def shown(column: Column, value: float, us: bool) -> float:
    """A limit in the unit shown, to four significant digits (limits are round in SI)."""
    if not us or not column.us_unit:
        return value
    from batch.units import convert

    return float(f"{convert(value, column.unit, column.us_unit):.4g}")


def _limits(column: Column, us: bool) -> dict:
    low = column.low if column.low is not None else column.above
    if low is not None and column.high is not None:
        return {"criteria": "between", "minimum": shown(column, low, us), "maximum": shown(column, column.high, us)}
    if low is not None:
        return {"criteria": ">=" if column.low is not None else ">", "value": shown(column, low, us)}
    return {"criteria": "<=", "value": shown(column, column.high, us)} if column.high is not None else {}


def limit_words(column: Column, us: bool) -> str:
    """Limits in words: "0 to 100 %", "above 0, up to 1000 kW"."""
    unit = column.shown_unit(us)
    unit = f" {unit}" if unit else ""
    high = f"{shown(column, column.high, us):g}{unit}" if column.high is not None else ""
    if column.low is not None:
        return f"{shown(column, column.low, us):g} to {high}" if high else f"{shown(column, column.low, us):g}{unit} or more"
    if column.above is not None:
        return f"above {shown(column, column.above, us):g}" + (f", up to {high}" if high else unit)
    return f"up to {high}" if high else ""


def help_words(column: Column, us: bool) -> str:
    """Everything a person needs to fill the cell, in one message."""
    parts = [column.help]
    if column.choices:
        parts.append("One of: " + ", ".join(column.offered or column.choices) + ".")
    limits = limit_words(column, us)
    if limits:
        parts.append(limits[0].upper() + limits[1:] + ".")
    if column.default:
        parts.append(f"Blank: {column.default}.")
    if column.example:
        parts.append(f"Example: {column.example}.")
    if column.required:
        parts.insert(0, "Needed.")
    return " ".join(part for part in parts if part)


def _cut(text: str, room: int) -> str:
    return text if len(text) <= room else text[: room - 1].rsplit(" ", 1)[0] + "…"
