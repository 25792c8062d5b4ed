"""Columns of heaters in the tanks beside columns of those on a shelf: "Installed" and "Spares in crib", "In tank", "Spare" and "Order qty".

What is wired is in the tank. Such a heading counts only where spares stand beside it: by itself "Installed" may be a power, or a date.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence

from msgspec.structs import replace

from batch.intake.assignment import SURE_RIVAL
from batch.intake.cell_profiles import Profile
from batch.intake.heading_letters import SPARES
from batch.intake.list_words import hits
from batch.intake.numbers import number_of
from batch.intake.survey import HeadingColumn

COUNTED = "Qty"  # what the heading of such a column says in words
LEAST_ROWS, MOST = 2, 40  # rows, and heaters of a tank: judgement, no source
STORED = re.compile(
    r"\b(?:shelf|stores?|storeroom|crib|stockroom|warehouse|on hand|in stock|toolroom|stock|lager|regal|magasin|r[ée]serve|almac[eé]n"
    r"|magazzino|scorta|magazijn|voorraad|magazyn\w*|armaz[eé]m|estoque|lagret|f[öo]rr[åa]d|hyll[ae]n?|sklad\w*)\b",
    re.IGNORECASE,
)
_IN_IT = (
    r"installed|in (?:the )?tanks?|in service|in use|in operation|fitted|mounted|on duty|connected",
    r"eingebaut|verbaut|installiert|montiert|in betrieb|im einsatz|im becken|in der wanne|im bad|angeschlossen",
    r"install[ée]e?s?|en service|en place|mont[ée]e?s?|pos[ée]e?s?|dans la cuve|dans le bain",
    r"instalad[oa]s?|en servicio|montad[oa]s?|en uso|en la cuba|en el tanque",
    r"installat[ie]|in servizio|montat[ie]|in uso|in vasca|nella vasca",
    r"geplaatst|ge[ïi]nstalleerd|in bedrijf|in gebruik|gemonteerd|in het bad|in bad",
    r"zamontowan[ey]|zainstalowan[ey]|w pracy|w u[żz]yciu|w wannie",
    r"em servi[çc]o|em uso|no tanque",
    r"monteret|installeret|montert|installert|monterade?|installerade?|i (?:drift|brug|bruk)|i karr?et|i badet",
    r"instalov[áa]no|instalovan[éy]|namontov[áa]no|osazeno|v provozu|ve van[ěe]",
)
IN_THE_TANK = re.compile(
    rf"(?:(?:heaters?|htrs?|qty|no\.?|heizer|anzahl|nb\.?|cant\.?|aantal|antall?|po[čc]et)\s+)?(?:{'|'.join(_IN_IT)})"
    r"(?:\s+(?:qty|heaters?|htrs?|now))?",
    re.IGNORECASE,
)


def those_installed(columns: Sequence[HeadingColumn], seen: Mapping[int, Profile]) -> list[HeadingColumn]:
    """The columns, the one of heaters in the tanks as what counts; and what is ordered with spares as no count of what is wired."""
    there = [column for column in columns if IN_THE_TANK.fullmatch(column.text.strip(" .:#")) and _counts(seen[column.index])]
    spare = [column for column in columns if _of_spares(column) and _counts(seen[column.index])]
    others = [column for column in columns if column not in there and column not in spare and _counted(column)]
    if len(there) != 1 or not spare:
        return list(columns)
    sums = len(spare) == 1 and all(_sums_up(seen, there[0], spare[0], other) for other in others)
    if (others and not sums) or not (others or any(STORED.search(column.text) for column in spare)):
        return list(columns)  # two counts that differ are asked; a bare "Spare" may be of those that are installed
    called = {column.index: SPARES for column in others} | {there[0].index: COUNTED}
    return [replace(column, text=called[column.index], lone="") if column.index in called else column for column in columns]


def _of_spares(column: HeadingColumn) -> bool:
    return bool(hits("spare", column.text)) or STORED.search(column.text) is not None


def _counted(column: HeadingColumn) -> bool:
    return any(one.key == "quantity" and one.score >= SURE_RIVAL for one in column.meanings())


def _counts(profile: Profile) -> bool:
    """Are the cells small whole numbers?"""
    numbers = [number_of(cell) for cell in profile.cells]
    return len(numbers) >= LEAST_ROWS and all(one is not None and 0 <= one <= MOST and one == int(one) for one in numbers)


def _sums_up(seen: Mapping[int, Profile], there: HeadingColumn, spare: HeadingColumn, other: HeadingColumn) -> bool:
    """Is a third count the sum of the two, row by row?"""
    three = [[number_of(cell) or 0 for cell in seen[column.index].cells] for column in (there, spare, other)]
    return len({len(some) for some in three}) == 1 and all(one + more == whole for one, more, whole in zip(*three, strict=True))
