"""Words around the figures of a supply, in several languages (trade words, common practice, no source)."""

from __future__ import annotations

import re

OF_ALL = re.compile(  # before a figure that is no number of a thing: "all 480 3 phase", "everything is 208 3 ph"
    r"\b(?:all|each|every(?:thing)?|both|are|is|runs?|alles?|sind|ist|tout(?:es)?|tous|sont|tod[oa]s?|tutt[oiae]|sono|tudo|alle[nt]?|zijn|"
    r"wszystkie|wszystko|v[šs]echn[yoa]|v[šs]e|allt?|[äe]r)\s*\Z",
    re.IGNORECASE,
)
OR = r"(?:or|oder|ou|o|of|lub|czy|eller|nebo|veya|ya\s?da|bzw\.?|resp\.?)"
_OR = rf"(?:{OR}|/)"
_PHASE = r"(?:phases?|phasen|phasig\w*|phs?|fases?|fas[ei]?|fasig\w*|fazy?|faz[oeí]?\w*|f[aá]z\w*|enfas\w*|trefas\w*|monof\w+|trif\w+|ø|~)"
EITHER_PHASES = re.compile(  # "1 or 3 phase", "480/1 or 3": one of the two, and nobody's guess which
    rf"(?<=[\dVv][/-])(?:1\s*(?:{_PHASE})?\s*{OR}\s*3|3\s*(?:{_PHASE})?\s*{OR}\s*1)(?![\w.,/])|"
    rf"(?<![\w.,/-])(?:1|single|one|ein|een)[-\s]?{_PHASE}?\s*{_OR}\s*(?:3|three|drei|drie)[-\s]?{_PHASE}\b"
    rf"|(?<![\w.,/-])(?:3|three|drei|drie)[-\s]?{_PHASE}?\s*{_OR}\s*(?:1|single|one|ein|een)[-\s]?{_PHASE}\b"
    rf"|\b(?:mono(?:phas|fas|fáz)\w*|enfas\w*|jednofaz\w*|jednof[áa]z\w*)\s*{_OR}"
    r"\s*(?:tri(?:phas|fas|fáz)\w*|trefas\w*|trójfaz\w*|t[řr][íi]f[áa]z\w*)",
    re.IGNORECASE,
)
