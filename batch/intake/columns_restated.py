"""Columns that nothing is read from and that count, or rate, the same heaters otherwise: a revised number, how many of them are spare or
have failed, how many cells a row stands for, a corrected power. A row in which such a figure is another one is asked about."""

from __future__ import annotations

import re
from collections.abc import Sequence

from batch.intake.facts import figure
from batch.intake.line_kinds import DATA, DOUBT, Line
from batch.intake.survey import HeadingColumn
from batch.intake.verdict import close
from batch.intake.wording import words

_COUNT = (
    r"(?:qty|quantity|count|no|nos|number|heaters?|htrs?|menge|anzahl|st[üu]ck|nb|nombre|qt[ée]|cant(?:idad)?|n[úu]mero|q ?t[àa]|numero"
    r"|aantal|ilo[śs][ćc]|liczba|qtd|antal|po[čc]et)"
)
# Words of the trade in each language, common practice, no source
_AGAIN = (
    r"revised|corrected|as ?built|as found|field|verified|actual|current|now|final|confirmed|updated|revidiert|korrigiert|ist"
    r"|r[ée]vis[ée]e?|r[ée]el"
    r"|actuel|corrig[ée]|revisad[oa]|nuev[oa]|corregid[oa]|rivist[oa]|corrett[oa]|attuale|herzien|actueel|skorygowan\w+|obecn\w+"
    r"|reviderat|korrigeret|atual"
    r"|opraven\w*"
)
RESTATED = re.compile(rf"(?:(?:{_AGAIN})(?: {_COUNT})?|rev {_COUNT}|{_COUNT} (?:{_AGAIN}|rev|(?:19|20)\d\d))", re.IGNORECASE)
_PART = (
    r"dead|failed|faulty|out of service|burn(?:t|ed) out|working|running|good|bad|on shelf|(?:in )?stock"
    r"|back ?up|extra"
    r"|add(?:itional)?|less|missing|to (?:buy|order|supply|furnish)|defekt|in betrieb|fehlt|bedarf"
    r"|zu liefern"
    r"|hs|en service|[àa] (?:fournir|commander)|a comprar"
    r"|da[ñn]ad[oa]s"
    r"|da fornire|guast[ie]|defect|te leveren|uszkodzon\w+|do zakupu|trasiga"
    r"|a fornecer"
    r"|queimad[oa]s?|vadn[ée]"
)
_SPARE = r"spares?|standby|reserve|ersatz|secours|r[ée]serve|rechange|repuestos?|reserva|zapas\w*|reserv|n[áa]hradn[íi]"
_OF_THEM = r"(?:of which|incl(?:uding|udes|uded)?|davon|dont|di cui|de (?:las|los) cuales|waarvan|w tym|varav|dos quais|z toho)"
PART = re.compile(rf"(?:{_OF_THEM} )?(?:{_PART})(?: {_COUNT})?|{_OF_THEM} (?:{_SPARE})(?: {_COUNT})?", re.IGNORECASE)
RERATED = re.compile(  # "Corrected kW", "kW measured", "Upgrade to kW"
    rf"(?:{_AGAIN}|measured|derated|upgraded?(?: to)?|gemessen|mesur[ée]e?|medid[oa]|misurat[oa]|gemeten|zmierzon\w+|uppm[äa]tt)\b"
    r".*\bkw\b"
    rf"|rev kw|kw (?:{_AGAIN}|rev|measured|derated|gemessen|mesur[ée]s?|medid[oa]|misurat[oaie]|gemeten|zmierzon\w+|uppm[äa]tt)",
    re.IGNORECASE,
)
WANTED_COUNT = re.compile(
    rf"(?:to (?:buy|order|supply|furnish)|bedarf|zu liefern|zu bestellen|[àa] (?:fournir|commander)|a comprar"
    rf"|a suministrar|da fornire|da ordinare"
    rf"|te leveren|te bestellen|do zakupu|a fornecer|att best[äa]lla)(?: {_COUNT})?",
    re.IGNORECASE,
)
OTHER_HEATERS = re.compile(
    rf"(?:aux(?:iliary)?|booster|second|other|zus[äa]tz\w*|suppl[ée]ment\w*|adicional\w*|aggiuntiv\w*|extra) (?:{_COUNT}|kw)", re.IGNORECASE
)
SEVERAL = re.compile(
    r"(?:(?:no|nos|number|qty|anzahl|nombre de|n[úu]mero de|aantal|liczba)(?: of| de)? )?(?:cells?|banks(?: per tank)?|stations"
    r"|compartments|positions|zellen"
    r"|cellules|celdas|celle|cellen|komory|c[ée]lulas|celler)",
    re.IGNORECASE,
)


def asked_by_restated(columns: Sequence[HeadingColumn], lines: Sequence[Line]) -> None:
    """Puts such rows in doubt. `columns`: those that nothing is read from; `lines`: those that nobody has answered for."""
    for column in columns:
        heading = " ".join(words(column.text))
        wanted = WANTED_COUNT.fullmatch(heading) is not None
        counts = wanted or any(form.fullmatch(heading) for form in (RESTATED, PART, OTHER_HEATERS))
        several = SEVERAL.fullmatch(heading) is not None
        power = RERATED.fullmatch(heading) is not None
        for line in lines if counts or several or power else ():
            number = next((figure(value) for at, value in line.cells if at == column.index and not isinstance(value, bool)), None)
            least = -1 if wanted else 1 if several else 0  # of those that are wanted none may be
            if number is None or line.kind != DATA or number <= least:
                continue
            if several or not any(close(number, known) for known in _known(line)):
                line.kind, line.at, line.why = DOUBT, column.index, f'{number:g} under "{column.text.strip()[:40]}"'
                line.open = ("power_kw",) if power else ("quantity",)


def _known(line: Line) -> list[float]:
    count, power, total = (line.figure(key) for key in ("quantity", "power_kw", "total_kw"))
    found = [one for one in (count, power, total) if one is not None]
    return [*found, *([count * power] if count and power else []), *([total / count] if total and count else [])]
