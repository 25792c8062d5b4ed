"""What stands above the columns of a table, what it may mean, and which columns are of one table where several stand side by side."""

from __future__ import annotations

import re
from collections.abc import Sequence

from msgspec import Struct

from batch.intake.heading_sense import concepts_of, machine_in, sense
from batch.intake.list_words import SURELY, Meaning, basis_of, counts_pieces, meanings, words
from batch.intake.panel_sides import LEAST_SAME, circuits_again, mirrored
from batch.intake.wording import tokens

SIDES = (  # length, width and depth of a tank, as the three columns under "Tank size" are headed
    re.compile(r"l(?:ength|g|gth|[äa]nge|ong(?:ueur)?|argo|ungh(?:ezza)?|engte)?|d[łl](?:ugo[śs][ćc])?|comprimento", re.IGNORECASE),
    re.compile(r"w(?:idth|d|dth)?|b(?:reite|reedte|r)?|larg(?:eur|hezza)?|ancho|a|szer(?:oko[śs][ćc])?|largura", re.IGNORECASE),
    re.compile(
        r"d(?:epth|p|eep|iepte)?|h(?:eight|t|[öo]he|oogte|auteur)?|t(?:iefe)?|p(?:rof(?:ondeur|undidad|ondit[àa]|undidade)?)?|al(?:to|tezza|tura)"
        r"|g[łl](?:[ęe]boko[śs][ćc])?",
        re.IGNORECASE,
    ),
)
A_UNIT = re.compile(r"[(\[][^)\]]*[)\]]|\b(?:in|inch(?:es)?|ft|feet|mm|cm|m)\b\.?|[.:]", re.IGNORECASE)


OF_PHASES = "~"  # over 3 and 1
OF_OTHERS = frozenset({"former", "spare", "other", "machine", "each"})  # by which an installed power is none of what is to be sized


class HeadingColumn(Struct):
    """What stands above one column of a table: the whole text, and what it may mean."""

    index: int
    text: str = ""
    lone: str = ""  # the lowest line alone, where the upper ones may belong to several columns
    unit: str = ""  # from a row of units
    spread: bool = False  # does an upper line reach it from another column?
    describes: bool = False  # is it known, by the columns beside it, to say in words which heaters are wanted?

    def side(self) -> int:
        """Which side of a tank a column is, 0 for the length, under a heading that says sizes of tanks over several; -1 = none."""
        above = self.text.removesuffix(self.lone).strip() if self.spread and self.lone else ""
        if not above or not words()["tank_sizes"].find(above):
            return -1
        said = A_UNIT.sub(" ", self.lone).strip()
        return next((at for at, side in enumerate(SIDES) if side.fullmatch(said)), -1)

    def _installed(self) -> bool:
        """Is a column one of totals, "Inst. kW", though what groups it with others speaks of a need, "Heat balance"?"""
        above = {concept for word in tokens(self.text.removesuffix(self.lone)) for concept in concepts_of(word.word)}
        best = meanings(self.lone)[:1]
        return bool(best) and best[0].key == "total_kw" and best[0].score >= SURELY and not above & OF_OTHERS

    def with_unit(self) -> str:
        """The text with the unit below it behind, where it does not name that itself."""
        named = re.search(rf"(?<!\w){re.escape(self.unit)}(?!\w)", self.text, re.IGNORECASE) if self.unit else True
        return self.text if named else f"{self.text} ({self.unit})"

    def meanings(self) -> tuple[Meaning, ...]:
        """The likeliest meanings of the whole text, and of the lowest line where the upper ones only group."""
        if self.side() >= 0:
            return (Meaning("", 1.0),)  # of the tank, whatever its letter says: W is no watts, and L no liters
        if self.describes:
            return (Meaning("description", SURELY),)
        if (self.lone or self.text).strip() == OF_PHASES:
            return (Meaning("phases", SURELY),)
        if self.spread and self._installed():
            return meanings(self.lone)
        text = self.with_unit()
        of_unit = basis_of(self.unit) if self.unit else ""
        best: dict[str, Meaning] = {one.key: one._replace(basis=one.basis or of_unit) for one in meanings(text)}
        said = sense(text)
        if self.lone and self.lone != self.text and not (said is not None and not said.key):
            lone = f"{self.lone} ({self.unit})" if self.unit else self.lone
            basis = next((one.basis for one in best.values() if one.basis), "")
            whole = max((one.score for one in best.values()), default=0.0)
            for one in meanings(lone):
                if one.key == "quantity" and counts_pieces(self.lone) and whole >= SURELY and "quantity" not in best:
                    continue  # "MOCP" over "EA": of each
                score = round(one.score * (0.97 if self.spread else 0.85), 3)
                if one.key not in best or best[one.key].score < score:
                    best[one.key] = one._replace(score=score, basis=one.basis or basis)
        return tuple(sorted(best.values(), key=lambda one: -one.score))


