"""The substances on the shelf: what they are called, what they are made of, and what to beware of."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from types import MappingProxyType

# Cautions: references.md ("Formulas from print") and common practice; a safety data sheet goes before them.
DATA_SHEET = "Follow the safety data sheet and local rules."
POISON = "Poisonous: keep it off the skin and out of the mouth, and do not breathe its dust."
SENSITISES = "May make the skin allergic for life: wear gloves."
CAUSTIC = "Burns eyes and skin, and heats the water: goggles and gloves, a little at a time into cold water."
ACID_GAS = "Gives off choking sulphur dioxide with acid: mind the air."
NO_STRONG_ACID = "Never let it or its waste meet strong acid: poisonous gas."
NO_ACID_HYPO = "Keep strong acid away: it sets sulphur and sulphur dioxide free."
ACID = "Acid into water, never the reverse."
OXIDISER = "Keep it from anything that burns: it feeds fire."
IRRITATES = "Irritates eyes and skin: wear gloves."


@dataclass(frozen=True, slots=True)
class Substance:
    """A substance in all the forms it is sold in.

    ``forms`` gives for each form its chemical formula; a substance sold one way has the form "".
    ``active`` is what it is used for and ``per_mole`` how much of that a mole of the dry formula holds:
    substances with the same ``active`` replace each other mole for mole. ``note`` is what to know of
    a jar of its crystals. ``crystals`` is the form that
    the word "crystals" means, ``usual`` the form meant when none is named (None: ask).
    ``names`` are its other names, ``formed`` those which name a form as well. Source: own.
    """

    name: str
    active: str
    forms: Mapping[str, str]
    names: tuple[str, ...] = ()
    formed: Mapping[str, str] = field(default_factory=lambda: MappingProxyType({}))
    crystals: str | None = None
    usual: str | None = None
    per_mole: int = 1
    cautions: tuple[str, ...] = ()
    liquid: bool = False
    note: str = ""


def _one(
    name: str,
    formula: str,
    *names: str,
    active: str = "",
    per_mole: int = 1,
    cautions: tuple[str, ...] = (),
    liquid: bool = False,
) -> Substance:
    """Put a substance on the shelf that is sold in one form only."""
    return Substance(
        name,
        active or name,
        {"": formula},
        names,
        usual="",
        per_mole=per_mole,
        cautions=cautions,
        liquid=liquid,
    )


SHELF: tuple[Substance, ...] = (
    # developing agents
    _one(
        "pyrogallol",
        "C6H6O3",
        "pyro",
        "pyrogallic acid",
        "1,2,3-trihydroxybenzene",
        "benzene-1,2,3-triol",
        cautions=(POISON, IRRITATES),
    ),
    _one(
        "hydroquinone",
        "C6H6O2",
        "quinol",
        "hydrokinone",
        "hydrochinon",
        "hydrochinone",
        "1,4-dihydroxybenzene",
        "benzene-1,4-diol",
        cautions=(SENSITISES,),
    ),
    _one(
        "metol",
        "(C7H9NO)2·H2SO4",
        "4-(methylamino)phenol sulphate",
        "p-methylaminophenol sulphate",
        "N-methyl-p-aminophenol sulphate",
        "monomethyl para-aminophenol sulphate",
        "methylaminophenol sulphate",
        "4-methylaminophenol hemisulphate",
        cautions=(SENSITISES,),
    ),
    _one(
        "glycin",
        "C8H9NO3",
        "N-(4-hydroxyphenyl)glycine",
        "p-hydroxyphenylglycine",
        "para-hydroxyphenyl glycine",
        cautions=(IRRITATES,),
    ),
    _one(
        "amidol",
        "C6H8N2O·2HCl",
        "2,4-diaminophenol dihydrochloride",
        "diaminophenol hydrochloride",
        cautions=(SENSITISES,),
    ),
    _one(
        "pyrocatechin",
        "C6H6O2",
        "catechol",
        "pyrocatechol",
        "catechin",
        "1,2-dihydroxybenzene",
        cautions=(POISON, CAUSTIC),
    ),
    _one(
        "paraminophenol",
        "C6H7NO",
        "p-aminophenol",
        "para-aminophenol",
        "4-aminophenol",
        cautions=(SENSITISES,),
    ),
    _one(
        "paraminophenol hydrochloride",
        "C6H7NO·HCl",
        "p-aminophenol hydrochloride",
        "4-aminophenol hydrochloride",
        cautions=(SENSITISES,),
    ),
    _one("chlorhydroquinone", "C6H5ClO2", "chlorquinol", "chlorohydroquinone", cautions=(SENSITISES,)),
    _one(
        "phenidone", "C9H10N2O", "1-phenyl-3-pyrazolidinone", "1-phenyl-3-pyrazolidone", cautions=(IRRITATES,)
    ),
    _one("ascorbic acid", "C6H8O6", "vitamin C"),
    # alkalis
    Substance(
        "sodium carbonate",
        "carbonate",
        {"anhydrous": "Na2CO3", "monohydrate": "Na2CO3·H2O", "decahydrate": "Na2CO3·10H2O"},
        ("carbonate of soda",),
        {
            "washing soda": "decahydrate",
            "sal soda": "decahydrate",
            "soda crystals": "decahydrate",
            "soda ash": "anhydrous",
        },
        crystals="decahydrate",
        cautions=(IRRITATES,),
        # powder, and then not to be used: The Wellington Photographic Handbook, p. 160 (seen)
        note="Crystals left open turn to powder; a packet of washing soda may be dried: read the label.",
    ),
    Substance(
        "potassium carbonate",
        "carbonate",
        {"anhydrous": "K2CO3", "sesquihydrate": "(K2CO3)2·3H2O"},
        ("carbonate of potash", "pearlash", "pearl ash", "salt of tartar"),
        crystals="sesquihydrate",
        usual="anhydrous",
        cautions=(IRRITATES,),
    ),
    _one("sodium bicarbonate", "NaHCO3", "bicarbonate of soda", "baking soda", "sodium hydrogen carbonate"),
    _one(
        "sodium hydroxide",
        "NaOH",
        "caustic soda",
        "sodium hydrate",
        "lye",
        active="hydroxide",
        cautions=(CAUSTIC,),
    ),
    _one(
        "potassium hydroxide",
        "KOH",
        "caustic potash",
        "potassium hydrate",
        active="hydroxide",
        cautions=(CAUSTIC,),
    ),
    Substance(
        "borax",
        "borate",
        {"anhydrous": "Na2B4O7", "pentahydrate": "Na2B4O7·5H2O", "decahydrate": "Na2B4O7·10H2O"},
        ("sodium tetraborate", "sodium borate", "biborate of soda"),
        crystals="decahydrate",
        usual="decahydrate",
    ),
    # preservatives
    Substance(
        "sodium sulphite",
        "sulphite",
        {"anhydrous": "Na2SO3", "heptahydrate": "Na2SO3·7H2O"},
        ("sulphite of soda", "soda sulphite"),
        crystals="heptahydrate",
        cautions=(ACID_GAS,),
    ),
    _one(
        "potassium metabisulphite",
        "K2S2O5",
        "metabisulphite of potash",
        "potash metabisulphite",
        active="bisulphite",
        per_mole=2,
        cautions=(ACID_GAS,),
    ),
    _one("sodium metabisulphite", "Na2S2O5", active="bisulphite", per_mole=2, cautions=(ACID_GAS,)),
    _one(
        "sodium bisulphite",
        "NaHSO3",
        "bisulphite of soda",
        "acid sulphite of soda",
        "sodium hydrogen sulphite",
        active="bisulphite",
        cautions=(ACID_GAS,),
    ),
    Substance(
        "citric acid",
        "citric acid",
        {"anhydrous": "C6H8O7", "monohydrate": "C6H8O7·H2O"},
        crystals="monohydrate",
        cautions=(IRRITATES,),
    ),
    _one("tartaric acid", "C4H6O6", cautions=(IRRITATES,)),
    _one("boric acid", "B(OH)3", "boracic acid"),
    _one("acetic acid", "C2H4O2", "glacial acetic acid", cautions=(CAUSTIC, ACID), liquid=True),
    # restrainers
    _one(
        "potassium bromide", "KBr", "bromide of potassium", "bromide of potash", "bromide", active="bromide"
    ),
    _one("sodium bromide", "NaBr", "bromide of sodium", "bromide of soda", active="bromide"),
    _one("ammonium bromide", "NH4Br", "bromide of ammonium", "bromide of ammonia"),
    _one("potassium iodide", "KI", "iodide of potassium", "iodide of potash"),
    _one("sodium chloride", "NaCl", "common salt"),
    # fixing, hardening, reducing
    Substance(
        "sodium thiosulphate",
        "thiosulphate",
        {"anhydrous": "Na2S2O3", "pentahydrate": "Na2S2O3·5H2O"},
        ("thiosulphate of soda",),
        {
            "hypo": "pentahydrate",
            "hyposulphite of soda": "pentahydrate",
            "sodium hyposulphite": "pentahydrate",
            "hyposulphite": "pentahydrate",
        },
        crystals="pentahydrate",
        cautions=(NO_ACID_HYPO,),
    ),
    _one(
        "chrome alum",
        "KCr(SO4)2·12H2O",
        "potassium chrome alum",
        "chromium potassium sulphate",
        cautions=(IRRITATES,),
    ),
    _one(
        "potash alum",
        "KAl(SO4)2·12H2O",
        "alum",
        "potassium alum",
        "common alum",
        "potassium aluminium sulphate",
    ),
    _one(
        "potassium ferricyanide",
        "K3Fe(CN)6",
        "red prussiate of potash",
        "ferricyanide of potassium",
        "ferricyanide",
        "ferridcyanide",
        cautions=(POISON, NO_STRONG_ACID),
    ),
    _one(
        "potassium ferrocyanide",
        "K4Fe(CN)6·3H2O",
        "yellow prussiate of potash",
        "ferrocyanide of potassium",
        cautions=(NO_STRONG_ACID,),
    ),
    _one("ammonium persulphate", "(NH4)2S2O8", "persulphate of ammonium", cautions=(SENSITISES, OXIDISER)),
    _one("potassium permanganate", "KMnO4", "permanganate of potash", cautions=(OXIDISER, IRRITATES)),
    Substance(
        "sodium sulphate",
        "sulphate",
        {"anhydrous": "Na2SO4", "decahydrate": "Na2SO4·10H2O"},
        ("sulphate of soda",),
        {"Glauber's salt": "decahydrate"},
        crystals="decahydrate",
    ),
    _one("sodium sulphide", "Na2S·9H2O", "sulphide of soda", cautions=(CAUSTIC, NO_STRONG_ACID)),
)

# Never in a formula of ours, and never reckoned: their risk is out of proportion to what they do for a plate.
FORBIDDEN: Mapping[str, str] = MappingProxyType(
    {
        word: kind
        for kind, words in {
            "mercury": "mercury mercuric mercurous sublimate calomel",
            "cyanide": "cyanide cyanides",
            "uranium": "uranium uranyl uranic",
            "dichromate": "dichromate bichromate chromate",
        }.items()
        for word in words.split()
    }
)
