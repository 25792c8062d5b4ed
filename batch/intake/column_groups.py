"""Columns that stand there more than once: a further bank of heaters in each row, or what was and what is now.

Two numbers of heaters and two powers under the same headings are two banks of a row, unless what stands over them says that one of
them is former, or existing: then the other counts, and the former is looked up where the current says that nothing changed.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from itertools import pairwise

from msgspec import Struct, field

from batch.intake.assignment import assign
from batch.intake.cell_profiles import Profile
from batch.intake.grid import worded
from batch.intake.heading_sense import concepts_of
from batch.intake.list_words import counts_pieces, current_word, meanings, old_word
from batch.intake.plan import FIRST, Also, ColumnPart, ColumnPlan
from batch.intake.survey import HeadingColumn
from batch.intake.wording import words

CORE = ("quantity", "power_kw", "total_kw", "volts_v", "phases", "description", "amps_a", "power_unit", "sheath", "bank")
LEAST_OF_A_GROUP = 2  # headings
LEAST_NAME = 0.6  # of a heading, for it to be told that it stands there again
ORDINAL = re.compile(
    r"\s*(?:\b(?:bank|group|set|type|gruppe|satz|groupe|grupo|gruppo|groep|grupa)\b\s*)?[(#]?\b(?:[1-9]|[A-D]|I{1,3})\b\)?\s*\Z",
    re.IGNORECASE,
)
CHOICE = re.compile(  # over groups of which not all are built, or at once: options, seasons, makers, years, what was and what is to be
    r"\b(?:option\w*|altern\w*|variant\w*|base bid|opci[oó]n\w*|opzion\w*|opcj\w*|op[cç][aã]o|optie|tilvalg|tillval|opsjon|summer"
    r"|winter|sommer|[eé]t[eé]"
    r"|hiver|verano|invierno|estate|inverno|zomer|lato|zima|ver[aã]o|vendor|supplier|maker|lieferant|fournisseur|proveedor|fornitore"
    r"|leverancier"
    r"|dostawca|fornecedor|leverand[oø]r|leverant[oö]r|dodavatel|before|after|vorher|nachher|avant|apr[eè]s|antes|despu[eé]s|prima"
    r"|dopo|voor|przed"
    r"|depois|f[oø]r|efter|etter|as found|as left|design|calculated|required|soll|backup|stand-?by|steam|dampf|vapeur|vapor|vapore"
    r"|stoom|gas"
    r"|(?:19|20)\d\d|(?:phase|case|stage|scenario|ausbaustufe|tranche|fase|etapa?|etap) ?(?:\d|[A-D]\b|I+\b))(?!\w)",
    re.IGNORECASE,
)
ALT = re.compile(r"alt\.?", re.IGNORECASE)  # of alternates in English, of what was in German, beside what is new
AN_ISSUE = re.compile(r"\b(?:rev|issue|index|ind\.|ausgabe)", re.IGNORECASE)
BLANK_UNCHANGED = re.compile(
    r"\bblank\b[^.]{0,40}(?:=|means?|is|for)\s*(?:no change|unchanged|as before|same)"
    r"|\bleer\b[^.]{0,40}(?:=|hei[sß]s?t|bedeutet)\s*(?:unver[aä]ndert|keine [aä]nderung)"
    r"|\bvide\b[^.]{0,40}=\s*(?:inchang|sans changement)|\b(?:en blanco|vac[ií][ao])\b[^.]{0,40}=\s*(?:sin cambio|igual)"
    r"|\bvuot[ao]\b[^.]{0,40}=\s*(?:invariat|nessuna)",
    re.IGNORECASE,
)
UNCHANGED = re.compile(
    r"(?<![\w=])(\w{1,4})\s*=\s*(?:no changes?|not changed|unchanged|as before|same|unver[aä]ndert|wie bisher|inchang[eé]e?s?"
    r"|sans changement|sin cambios?|invariat[oaei]|ongewijzigd|bez zmian|sem altera[cç][aã]o"
    r"|u[æe]ndret|of[öo]r[äa]ndra[dt]|beze? zm[eě]ny)",
    re.IGNORECASE,
)
FORMER, NOW, UNKNOWN = "former", "now", ""


class Groups(Struct):
    """Columns of the first or the current bank, those of each other, and whether the others are former ones (None = not said)."""

    first: list[HeadingColumn]
    others: list[list[HeadingColumn]]
    former: bool | None = False
    chained: bool = False  # does a blank cell of one issue mean what the issue before it says?
    names: list[str] = field(default_factory=list)


def groups_of(columns: Sequence[HeadingColumn], texts: Sequence[str] = ()) -> Groups | None:
    """The groups in which a number of heaters and a power stand there again; None where there are none. `texts`: beside the table."""
    columns = _apart_from_their_names(columns)
    places: dict[tuple[str, str], list[HeadingColumn]] = {}
    for column in columns:
        text = column.lone or column.text
        key = next((one.key for one in _alone(column).meanings() if one.score >= LEAST_NAME and one.key in CORE), "")
        if not key and counts_pieces(text):  # "No." over numbers of heaters, under what was and under what is now
            key = "quantity"
        if text:
            places.setdefault((ORDINAL.sub("", text).casefold(), key), []).append(column)
    again = {at: some for at, some in places.items() if len(some) > 1}
    keys = {key for _, key in again}
    if "quantity" not in keys or not keys & {"power_kw", "total_kw", "description"}:
        return None
    counts = {len(some) for (_, key), some in again.items() if key in ("quantity", "power_kw", "total_kw")}
    if len(counts) != 1:
        return None
    number = counts.pop()
    again = {at: some for at, some in again.items() if len(some) == number}
    groups = [[some[at] for some in again.values()] for at in range(number)]
    for before, after in pairwise(groups):
        if max(one.index for one in before) >= min(one.index for one in after):
            return None
    return _sorted(columns, groups, any(BLANK_UNCHANGED.search(text) for text in texts))


def columns_of_before(columns: Sequence[HeadingColumn]) -> frozenset[int]:
    """The columns, from 0, of groups that say what was: "Dampf" among them is about no row as it is now."""
    groups = groups_of(columns)
    return frozenset(one.index for group in groups.others for one in group) if groups is not None and groups.former else frozenset()


def _apart_from_their_names(columns: Sequence[HeadingColumn]) -> Sequence[HeadingColumn]:
    """ "WASH TK", "WASH HTRS", "WASH KW EA", "RINSE TK", "RINSE HTRS", "RINSE KW EA": the words of each group stand before its headings."""
    for count in (1, 2):
        groups: dict[str, dict[str, HeadingColumn]] = {}
        for column in columns:
            parts = column.text.split()
            if len(parts) > count and column.lone in ("", column.text):
                groups.setdefault(" ".join(parts[:count]).casefold(), {})[" ".join(parts[count:]).casefold()] = column
        rests = [frozenset(group) for group in groups.values() if len(group) >= LEAST_OF_A_GROUP]
        shared = next((one for one in rests if rests.count(one) > 1), frozenset())
        if not {"quantity", "power_kw"} <= {next((one.key for one in meanings(rest)), "") for rest in shared}:
            continue
        mine = [group for group in groups.values() if frozenset(group) == shared]
        lone = {id(one): len(one.text) - len(rest) for group in mine for rest, one in group.items()}
        return [
            HeadingColumn(column.index, column.text, column.text[lone[id(column)] :], column.unit) if id(column) in lone else column
            for column in columns
        ]
    return columns


def _sorted(columns: Sequence[HeadingColumn], groups: list[list[HeadingColumn]], chained: bool) -> Groups:
    names = [_over(group) for group in groups]
    said = [_age(name) for name in names]
    current = 0
    former: bool | None = False
    issues = sum(bool(AN_ISSUE.search(name)) or age == FORMER for name, age in zip(names, said, strict=True))
    choice = any(CHOICE.search(name) for name in names) or (any(ALT.fullmatch(name) for name in names) and NOW not in said)
    if chained and issues == len(groups):  # original, Rev A, Rev B: the last governs
        current, former = len(groups) - 1, True
    elif choice and not (FORMER in said and NOW in said) and issues < len(groups):
        former = None
    elif any(said):
        now = [at for at, one in enumerate(said) if one == NOW] or [at for at, one in enumerate(said) if one != FORMER]
        former = True if len(now) == 1 and FORMER in said else None
        current = now[0] if len(now) == 1 else 0
    elif len({name.casefold() for name in names}) > 1 and any(AN_ISSUE.search(name) for name in names):
        former = None
    others = [group for at, group in enumerate(groups) if at != current]
    left = {id(column) for group in others for column in group}
    grouped = {id(column) for group in groups for column in group}
    first = [_alone(column) if id(column) in grouped else column for column in columns if id(column) not in left]
    return Groups(first, [[_alone(column) for column in group] for group in others], former, chained and former is True, names)


def _alone(column: HeadingColumn) -> HeadingColumn:
    """The column under its own heading, without what stands over the group."""
    text = ORDINAL.sub("", column.lone or column.text)
    return HeadingColumn(column.index, text, text, column.unit) if text else column


def _over(group: Sequence[HeadingColumn]) -> str:
    """What stands over the columns of a group."""
    texts = [column.text.removesuffix(column.lone).strip() for column in group if column.lone]
    return next((text for text in texts if text), "")


def _age(name: str) -> str:
    found = {concept for word in words(name) for concept in concepts_of(word)}
    if old_word(name) or "former" in found:
        return FORMER
    return NOW if current_word(name) or "buy" in found else UNKNOWN


def together(groups: Groups, seen: Mapping[int, Profile], code: str) -> dict[int, Profile]:
    """The cells of each column that comes again, those of all its groups together; `code` says that nothing changed, and is left out."""
    found = dict(seen)
    places: dict[str, list[int]] = {}
    for group in (groups.first, *groups.others):
        for column in group:
            if column.text:
                places.setdefault(ORDINAL.sub("", column.text).casefold(), []).append(column.index)
    for some in places.values():
        if len(some) > 1:
            cells = [cell for at in some for cell in seen[at].cells if worded(cell).strip().casefold() != code.casefold() or not code]
            found |= {at: Profile(list(cells)) for at in some}
    return found


def further(groups: Groups, seen: Mapping[int, Profile]) -> tuple[Also, ...]:
    """The further banks of each row."""
    found = []
    for group in groups.others:
        taken = assign(group, seen)
        columns = {one.key: ColumnPlan(one.key, one.index, one.text, one.unit, one.sure, "it stands there again") for one in taken}
        basis = next((one.basis for one in taken if one.key == "power_kw"), "")
        if "quantity" in columns:
            found.append(Also(columns, power=basis))
    return tuple(found)


def unchanged_word(texts: Sequence[str]) -> str:
    """The code by which a list says that nothing changed; "" where it has none."""
    return next((match[1] for text in texts if (match := UNCHANGED.search(text))), "")


def with_former(columns: dict[str, ColumnPlan], groups: Groups) -> frozenset[int]:
    """Has each current column looked up in the former ones where it is blank, the newest first; returns the former columns."""
    texts: dict[str, list[int]] = {}
    for group in reversed(groups.others):
        for one in group:
            texts.setdefault(ORDINAL.sub("", one.lone or one.text).casefold(), []).append(one.index)
    current = {one.index: ORDINAL.sub("", one.lone or one.text).casefold() for one in groups.first}
    for key, column in list(columns.items()):
        others = texts.get(current.get(column.index, "\0"))
        if others:
            parts = (ColumnPart(column.index, column.unit), *(ColumnPart(other, column.unit) for other in others))
            columns[key] = ColumnPlan(
                key, column.index, column.heading, column.unit, column.sure, f"{column.why}, and where it says no change the former one",
                parts=parts, how=FIRST,
            )  # fmt: skip
    return frozenset(one.index for group in groups.others for one in group)