def sides_in_units(cells: Sequence[tuple[int, str]]) -> list[tuple[int, str]]:
    """The letters in a row of units that are no units but the sides of a tank, "L", "W", "D" beside each other."""
    for at, three in enumerate(zip(cells, cells[1:], cells[2:], strict=False)):
        beside = [index for index, _ in three] == list(range(three[0][0], three[0][0] + 3))
        if beside and all(side.fullmatch(text.strip("(). ")) for side, (_, text) in zip(SIDES, three, strict=True)):
            return list(cells[at : at + 3])
    return []


def side_by_side(columns: list[HeadingColumn]) -> list[list[HeadingColumn]]:
    """The columns of each table where several stand beside each other."""
    keys = [next((one.key for one in column.meanings() if one.score >= 0.6), "") for column in columns]
    return [part for some in _by_repeats(columns, keys) for part in _by_gaps(some)]


def _by_repeats(columns: list[HeadingColumn], keys: list[str]) -> list[list[HeadingColumn]]:
    """Split where the first heading of the table stands again with the others behind it."""
    headed = [column for column in columns if column.text]
    half = len(headed) // 2
    if half >= LEAST_SAME and mirrored([column.text for column in headed]):  # a panel's, with circuits on both sides
        return [headed[:half], headed[-half:]]  # less what stands once between them: the line that each way is on
    if circuits_again([column.text for column in headed]):
        return [headed[:half], headed[half:]]
    texts = [column.text.casefold() for column in columns]
    for opening, key, column in zip(texts, keys, columns, strict=True):
        perhaps = any(one.key == "tank" for one in column.meanings())  # "Washer tank"
        if not opening or not (key in ("tank", "item") or perhaps):
            continue
        starts = [at for at, text in enumerate(texts) if text == opening]
        if len(starts) < 2:
            continue
        bounds = [*starts, len(columns)]
        spans = [(bounds[at], bounds[at + 1]) for at in range(len(starts))]
        if key not in ("tank", "item") and (starts[0] > 0 or len({tuple(filter(None, texts[low:high])) for low, high in spans}) > 1):
            continue
        powered = [{"power_kw", "total_kw", "volts_v", "quantity", "description"} & set(keys[low:high]) for low, high in spans]
        if all(powered):
            return [[*columns[: spans[0][0]], *columns[slice(*spans[0])]], *[columns[low:high] for low, high in spans[1:]]]
    return [columns]


def _by_gaps(columns: list[HeadingColumn]) -> list[list[HeadingColumn]]:
    """Split at columns with nothing in them, where what stands beyond is a table by itself."""
    groups: list[list[HeadingColumn]] = []
    for column in columns:
        if groups and column.index == groups[-1][-1].index + 1:
            groups[-1].append(column)
        else:
            groups.append([column])
    out: list[list[HeadingColumn]] = []
    for group in groups:
        keys = {one.key for column in group for one in column.meanings()[:1] if one.score >= 0.6}
        alone = _stands_alone(group)
        if out and not alone and len(group) == 1 and keys <= {"notes", ""} and _stands_alone(out[-1]) and _has_notes(out[-1]):
            continue  # general notes beside a schedule that has remarks of its own
        if alone and not keys & {"tank", "item", "feeder"} and not machine_in(group[0].text) and out and _repeats(group, out[-1]):
            alone = False  # a further bank of the same rows
        if out and not (alone and _stands_alone(out[-1])):
            out[-1].extend(group)
        else:
            out.append(list(group))
    return out


def _repeats(group: list[HeadingColumn], before: list[HeadingColumn]) -> bool:
    """Do headings of numbers or powers stand there again?"""
    texts = {(column.lone or column.text).casefold() for column in before}
    keys = {"quantity", "power_kw", "total_kw"}
    return any((column.lone or column.text).casefold() in texts for column in group for one in column.meanings()[:1] if one.key in keys)


def _has_notes(group: list[HeadingColumn]) -> bool:
    return any(one.key == "notes" for column in group for one in column.meanings()[:1])


def _stands_alone(group: list[HeadingColumn]) -> bool:
    keys = {one.key for column in group for one in column.meanings()[:1] if one.score >= 0.6}
    named = keys & {"tank", "item", "description", "feeder"} or machine_in(group[0].text)  # "Pump", beside "Tank"
    return bool(named) and bool(keys & {"power_kw", "total_kw", "volts_v", "quantity", "amps_a"})
