"""Works a column's formula out in Python, to see before writing that a spreadsheet program will get what sizing got.

A cell whose formula would say something else than the sizing core (an uneven wye, say, whose watts come from phasors) is written as
the plain figure: a recalculation must never change a result.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from math import ceil, copysign, floor, isclose, sqrt
from operator import itemgetter
from typing import Any

from batch.errors import SpecificationError
from batch.writing.fast_sheet import Stored, StoredText
from batch.writing.formulas import TOKEN, judge, own_keys

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


class _Text(str):
    """Text that & joins to a number, as in a criterion, or to other text."""

    def __and__(self, other: object) -> _Text:
        return _Text(f"{self}{other}" if isinstance(other, str) else f"{self}{other!r}")


def _count_if(values: Sequence[float], criterion: str) -> int:
    """How many of the values are below the number of a criterion "<…"; no other criterion is known."""
    if not criterion.startswith("<"):
        raise SpecificationError(f"the criterion {criterion!r} is not worked out before writing")
    return sum(value < float(criterion[1:]) for value in values)


def _if(condition: object, then: object, otherwise: object) -> object:
    return then if condition else otherwise


def _round(value: float, digits: float) -> float:
    """As a spreadsheet rounds: halves away from nought, what is a half but for the last binary digit among them."""
    scale = 10.0 ** int(digits)
    return copysign(floor(round(abs(value) * scale, 9) + 0.5) / scale, value)


def _round_up(value: float, digits: float) -> float:
    """Away from nought, to that many digits."""
    scale = 10.0 ** int(digits)
    return copysign(ceil(abs(value) * scale) / scale, value)


def _round_down(value: float, digits: float) -> float:
    """Towards nought, to that many digits."""
    scale = 10.0 ** int(digits)
    return copysign(floor(round(abs(value) * scale, 9)) / scale, value)


_FUNCTIONS: dict[str, Callable] = {
    "SQRT": sqrt,
    "ABS": abs,
    "MAX": max,
    "ROUND": _round,
    "ROUNDUP": _round_up,
    "ROUNDDOWN": _round_down,
    "IF": _if,
    "COUNTIF": _count_if,
    "INDEX": lambda values, number: values[number - 1],
}


def worked_out(formula: str, names: Mapping[str, float | tuple[float, ...]]) -> Callable[[Mapping], object]:
    """The formula as a function of a row (column key -> value, None = blank). Raises SpecificationError where it cannot be one."""
    judge(formula, "formula")
    parts, texts = list[str](), dict[str, _Text]()
    for found in TOKEN.finditer(formula):
        if key := found["key"]:
            parts.append(f"(empty if (held := row[{key!r}]) is None or held == '' else held)")
        elif name := found["name"]:
            if name not in names:
                raise SpecificationError(f"a formula names {name}, which is not on Code basis")
            parts.append(repr(names[name]))
        elif function := found["function"]:
            if function == "IFERROR":
                parts.append("iferror(lambda: ")
            elif function in _FUNCTIONS:
                parts.append(f"{function}(")
            else:
                raise SpecificationError(f"{function} is not worked out before writing")
        elif found["text"]:
            parts.append(f"text{len(texts)}")
            texts[f"text{len(texts)}"] = _Text(found[0][1:-1])
        else:
            parts.append(_OPERATORS.get(found[0], found[0]))
    scope = {**_FUNCTIONS, "empty": _EMPTY, "iferror": _iferror, **texts, "__builtins__": {}}
    return eval(compile(f"lambda row: {''.join(parts)}", "<column formula>", "eval"), scope)  # our own specification, judged above


def _iferror(first: Callable[[], object], otherwise: object = 0.0) -> object:
    try:
        return first()
    except (ZeroDivisionError, ValueError, OverflowError):
        return otherwise


class Keeper:
    """Marks every figure that its column's formula would not give, so that it is written as it is; counts them by column key."""

    def __init__(self, formulas: Mapping[str, str], names: Mapping[str, float | tuple[float, ...]]) -> None:
        self._work = {key: worked_out(formula, names) for key, formula in formulas.items()}
        self._cells = {key: itemgetter(key, *own_keys(formula)) for key, formula in formulas.items()}  # all that the verdict hangs on
        self.kept: dict[str, int] = {}

    def mark(self, rows: Sequence[dict]) -> None:
        """Judges each figure by its row; rows that have the same in all cells of a formula are judged once."""
        for key, work in self._work.items():
            cells, judged = self._cells[key], dict[object, object]()
            for row in rows:
                if (given := cells(row)) not in judged:
                    judged[given] = _instead(row[key], work, row)
                if (instead := judged[given]) is not None:
                    row[key] = instead
                    if instead.__class__ is not str:
                        self.kept[key] = self.kept.get(key, 0) + 1


def _instead(held: Any, work: Callable[[Mapping], object], row: Mapping) -> object:
    """What stands in place of what sizing holds, where the formula does not give that: the same to be kept as it is; "" of a formula that
    shows nothing, where others show a figure. None where nothing does."""
    try:
        found = work(row)
    except (ArithmeticError, LookupError, ValueError, TypeError):
        found = None
    if held is None:
        return "" if isinstance(found, str) and not found else None
    if (found.__class__ is held.__class__ and found == held) or _alike(found, held):
        return None
    return StoredText(held) if isinstance(held, str) else Stored(held)


def _alike(found: object, held: object) -> bool:
    if isinstance(held, str):
        return isinstance(found, str) and found == held
    return isinstance(found, (int, float)) and isinstance(held, (int, float)) and isclose(found, held, rel_tol=CLOSE, abs_tol=CLOSE)
