"""Words by which heaters are no part of what is asked for, in more ways than a list of words can hold: "not in heater bid", "comes with the
skid", "by the DI skid supplier", "nicht Teil dieses Angebots"."""

from __future__ import annotations

import re
from functools import lru_cache

from batch.intake.sentence_words import forms
from batch.intake.vocabulary import Hit

_OURS = r"(?:(?:the|this|our|your|current|present|heater|heaters|immersion|base|any) ){0,3}"
_BID = (
    r"(?:bid|quote|quotation|proposal|offer|tender|enquiry|inquiry|rfq|rfp|p\.?o\.?|purchase order|our price|scope of (?:supply|work)"
    r"|job|project|contract|package|works)"
)
_DE = r"(?:angebots?|anfrage|ausschreibung|bestellung|auftrags?|lieferumfangs?|lieferung|leistungsumfangs?|projekt(?:e?s)?|vertrags?)"
_FR = r"(?:offre|devis|chiffrage|consultation|commande|march[ée]|fourniture|prestation|p[ée]rim[èe]tre|projet|contrat)"
_ES = r"(?:oferta|cotizaci[óo]n|presupuesto|pedido|suministro|alcance|licitaci[óo]n|solicitud|proyecto|contrato)"
_IT = r"(?:offerta|preventivo|ordine|fornitura|richiesta|gara|progetto|contratto|commessa)"
_NL = r"(?:offerte|aanvraag|aanbieding|levering|opdracht|bestelling|bestek|project|contract)"
_PL = r"(?:ofer(?:t|ci)\w+|zapytani\w+|zam[óo]wieni\w+|wycen\w+|dostaw\w+|przetarg\w+|projekt\w*|umow\w+|kontrakt\w*)"
_PT = r"(?:proposta|or[çc]amento|oferta|cota[çc][ãa]o|fornecimento|pedido|encomenda|consulta|projeto|contrato)"
_NORDIC = (
    r"(?:tilbudd?et|leveran[cs]en?|leverans|ordren|ordern|foresp[øo]rs(?:len|elen)|f[øo]resp[øo]rgslen|offerten|anbudet|best[äe]llningen"
    r"|f[öo]rfr[åa]gan|prosjektet|projektet|kontrakten)"
)
_CS = r"(?:nab[íi]d[kc]\w+|popt[áa]v[kc]\w+|dod[áa]v[kc]\w+|objedn[áa]v[kc]\w+|cen[ěye]|projekt\w*|smlouv\w+|zak[áa]z\w+)"
_NOT_IN_IT = "|".join(
    (
        rf"not (?:part of|included in|to be in|to be part of|covered by|in|on|for) {_OURS}{_BID}",
        rf"(?:outside|out of|excluded from|exclude from) {_OURS}{_BID}",
        rf"nicht (?:(?:teil|bestandteil|gegenstand) )?(?:(?:im|in|der|des|dieses|dieser|diesem|unseres|unserer|unserem) ){{0,2}}{_DE}",
        rf"geh[öo](?:rt|ren) nicht zu[mr]? (?:(?:diese[mr]|unsere[mr]) )?{_DE}",
        rf"kein (?:teil|bestandteil|gegenstand) (?:(?:der|des|dieses|dieser|unseres|unserer) )?{_DE}",
        rf"au(?:ß|ss)erhalb (?:des |der |dieses |dieser )?{_DE}",
        rf"(?:pas|non) (?:compris\w* |inclus\w* |pr[ée]vu\w* )?(?:dans|en) (?:la |le |l['’]|notre |cette |ce |votre )?{_FR}",
        rf"ne (?:fai(?:t|sant)|font) pas partie (?:de (?:la |l['’]|notre |cette )|du ){_FR}",
        rf"hors (?:de )?(?:l['’]|la |notre |cette )?{_FR}",
        rf"no (?:van? |entran? |est[áa]n? |(?:est[áa]n? )?incluid[oa]s? )?en (?:la |el |esta |este |nuestra |nuestro )?{_ES}",
        rf"no forman? parte de(?:l| la| esta| este| nuestra| nuestro)? {_ES}",
        rf"fuera de (?:la |esta |nuestra )?{_ES}",
        rf"non (?:(?:compres|inclus)[oaie] )?(?:in |ne[li] |nella |nell['’])(?:questa |questo |nostra )?{_IT}",
        rf"non (?:fa|fanno) parte (?:d[ei]l(?:la )?|dell['’]|di ) ?(?:questa |questo |nostra )?{_IT}",
        rf"(?:fuori|esclus[oaie]) (?:dalla |dall['’]|dal )?(?:questa |questo |nostra )?{_IT}",
        rf"(?:niet|geen) (?:opgenomen |inbegrepen |meegenomen |onderdeel )?(?:in|bij|van) (?:de |deze |onze |dit )?{_NL}",
        rf"(?:maakt|maken) geen deel uit van (?:de |deze |dit |onze )?{_NL}",
        rf"buiten (?:de |deze )?{_NL}",
        rf"nie (?:uj[ęe]t\w+ |obj[ęe]t\w+ |wchodzi )?(?:w |do |w zakres )(?:tej |naszej |niniejszej )?{_PL}",
        rf"nie (?:wchodz[iąa]\w* w (?:zakres )?|(?:jest|s[ąa]) cz[ęe][śs]ci[ąa] )(?:tej |naszej |niniejszej )?{_PL}",
        rf"poza (?:nasz[ąa] |t[ąa] |niniejsz[ąa] )?{_PL}",
        rf"n[ãa]o (?:inclu[íi]d[oa]s? |faz(?:em)? parte |consta )?(?:n[ao]|nest[ae]|d[ao]|dest[ae]) (?:nossa |nosso )?{_PT}",
        rf"fora d[ao] {_PT}",
        rf"(?:ikke|ej|inte) (?:(?:med|en del|del|omfattet|inkludert|inkluderad\w?) )?(?:i|af|av) (?:denne |denna |v[åo]r\w* )?{_NORDIC}",
        rf"ing[åa]r (?:ikke|ej|inte) i (?:denne |denna |v[åo]r\w* )?{_NORDIC}",
        rf"(?:nen[íi]|nejsou) (?:sou[čc][áa]st[íi] |zahrnut\w* |obsa[žz]en\w* )?(?:v |ve )?(?:t[ée]to |na[šs][íi] )?{_CS}",
        rf"mimo (?:tuto |na[šs]i )?{_CS}",
    )
)
_NOT_OURS = "|".join(  # "fora do nosso escopo", "nicht unser Lieferumfang"
    (
        r"(?:not|outside|out of|not in|not within|not part) (?:of )?our (?:scope|supply|package|works?|delivery)",
        r"nicht (?:in )?unser(?:em|en)? (?:liefer|leistungs)?umfang|nicht unsere lieferung",
        r"(?:hors|pas (?:dans )?) ?(?:de )?(?:notre|nos) (?:p[ée]rim[èe]tre|fourniture|lot|prestation)",
        r"(?:fuera|no est[áa]n? dentro|no entra) (?:de|en) nuestr[oa] (?:alcance|suministro)",
        r"(?:fuori|non (?:in|nel(?:la)?)|escluso) (?:dal(?:la)? )?nostr[oa] (?:fornitura|scopo)",
        r"(?:fora|n[ãa]o (?:é|e|faz parte)) d[oa] noss[oa] (?:escopo|[âa]mbito|fornecimento)",
        r"(?:niet (?:in )?|buiten )onze (?:levering|scope|opdracht)",
        r"poza nasz(?:ym|[ąa]) (?:zakresem|dostaw[ąa])|nie w naszym zakresie",
        r"(?:ikke|ej|inte|utanf[öo]r|utenfor|uden for) (?:i )?v[åo]re?s?t? (?:leveran[cs]e?n?|omfang|entreprise|[åa]tagande)",
        r"(?:nicht zu |nicht )unser(?:em|en)? (?:liefer|leistungs)umfang",
        r"kapsam[ıi]?m[ıi]z(?:da de[ğg]il|[ıi]n d[ıi][şs][ıi]nda)|kapsam d[ıi][şs][ıi](?:nda)?",
        r"(?:mimo|nen[íi] v|nejsou v) na[šs](?:i|[íi]|eho|em) (?:dod[áa]vk[uy]|rozsah|rozsahu)",
    )
)
_BY_SOMEBODY = (
    r"by (?:the |their |its )?(?:[\w-]+ ){1,3}"
    r"(?:supplier|vendor|maker|manufacturer|builder|contractor|integrator|oem|mfrs?\.?|mfgr\.?)"
)
_ON_IT = r"(?:the |its |their |a )?(?:[\w-]+ ){0,3}(?:skid|package|machine|system|washer|equipment)"
_WITH_IT = "|".join(
    (
        rf"(?:comes?|coming|came|supplied|furnished|provided|delivered|shipped|purchased) (?:with|on|as part of) {_ON_IT}",
        r"mit (?:dem |der )?(?:skid|maschine|anlage) (?:mit)?geliefert",
        r"(?:fourni|livr[ée])e?s? avec (?:la |le |l['’])?(?:skid|machine|[ée]quipement)",
        r"(?:viene|vienen|suministrad[oa]s?) con (?:el |la )?(?:skid|m[áa]quina|equipo)",
        r"fornit[oaie] con (?:lo |la |l['’])?(?:skid|macchina|impianto)",
    )
)
_BY_BUYER = "|".join(  # who buys the heating brings the heaters: "cust supplied", "fornitura cliente", "vom AG gestellt"
    (
        r"(?:cust(?:omer)?\.?|client|owner|purchaser|buyer|end[- ]user|plant|site)(?:'s)?[- ](?:supplie[ds]|furnishe[ds]|provide[ds]"
        r"|furn\.?|to (?:supply|furnish|provide))",
        r"(?:cust(?:omer)?\.?|client|owner) supply(?!\W*(?:\d|volt|power|is\b))",
        r"(?:supplied|furnished|provided|supply|furn\.?) by (?:the )?"
        r"(?:cust(?:omer)?\.?|client|owner|purchaser|buyer|end[- ]user|plant|site)",
        r"(?:lieferung|lieferumfang|beistellung) (?:durch |vom |des |der )?"
        r"(?:kunden?|ag|auftraggebers?|betreibers?|bauherrn?|bestellers?)",
        r"(?:kunden|ag|auftraggeber|betreiber|bauherren)[- ]?(?:beistellung|lieferung|seits|seitig)",
        r"(?:vom|durch|von) (?:kunden?|den kunden|ag|den ag|auftraggeber|betreiber|bauherrn) (?:bei)?(?:geliefert|gestellt|beigestellt)",
        r"(?:fourni|livr[ée])e?s? par (?:le |l['’])?(?:client|exploitant|ma[îi]tre d['’]ouvrage|moa|site)",
        r"(?:fourniture|lot) (?:du |de l['’])?(?:client|exploitant|moa|ma[îi]tre d['’]ouvrage)",
        r"suministr(?:o|ad[oa]s?) (?:por |de |del )?(?:el |la )?(?:cliente|propiedad|propietario|planta)",
        r"(?:fornitur[ae]|fornit[oaie]) (?:del |dal |da |a cura del |di )?(?:cliente|committente|utente finale)",
        r"(?:levering|geleverd|leverantie) (?:door |van )?(?:de )?(?:klant|opdrachtgever|eindgebruiker)",
        r"door (?:de )?(?:klant|opdrachtgever) (?:te leveren|geleverd|verzorgd)",
        r"(?:dostaw[ay]|dostarcz[ay]) (?:przez )?(?:klient[a]?|inwestor[a]?|zamawiaj[ąa]c(?:y|ego))",
        r"po stronie (?:klienta|inwestora|zamawiaj[ąa]cego)",
        r"fornec(?:imento|id[oa]s?) (?:do |pelo )?(?:cliente|dono da obra)",
        r"lever(?:es|et|eras|ans|anse|ance) (?:av |af )?(?:kunden?|bygherren?|byggherren?|best[äe]ll(?:are|aren|er|eren))",
        r"dod[áa](?:vka)? (?:z[áa]kazn[íi]k\w*|investor\w*|objednatel\w*)",
    )
)
_OWNER_BUYS = "|".join(  # "compra do proprietário", "Einkauf durch Betreiber": who buys for himself asks nobody for it
    (
        r"(?:bought|purchased|procured|purchase|procurement) by (?:the )?(?:cust(?:omer)?\.?|client|owner|end[- ]user|plant|site|landlord)",
        r"(?:owner|customer|client)[- ](?:bought|purchased|procured|buys|purchase)",
        r"(?:kauf|einkauf|beschaffung|bestellung) (?:durch |vom |des |der )?(?:den )?(?:kunden?|ag|auftraggebers?|betreibers?|bauherrn?)",
        r"(?:achat|fourniture|achet[ée]e?s?) (?:par |du |de )?(?:le |l['’])?(?:client|exploitant|propri[ée]taire|ma[îi]tre d['’]ouvrage)",
        r"(?:compra|suministro|(?:suministra|compra)d[oa]s?) (?:por |de(?:l| la)? )?(?:el |la )?"
        r"(?:cliente|due[ñn]o|propietario|propiedad)",
        r"(?:acquist[oi]|acquistat[oaie]|fornitur[ae]|fornit[oaie]) (?:dal? |del |a cura del )?(?:cliente|committente|propriet[àa]rio)",
        r"(?:compra(?:d[oa]s?)?|aquisi[çc][ãa]o|fornec(?:imento|id[oa]s?)) (?:d[oa] |pel[oa] |por conta do )?"
        r"(?:cliente|propriet[áa]rio|dono da obra)",
        r"(?:owner|customer|client|purchaser|buyer) (?:buys|brings|provides|supplies|furnishes|will (?:buy|bring|provide|supply|furnish))",
        r"(?:stellt|liefert|kauft|besorgt) (?:der )?(?:kunde|betreiber|bauherr|ag)|(?:kunde|betreiber|bauherr"
        r"|ag) (?:stellt|liefert|kauft|besorgt)",
        r"(?:pone|aporta|entrega|suministra|compra|trae) el cliente|el cliente (?:l[oa]s? )?(?:pone|aporta|entrega|suministra|compra|trae)",
        r"(?:mette|fornisce|porta|compra) il (?:cliente|committente)|il (?:cliente|committente) (?:l[ioae] )?(?:mette"
        r"|fornisce|porta|compra)",
        r"le client (?:l[ae]s? )?(?:fournit|ach[èe]te|apporte)|(?:klant|opdrachtgever) (?:levert|koopt)|(?:klient"
        r"|inwestor) (?:dostarcza|kupuje)",
        r"(?:o )?cliente (?:compra|fornece)|kunden? (?:k[øo]ber|kj[øo]per|k[öo]per|leverer|levererar)|z[áa]kazn[íi]k (?:dod[áa]|koup[íi])",
        r"(?:por conta|a cargo|por parte) d[oe]l? (?:due[ñn]o|propietario|propriet[áa]rio|dono da obra)",
        r"(?:à (?:la )?charge|aux frais) du propri[ée]taire|a (?:carico|cura) del propriet[àa]rio",
        r"(?:inkoop|aankoop|aanschaf|levering) (?:door |van )?(?:de )?(?:klant|opdrachtgever|eigenaar|gebruiker)",
        r"(?:zakup|dostawa) (?:przez |po stronie )?(?:klienta|inwestora|zamawiaj[ąa]cego|w[łl]a[śs]ciciela|u[żz]ytkownika)",
        r"(?:k[øo]bt?|k[øo]bes|indk[øo]bes|innkj[øo]pes|kj[øo]pe[st]|k[öo]p[st]|inköps|leveres|levereras) (?:av |af )"
        r"(?:kunde[nr]?|kund|bygg?herren?|eier(?:en)?|ejer(?:en)?|[äa]gare?n?)",
        r"(?:n[áa]kup|zakoup[íi]|koup[íi]|dod[áa](?:vka)?) "
        r"(?:z[áa]kazn[íi]k\w*|investor\w*|objednatel\w*|majitel\w*|provozovatel\w*)",
    )
)
_PLUMBER = (  # whose trade water heaters are; the electrician is none of these: what he does is wire
    r"(?:plumber|plumbing contractor|mechanical contractor|hvac contractor|heating contractor|landlord)s?"
)
_BY_OTHER_TRADE = "|".join(
    (
        rf"(?:by|from) (?:the |their )?{_PLUMBER}",
        rf"{_PLUMBER} (?:supplies|provides|furnishes|to supply|to provide)",
        r"(?:durch|vom|von) (?:den |dem )?(?:klempner|installateur|heizungsbauer|sanit[äa]rfirma|vermieter)",
        r"(?:par|lot) (?:le |du )?(?:plombier|plomberie|chauffagiste|bailleur)",
        r"(?:dall['’]|a cura dell['’]|a carico dell['’])idraulico|da idraulico",
        r"(?:por|de(?:l)?|a cargo de(?:l)?|por cuenta de(?:l)?) (?:el )?(?:plomero|fontanero|gasfitero)",
        r"(?:pelo|por|do|por conta do|a cargo do) (?:encanador|canalizador)",
        r"(?:door|van) (?:de )?(?:loodgieter|verhuurder|cv-installateur)",
        r"(?:przez|dostarcza|po stronie) (?:hydraulika?|wynajmuj[ąa]cego)",
        r"(?:av|af) (?:r[øö]rl[äæeé]gger(?:en)?|r[öo]rmokaren?|vvs(?:[- ]?(?:firma(?:et)?|installat[øö]r(?:en)?)|['’]?(?:eren|aren))?)",
        r"(?:dod[áa]|zajist[íi]) (?:instalat[ée]r\w*|topen[áa][řr]\w*)",
    )
)
SAID = re.compile(
    rf"\b(?:{_NOT_IN_IT}|{_BY_SOMEBODY}|{_WITH_IT}|{_BY_BUYER}|{_OWNER_BUYS}|{_BY_OTHER_TRADE}|{_NOT_OURS})(?!\w)", re.IGNORECASE
)
_OF_THE_HEATERS = re.compile(r"\bby .*heater", re.IGNORECASE)  # whose supplier is asked


@lru_cache(maxsize=1)
def who_accepted() -> re.Pattern[str]:
    """ "ACCEPTED by owner": who said yes to an option brings no heaters by it."""
    said = (
        r"accepted|exercised|beauftragt|accept[ée]e?s?|retenue?s?|aceptad[oa]s?|aceite|accettat[aeio]|geaccepteerd|przyj[ęe]t[aey]"
        r"|accepter[ae]t|godk[äe]nt|godkendt|p[řr]ijat[aáoéý]"
    )
    by = r"(?:by|durch|vom|von|par|por|pelo|d[ae]l|da|door|przez|av|af|od)\s+(?:(?:the|den|dem|le|el|il|de|o)\s+)?"
    return re.compile(rf"(?P<word>\b(?:{said})\b)(?P<whom>\s+{by}{forms('buyer')}\w{{0,3}})(?!\w)", re.IGNORECASE)


def out_of_scope(text: str) -> tuple[Hit, ...]:
    """Words by which others bring the heaters, whoever they are, or by which they are not asked for."""
    found = [match for match in SAID.finditer(text) if not _OF_THE_HEATERS.match(match[0])]
    return tuple(Hit(match[0], match.start(), match.end(), "en") for match in found)
