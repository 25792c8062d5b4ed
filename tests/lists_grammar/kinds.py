"""The kinds of list: plain ones, and those as plants, buyers and engineers send them."""

from __future__ import annotations

from collections.abc import Callable

from tests.lists_grammar.assets import bid, circuits, register
from tests.lists_grammar.customers import process_list, turned_list
from tests.lists_grammar.sheet import Made, made
from tests.lists_grammar.words import LANGUAGES, Pen, words_of

PLAIN = "plain"
CUSTOMERS: dict[str, Callable[[Pen], Made]] = {
    "process": process_list,
    "turned": turned_list,
    "register": register,
    "bid": bid,
    "circuits": circuits,
}
KINDS = (PLAIN, *CUSTOMERS)


def languages_of(kind: str) -> tuple[str, ...]:
    """Those whose words for a kind stand ready."""
    if kind in (PLAIN, "turned"):
        return LANGUAGES
    return tuple(one for one in LANGUAGES if kind in words_of(one).get("customers", {}))


def made_of_kind(kind: str, language: str, seed: int) -> Made:
    return made(language, seed) if kind == PLAIN else CUSTOMERS[kind](Pen(language, f"{kind} {seed}"))
