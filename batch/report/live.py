"""Works a column's formula out in Python, to see before writing that a spreadsheet program will get what sizing got.

A cell whose formula would say something else than the sizing core (an uneven star, say, whose watts come from phasors) is written as
the plain figure: a recalculation must never change a result.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from math import isclose, sqrt

from batch.errors import SpecificationError
from batch.report.formulas import TOKEN, judge
from batch.report.schedule_sheet import Stored

CLOSE = 1e-9

_OPERATORS = {"=": "==", "<>": "!=", "^": "**"}


class _Blank(float):
    """An empty cell: nought in sums, equal to the empty text."""

    def __eq__(self, other: object) -> bool:
        return other == "" if isinstance(other, str) else float(self) == other

    def __ne__(self, other: object) -> bool:
        return not self == other

    __hash__ = float.__hash__


_EMPTY = _Blank(0.0)


def _if(condition: object, then: object, otherwise: object) -> object:
    return then if condition else otherwise


_FUNCTIONS: dict[str, Callable] = {
    "SQRT": sqrt,
    "ABS": abs,
    "MAX": max,
    "ROUND": lambda value, digits: round(value, int(digits)),
    "IF": _if,
}


def worked_out(formula: str, names: Mapping[str, float]) -> Callable[[Mapping], object]:
    """The formula as a function of a row (column key -> value, None = blank). Raises SpecificationError where it cannot be one."""
    judge(formula, "formula")
    parts = []
    for found in TOKEN.finditer(formula):
        if key := found["key"]:
            parts.append(f"cell(row[{key!r}])")
        elif name := found["name"]:
            if name not in names:
                raise SpecificationError(f"a formula names {name}, which is not on Code basis")
            parts.append(repr(float(names[name])))
        elif function := found["function"]:
            if function == "IFERROR":
                parts.append("iferror(lambda: ")
            elif function in _FUNCTIONS:
                parts.append(f"{function}(")
            else:
                raise SpecificationError(f"{function} is not worked out before writing")
        else:
            parts.append(_OPERATORS.get(found[0], found[0]))
    scope = {**_FUNCTIONS, "cell": lambda value: _EMPTY if value is None else value, "iferror": _iferror, "__builtins__": {}}
    return eval(compile(f"lambda row: {''.join(parts)}", "<column formula>", "eval"), scope)  # our own specification, judged above


def _iferror(first: Callable[[], object], otherwise: object = 0.0) -> object:
    try:
        return first()
    except (ZeroDivisionError, ValueError, OverflowError):
        return otherwise


class Keeper:
    """Marks every figure that its column's formula would not give, so that it is written as it is; counts them by column key."""

    def __init__(self, formulas: Mapping[str, str], names: Mapping[str, float]) -> None:
        self._work = {key: worked_out(formula, names) for key, formula in formulas.items()}
        self.kept: dict[str, int] = {}

    def mark(self, rows: Sequence[dict]) -> None:
        for key, work in self._work.items():
            for row in rows:
                held = row[key]
                if held is None or isinstance(held, str):
                    continue
                try:
                    found = work(row)
                except (ZeroDivisionError, ValueError, OverflowError, TypeError):
                    found = None
                if not isinstance(found, (int, float)) or not isclose(found, held, rel_tol=CLOSE, abs_tol=CLOSE):
                    row[key] = Stored(held)
                    self.kept[key] = self.kept.get(key, 0) + 1
