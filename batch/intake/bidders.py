"""Headings of prices by bidder, "Bidder A", "Vendor 2": what stands below them is nothing of the heaters, whatever the letter says."""

from __future__ import annotations

import re

_BIDDERS = (
    r"bidder|bid|vendor|supplier|quote|offer|contractor|anbieter|bieter|lieferant|angebot|firma|fournisseur|soumissionnaire|offre|devis|proveedor"
    r"|licitante|oferta|cotizaci[oó]n|oferente|fornitore|offerente|offerta|preventivo|leverancier|inschrijver|offerte|dostawca|oferent"
    r"|fornecedor|proposta|concorrente|leverand[øo]r|tilbyder|tilbud|leverant[öo]r|anbudsgivare|anbud|offert|dodavatel|uchaze[čc]|nab[íi]dka"
)
_MONEY = r"(?:\W*(?:price|total|\$|usd|cad|eur|€|preis|prix|precio|prezzo|prijs|cena|pre[çc]o|pris|kr)\W*)?"
OF_A_BIDDER = re.compile(rf"\W*(?:{_BIDDERS})\s*(?:no\.?|nr\.?|#)?\s*(?:[A-H]|[1-9]){_MONEY}\W*", re.IGNORECASE)


def of_a_bidder(text: str) -> bool:
    """Is a heading one of several bidders?"""
    return OF_A_BIDDER.fullmatch(text) is not None
