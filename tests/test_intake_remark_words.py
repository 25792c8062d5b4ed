"""Words that take a row out or put it in doubt, in eight languages, and words that only seem to. Worked by hand."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from batch.intake.remark_words import DOUBT, OUT, read_row_words

FATES = {
    OUT: [
        "DELETED",
        "Deleted per addendum 2",
        "VOID Rev. 1 / ANNULÉ",
        "by others",
        "By owner",
        "N.I.C.",
        "EXISTING TO REMAIN",
        "existing",
        "EXIST",
        "CANCELLED",
        "pulled out 2024, not replaced",
        "LINE RESCINDED 4/2",
        "Heaters and wiring by others",
        "tank and heater by others",
        "Furnished by owner, installed by contractor",
        "hot-air dryer by others",
        "Tank 32 heater was DELETED, do not price.",
        "entfällt",
        "bauseits",
        "Bestand, bleibt",
        "gestrichen Index C",
        "Lufterhitzer, Fremdlieferung",
        "supprimé ind. B",
        "existant conservé",
        "hors lot",
        "ANULADO",
        "a cargo de otros",
        "annullata rev. 3",
        "esistente",
        "a cura del cliente",
        "vervalt",
        "bestaand",
        "levering door derden",
        "skreślono",
        "istniejące",
        "poza zakresem",
        "EXCLUÍDO",
        "por conta do cliente",
    ],
    DOUBT: [
        "HOLD",
        "OUT OF SERVICE",  # to be replaced, or given up
        "hors service",
        "on hold until permit",
        "future",
        "spare",
        "1 spare on shelf",
        "alternate 1",
        "ALTERNATE NO. 1 - PRICE SEPARATELY",
        "# of heaters TBD",
        "relocated from line 2",
        "void if tank 3 is built",
        "removed and reinstalled",
        "confirm kW",
        "Leistung noch offen",
        "2. Ausbaustufe",
        "Reserve",
        "en option",
        "puissance à définir",
        "nº por confirmar",
        "riserva",
        "optie",
        "aantal n.t.b.",
        "liczba do ustalenia",
        "a definir",
        "The heaters in this tank were deleted by the owner last year but may be added again later",
        "existing, future removal",
    ],
    "": [
        "",
        "new",
        "was 6",
        "PTFE",
        "12 kW each!",
        "wiring by others",
        "neue Heizer, Steuerung bauseits",
        "Existing tank",
        "replaces existing",
        "replace existing heater",
        "ersetzt vorhandenen Heizer",
        "remplace l'existant",
        "not deleted",
        "released from hold",
        "no spare",
        "same as existing",
        "240 V FROM EXISTING LIGHTING PANEL",
        "spare fuses included",
        "holding tank",
        "Spare wash tank",
        "T-101",
        "x" * 600,
    ],
}


@pytest.mark.parametrize(("fate", "text"), [(fate, text) for fate, texts in FATES.items() for text in texts])
def test_fates(fate: str, text: str) -> None:
    said = read_row_words(text)
    assert said.fate == fate and bool(said.word) == bool(fate)
    assert not fate or said.word in text


@pytest.mark.parametrize("text", ["wiring by others", "replaces existing", "released from hold", "no spare"])
def test_a_word_that_decides_nothing_is_named_with_the_reason(text: str) -> None:
    (word, reason), *_ = read_row_words(text).aside
    assert word in text and reason


@given(st.text(max_size=80))
def test_no_text_is_a_crash(text: str) -> None:
    read_row_words(text)
