"""Values that many rows in a row share, worked out once for all of them."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, TypeVar, cast

Answer = TypeVar("Answer")


def once(part: Callable[[Any], object], value: Callable[[Any], Answer]) -> Callable[[Any], Answer]:
    """A value of `part` of a row, worked out anew only where that part is another than in the row before."""
    last: object = None
    answer: Answer | None = None

    def get(at: Any) -> Answer:
        nonlocal last, answer
        now = part(at)
        if now is not last:
            last, answer = now, value(now)
        return cast(Answer, answer)

    return get
