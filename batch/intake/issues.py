"""Several issues of one list in a workbook: which of them counts, where the workbook itself says so."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence, Set
from datetime import date, datetime
from typing import NamedTuple

from batch.intake.grid import Grid, worded
from batch.intake.heading_sense import TANK
from batch.intake.list_words import current_word, old_word, recap_word, takes_out
from batch.intake.study import Studied
from batch.intake.supply_notation import supply_in_text
from batch.intake.survey import cells_of, flat
from batch.intake.verdict import close

LEAST_COMMON = 0.5  # of the tags of the shorter list: above it two tables are taken for issues of one (common practice, no source)
REVISION = re.compile(
    r"\b(?:rev(?:ision)?|issue|iss|ausgabe|version|ver|v|r[ée]v|indice|ind)\b\.?\s*[:#-]?\s*([A-Z]|\d{1,3})\b", re.IGNORECASE
)
CURRENT = re.compile(r"\b(?:current|latest|final|supersedes|for construction|as issued|aktuell|actuel|actual|attuale)\b", re.IGNORECASE)
DATE = re.compile(r"\b(20\d\d)[-./](\d{1,2})[-./](\d{1,2})\b|\b(\d{1,2})[-./](\d{1,2})[-./](20\d\d)\b")


NOTHING_TOLD: Mapping[str, str] = {}


class IssuePair(NamedTuple):
    """Two issues: which is older (None = not said), why, and a tag that both list."""

    one: Studied
    other: Studied
    older: Studied | None
    why: str
    example: str


def tags_of(one: Studied) -> set[str]:
    return {
        worded(fact.value).casefold().strip()
        for line in one.heater_lines()
        if (fact := line.facts.get("tank")) is not None and fact.value is not None
    }


def said_of_sheets(grids: Sequence[Grid]) -> dict[str, str]:
    """What a cover or an index says of other sheets: the words of the row that has a sheet's name in a cell of its own, by that name."""
    names = {grid.name.strip().casefold(): grid.name for grid in grids}
    found: dict[str, str] = {}
    for grid in grids:
        for line in grid.lines:
            texts = [flat(value) for _, value in cells_of(grid.rows[line])]
            for at, text in enumerate(texts):
                name = names.get(text.casefold())
                if name is not None and name != grid.name and not text.isdecimal():
                    found[name] = f"{found.get(name, '')} {' '.join(texts[:at] + texts[at + 1 :])}".strip()
    return found


def pairs(tables: Sequence[Studied], told: Mapping[str, str] = NOTHING_TOLD) -> list[IssuePair]:
    """Every two tables that list the same tanks. `told`: what other sheets say of theirs."""
    found: list[IssuePair] = []
    tags = [tags_of(one) for one in tables]
    for at, one in enumerate(tables):
        for to in range(at + 1, len(tables)):
            common = tags[at] & tags[to]
            many = len(common) >= max(1, LEAST_COMMON * min(len(tags[at]), len(tags[to])))
            apart = bool(one.plan.title_out) != bool(tables[to].plan.title_out)  # a tab of spares is no issue of the list
            if many and common and not apart and not _halves(one, tables[to], common):
                older, why = _told_older(one, tables[to], told)
                if older is None:
                    older, why = _older(one, tables[to])
                found.append(IssuePair(one, tables[to], older, why, min(common)))
    return found


def _halves(one: Studied, other: Studied, common: Set[str]) -> bool:
    """Are two tables beside each other on one sheet halves of one list: each says of every tank that both have something else?"""
    if one.grid.name != other.grid.name or (one.plan.first <= other.plan.last and other.plan.first <= one.plan.last):
        return False
    this, that = _descriptions(one), _descriptions(other)
    return all(this.get(tag) and that.get(tag) and not this[tag] & that[tag] for tag in common)


def _descriptions(one: Studied) -> dict[str, set[str]]:
    """What the descriptions of a table say, by tank."""
    found: dict[str, set[str]] = {}
    for line in one.heater_lines():
        tag, said = line.facts.get("tank"), line.value("description")
        if tag is not None and tag.value is not None and said is not None:
            found.setdefault(worded(tag.value).casefold().strip(), set()).add(worded(said).casefold().strip())
    return found


def older_than(one: Studied, known: Mapping[str, Set[str]]) -> str:
    """Why a table is an older issue of what other sheets list; "" where nothing says so."""
    tags = tags_of(one)
    for sheet, others in known.items():
        if tags & others and len(tags & others) >= LEAST_COMMON * min(len(tags), len(others)):
            if word := old_word(f"{one.sheet} {_of_issue(one)}"):
                return f'it lists tanks of sheet {sheet}, and "{word}" stands over it'
            if one.grid.hidden:
                return f"it lists tanks of sheet {sheet}, and its sheet is {one.grid.hidden}"
    return ""


def _told_older(one: Studied, other: Studied, told: Mapping[str, str]) -> tuple[Studied | None, str]:
    """Which of two is out by what a cover says of both: the one is superseded, or the other in force and the one not."""
    for this, that in ((one, other), (other, one)):
        mine, theirs = told.get(this.sheet, ""), told.get(that.sheet, "")
        word = old_word(mine) or takes_out(mine)
        if word and current_word(theirs) and not current_word(mine) and not old_word(theirs) and not takes_out(theirs):
            return this, f'another sheet says of it "{mine[:60]}", and of sheet {that.sheet} "{theirs[:60]}"'
    return None, ""


