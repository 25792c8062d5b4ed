"""Which questions a price waits for. What is held back for reasons of ours is not said to wait for an answer of the customer's."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from batch.counted_words import few
from batch.price.questions import Asked, Stopped
from batch.quoting.positions import Position
from batch.results import BankRow

FOLLOWS = "price follows"
NUMBERED = 4  # questions beside one price


def awaiting(places: Iterable[Position], asked: Sequence[Asked], whole: bool) -> list[Position]:
    """Open positions without their prices, each with the numbers of the questions that it waits for; numbers are those of `asked`.
    `whole`: a position is the whole project."""
    return [place._replace(price=None, awaits=tuple(_numbers(place, asked, whole))) if place.open else place for place in places]


def _numbers(place: Position, asked: Sequence[Asked], whole: bool) -> Iterable[int]:
    for number, one in enumerate(asked, 1):
        if one.stops and (whole or any(_waits(place, stop) for stop in one.stops)):
            yield number


def _waits(place: Position, stop: Stopped) -> bool:
    if stop.tank:
        return stop.tank.casefold() in place.tanks
    return stop.feeder.casefold() in place.feeders | (place.held_on if stop.held else frozenset())


def follows(place: Position) -> str:
    """What stands in place of a price that follows."""
    numbers = [str(number) for number in place.awaits]
    return f"{FOLLOWS}, see question{'s' * (len(numbers) > 1)} {few(numbers, NUMBERED)}" if numbers else FOLLOWS


def asked_about(row: BankRow, asked: Iterable[Asked]) -> bool:
    """Whether a bank on hold waits for an answer, of its tank or its feeder."""
    own = {(row.bank.tank.casefold(), ""), ("", row.feeder.feeder.casefold())}
    return any(stop.held and (stop.tank.casefold(), stop.feeder.casefold()) in own for one in asked for stop in one.stops)
