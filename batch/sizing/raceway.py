"""Raceway fill."""

from __future__ import annotations

from typing import NamedTuple

from batch.findings import Remark, remark
from batch.records import Settings
from batch.rules import RuleSet
from batch.sizing.words import air, sentence, size_words


class Raceway(NamedTuple):
    words: str  # "3/4 PVC-80", "" where none serves
    fill_pct: float | None
    remarks: tuple[Remark, ...]


def choose_raceway(
    what: str, about: str, size: str, conductors: int, ground: str, circuits: int, ambient_c: float, settings: Settings, rules: RuleSet
) -> Raceway:
    """Smallest trade size that takes `circuits` circuits of so many conductors and a ground each (Chapter 9 Tables 1, 4, 5).

    One grounding conductor is counted with every circuit: the safe side of sharing one (250.122(C)).
    """
    said: list[Remark] = []
    kind = settings.raceway
    hottest = rules.factor("pvc_max_c").value
    if kind.startswith("PVC") and ambient_c > hottest:
        us = rules.region == "us"
        said.append(remark("pvc-too-hot", "ambient_c", raceway=kind, limit=air(hottest, us), ambient=air(ambient_c, us)))
    wire, earth = rules.wire_area(size, settings.insulation), rules.wire_area(ground, settings.insulation)
    found = None
    if wire is not None and earth is not None:
        found = rules.raceway(kind, ([wire.value] * conductors + [earth.value]) * circuits)
    if found is None:
        said.append(
            remark(
                "raceway-beyond-table",
                about,
                what=sentence(what),
                raceway=kind,
                count=(conductors + 1) * circuits,
                size=size_words(size),
            )
        )
        return Raceway("", None, tuple(said))
    trade_size, fill_pct = found.value
    return Raceway(f"{trade_size} {kind}", fill_pct, tuple(said))