def _older(one: Studied, other: Studied) -> tuple[Studied | None, str]:
    votes: list[tuple[Studied, str]] = []
    for this, that in ((one, other), (other, one)):
        if (word := _recap(this)) and not _recap(that) and _agree(this, that):
            return this, f'"{word}" stands over it, and its figures are those of sheet {that.sheet}'
    for this, that in ((one, other), (other, one)):  # what the tab is called goes before what stands over a list, perhaps of the other
        if (word := old_word(this.sheet) or takes_out(this.sheet)) and not (old_word(that.sheet) or takes_out(that.sheet)):
            return this, f'"{word}" stands over it'
    for this, that in ((one, other), (other, one)):
        if this.grid.hidden and not that.grid.hidden:
            votes.append((this, f"its sheet is {this.grid.hidden}"))
        title = f"{this.sheet} {_title(this)}"
        if (word := old_word(f"{this.sheet} {_of_issue(this)}")) and not old_word(f"{that.sheet} {_of_issue(that)}"):
            votes.append((this, f'"{word}" stands over it'))
        if CURRENT.search(f"{that.sheet} {_title(that)}") and not CURRENT.search(title):
            votes.append((this, f"{that.sheet} says that it is the current one"))
    first, second = _revision(one), _revision(other)
    if first and second and first != second and first[0] == second[0]:
        votes.append(
            (one, f"revision {second[2]} of sheet {other.sheet} is later than {first[2]}")
            if first < second
            else (other, f"revision {first[2]} of sheet {one.sheet} is later than {second[2]}")
        )
    days, others = _date(one), _date(other)
    if not votes and days and others and days != others:
        votes.append(
            (one, f"sheet {other.sheet} has the later date") if days < others else (other, f"sheet {one.sheet} has the later date")
        )
    older = {id(one) for one, _ in votes}
    if len(older) != 1:
        return None, ""
    return votes[0][0], "; ".join(dict.fromkeys(why for _, why in votes))


def _recap(one: Studied) -> str:
    """The word by which a table without a supply of its own sums up what others list; "" where it does not."""
    supplied = {"volts_v", "phases"} & (one.plan.columns.keys() | one.plan.fixed.keys())
    if supplied or any(line.value("volts_v") for line in one.heater_lines()):
        return ""
    return recap_word(f"{one.sheet} {_title(one)}")


def _agree(recap: Studied, one: Studied) -> bool:
    """Does a recapitulation give every tank that both list the number of heaters and the kilowatts that the list gives it?"""
    told, listed = _by_tank(recap), _by_tank(one)
    for tag in told.keys() & listed.keys():
        (count, power, total), (heaters, kilowatts) = told[tag], listed[tag][::2]
        if not heaters or not kilowatts or (count and count != heaters):
            return False
        if (power or total) and not close(power or total, kilowatts):
            return False
    return bool(told.keys() & listed.keys())


def _by_tank(one: Studied) -> dict[str, tuple[float, float, float]]:
    """Number of heaters, power as it stands, and kilowatts together of each tank of a table."""
    found: dict[str, tuple[float, float, float]] = {}
    for line in one.heater_lines():
        tag = line.facts.get("tank")
        if tag is None or tag.value is None:
            continue
        key = worded(tag.value).casefold().strip()
        count, power, total = (line.figure(name) or 0.0 for name in ("quantity", "power_kw", "total_kw"))
        each = one.verdict.basis != TANK
        whole = total or (count * power if each else power)
        before = found.get(key, (0.0, 0.0, 0.0))
        found[key] = (before[0] + count, before[1] + power, before[2] + whole)
    return found


def _title(one: Studied) -> str:
    return " ".join(_above(one))


def _of_issue(one: Studied) -> str:
    """What stands over a table, without texts that name a supply: "N = 400 V (new), O = 230 V (old)" says nothing of the list's issue."""
    return " ".join(text for text in _above(one) if supply_in_text(text) is None)


def _above(one: Studied) -> list[str]:
    top = one.plan.heading_rows[0] - 1 if one.plan.heading_rows else 0
    rows = [line for line in one.grid.lines if line < top][-8:]
    return [flat(value) for line in rows for _, value in cells_of(one.grid.rows[line]) if isinstance(value, str)]


def _revision(one: Studied) -> tuple[int, float | str, str] | None:
    for text in (one.sheet, _title(one)):
        found = REVISION.findall(text)
        if found:
            numbers = [mark for mark in found if mark.isdigit()]
            mark = numbers[-1] if numbers and len(numbers) == len(found) else max(found, key=str.upper)
            return (0, float(mark), mark) if mark.isdigit() else (1, mark.upper(), mark.upper())
    return None


def _date(one: Studied) -> date | None:
    top = one.plan.heading_rows[0] - 1 if one.plan.heading_rows else 0
    found: list[date] = []
    for line in one.grid.lines:
        if line >= top:
            break
        for _, value in cells_of(one.grid.rows[line]):
            if isinstance(value, datetime):
                found.append(value.date())
            elif isinstance(value, str) and (match := DATE.search(value)):
                parts = [int(part) for part in match.groups() if part]
                year, month, day = parts if parts[0] > 2000 else (parts[2], parts[0], parts[1])
                try:
                    found.append(date(year, month, day))
                except ValueError:
                    continue
    return max(found) if found else None
