"""Rows that are examples: "e.g. T-1", "z. B. Becken 1". Apart, since a form is looked through for them without all that reads a list."""

import re

SHOWN = re.compile(r"\W*(?:e\.?\s?g\.|z\.\s?B\.|p\.\s?ex\.|p\.\s?ej\.|bijv\.|np\.|f\.\s?eks\.|t\.\s?ex\.|nap[rř]\.|ad es\.)", re.IGNORECASE)
