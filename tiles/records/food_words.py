"""What labels say about food in the languages they are read in, as patterns without accents.

English, German, French, Dutch, Spanish, Italian, Portuguese, Danish, Norwegian, Swedish, Finnish,
Polish and Czech; general vocabulary, common knowledge, no source.
"""

_FOOD_IN_WORDS = (
    r"(?:les |los |gli |con gli )?aliment\w*|lebensmittel\w*|geschirr|voedsel|voedings\w+|servies"
    r"|vajilla|comida|stoviglie|cibi?|louca|mad|levnedsmidler|fodevarer|mat(?:varer)?|livsmedel"
    r"|elintarvik\w+|ruoka\w*|ruoalle|astia\w*|zywnosc\w*|naczyn\w*|potravin\w*|nadob\w*"
)
SAFE_IN_ENGLISH = (
    r"\b(?:food|dinner(?:ware)?|table(?:ware)?|kitchen(?:ware)?)[\s-]*safe\b"
    r"|\bsafe (?:for|with|on) (?:food|dinner|table|kitchen)"
)
SAFE_WORDS = (
    rf"{SAFE_IN_ENGLISH}"
    r"|\b(?:lebensmittel|geschirr)(?:echt|sicher|geeignet|tauglich)\w*"
    r"|\b(?:geeignet|unbedenklich) fur (?:lebensmittel|geschirr)"
    r"|\bfur (?:lebensmittel|geschirr) (?:geeignet|unbedenklich)"
    r"|\b(?:email |emaux )?(?:de )?qualite alimentaire|\bcontact alimentaire"
    r"|\b(?:convient|apte) (?:a|au|aux|pour) (?:la vaisselle|les aliments|l'alimentaire|aliments)"
    r"|\b(?:voedsel|servies)(?:veilig|geschikt)\w*|\bgeschikt voor (?:voedsel|servies)"
    r"|\bapt[oa]s? para (?:uso )?aliment\w+|\b(?:uso|contacto|contatto) aliment\w+"
    r"|\b(?:adatt|idone)[oaie] (?:per|agli|al contatto con gli) aliment\w+"
    r"|\b(?:segur|propri)[oa] para aliment\w+|\bseguro para (?:vajilla|louca)"
    r"|\b(?:levnedsmiddel|fodevare|mat(?:vare)?|livsmedels)(?:godkend|godkjen|godkan|sik|sak)\w*"
    r"|\b(?:elintarvike|ruoka)(?:kelpoi|turvalli)\w*"
    r"|\b(?:dopuszczon\w+ )?do kontaktu z zywnoscia|\bbezpieczn\w+ dla zywnosci"
    r"|\b(?:vhodn\w+ )?pro styk s potravinami|\bvhodn\w+ pro (?:potraviny|nadobi)"
)
"""A promise that it is safe for food."""
NOT = (
    r"\b(?:not?|non|never|cannot|unless|except|without|nicht|nie|niemals|kein(?:e[mnrs]?)?|ohne"
    r"|ausser|pas|jamais|sauf|sans|niet|geen|nooit|zonder|nunca|sin|salvo|senza|tranne|nao|sem"
    r"|exceto|ikke|ikkje|inte|ej|aldrig?|uden|uten|utan|ei|eivat|ilman|bez|neni|neobsahuje)\b|n't\b"
)
"""What turns a promise, or warns."""
UNSAFE = (
    r"\bunsafe\b|\bunsuitable\b|\bdecorati(?:ve|v[oa]s?|f|fs)\b|\bdeko(?:rativ\w*|zweck\w*)?\b"
    r"|\bdekorations\w+|\bzierkeramik\b|\bsier(?:keramiek|aardewerk)\b|\bungeeignet\w*"
    r"|\bungenie(?:ss|sz)bar\w*|\bongeschikt\w*|\binadatt[oaie]\b|\buegnet\w*|\bolamplig\w*"
    r"|\b(?:not|never|un)[\s-]?tested\b|\b(?:nicht |un)(?:gepruft|getestet)\w*|\bniet getest"
    r"|\bnon (?:testee?|testat[oa])\b|\b(?:ikke|inte|ej) (?:test|provad|afprovet)\w*|\bsin probar"
    r"|\bkoriste\w*|\bpynt\w*|\bprydnad\w*|\bozdob\w*|\bdekorac\w*|\bnevhodn\w*"
)
"""What says by itself that nobody vouches for it with food."""
FOOD = (
    r"\b(?:food\w*|dinner\w*|table\w*|kitchen\w*|eat\w*|drink\w*|speise\w*|essen|trink\w*|alimentaire"
    rf"|vaisselle|nourriture|eten|drinken|porslin|posliini\w*|{_FOOD_IN_WORDS})\b"
)
"""What a warning against use with food speaks of."""
PLAIN_WORDS = (
    "ist sind und fur glasur glasuren glanzend seidenmatt spulmaschinenfest mikrowellengeeignet "
    "mikrowellenfest "
    "est et email pour lave vaisselle micro ondes "
    "en glazuur voor vaatwasserbestendig magnetronbestendig "
    "y es esmalte para lavavajillas microondas "
    "e smalto per lavastoviglie microonde "
    "og och er ar glasur glasyr opvaskemaskine oppvaskmaskin diskmaskin "
    "ja lasite szkliwo glazura"
)
"""Words that make no promise hang on anything where they stand beside it."""
