"""By what a tank is heated: headings that ask for it, and words and letters that say electricity."""

from __future__ import annotations

import re

ELECTRIC = re.compile(  # and no "electroclean"
    r"\b(?:elec(?:t(?:ric(?:al(?:ly)?|ity)?)?)?|elektrisch(?:e[rn]?)?|elektro|[ée]lectri(?:que|cit[ée])s?|el[ée]ctric[oa]s?|elettric[oaie]"
    r"|elektryczn\w+|el[ée]tric[oa]s?|elektrick\w+|elektřina|elektrisk\w*|elektricitet|elektriciteit|\Ael(?=\.?\Z))(?!\w)\.?",
    re.IGNORECASE,
)
HEATED_BY = re.compile(
    r"heat(?:ing|ed(?: by)?)?(?: (?:source|supply|type|method|medium|media|by))?|(?:method|type|source) of heat(?:ing)?"
    r"|energy(?: source)?|fuel"
    r"|(?:be)?heizung(?:sart)?|heiz(?:medium|energie)|beheizt mit|chauffage|(?:mode|moyen|type) de chauffage|fluide chauffant|[ée]nergie"
    r"|calefacci[oó]n|(?:medio|tipo) de calefacci[oó]n|riscaldamento|(?:mezzo|tipo) di riscaldamento|aquecimento"
    r"|(?:meio|tipo) de aquecimento"
    r"|verwarming|(?:soort|wijze van) verwarming|ogrzewanie|(?:spos[óo]b|rodzaj) ogrzewania|uppv[äa]rmning|opvarmning|oppvarming|oh[řr]ev"
    r"|(?:druh|zp[ůu]sob) oh[řr]evu", re.IGNORECASE,
)  # fmt: skip
LETTERS = re.compile(r"[A-Z]{1,2}", re.IGNORECASE)  # by what a tank is heated; E is electricity
