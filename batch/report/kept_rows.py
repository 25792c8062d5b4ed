"""Rows of a schedule that later pages look back at, kept in a quarter of the room that a dictionary of sixty columns takes."""

from __future__ import annotations

from collections.abc import Iterator, Mapping


class KeptRow(Mapping[str, object]):
    """A row as it was written. All rows of a sheet share the places of their columns."""

    __slots__ = ("_places", "_values")

    def __init__(self, places: Mapping[str, int], values: tuple[object, ...]) -> None:
        self._places, self._values = places, values

    def __getitem__(self, key: str) -> object:
        return self._values[self._places[key]]

    def __iter__(self) -> Iterator[str]:
        return iter(self._places)

    def __len__(self) -> int:
        return len(self._places)


class KeptRows(list[KeptRow]):
    """The rows of one sheet, each with these columns, or with those of the first."""

    def __init__(self, keys: tuple[str, ...] = ()) -> None:
        super().__init__()
        self._places = {key: at for at, key in enumerate(keys)}

    def keep(self, row: Mapping[str, object]) -> None:
        if not self._places:
            self._places = {key: at for at, key in enumerate(row)}
        self.append(KeptRow(self._places, tuple([row[key] for key in self._places])))
