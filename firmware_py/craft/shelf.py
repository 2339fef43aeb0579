"""The substances on the shelf: what they are called and what they are made of."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from types import MappingProxyType

from firmware_py.craft.hazards import HAZARDS, Hazards


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
    liquid: bool = False
    note: str = ""

    @property
    def hazards(self) -> Hazards:
        """Get what its data sheet says of it. Source: the sheet."""
        return HAZARDS[self.name]


def _one(
    name: str,
    formula: str,
    *names: str,
    active: str = "",
    per_mole: int = 1,
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
    ),
    _one(
        "glycin",
        "C8H9NO3",
        "N-(4-hydroxyphenyl)glycine",
        "p-hydroxyphenylglycine",
        "para-hydroxyphenyl glycine",
    ),
    _one(
        "amidol",
        "C6H8N2O·2HCl",
        "2,4-diaminophenol dihydrochloride",
        "diaminophenol hydrochloride",
    ),
    _one(
        "pyrocatechin",
        "C6H6O2",
        "catechol",
        "pyrocatechol",
        "catechin",
        "1,2-dihydroxybenzene",
    ),
    _one(
        "paraminophenol",
        "C6H7NO",
        "p-aminophenol",
        "para-aminophenol",
        "4-aminophenol",
    ),
    _one(
        "paraminophenol hydrochloride",
        "C6H7NO·HCl",
        "p-aminophenol hydrochloride",
        "4-aminophenol hydrochloride",
    ),
    _one("chlorhydroquinone", "C6H5ClO2", "chlorquinol", "chlorohydroquinone"),
    _one("phenidone", "C9H10N2O", "1-phenyl-3-pyrazolidinone", "1-phenyl-3-pyrazolidone"),
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
    ),
    _one("sodium bicarbonate", "NaHCO3", "bicarbonate of soda", "baking soda", "sodium hydrogen carbonate"),
    _one(
        "sodium hydroxide",
        "NaOH",
        "caustic soda",
        "sodium hydrate",
        "lye",
        active="hydroxide",
    ),
    _one(
        "potassium hydroxide",
        "KOH",
        "caustic potash",
        "potassium hydrate",
        active="hydroxide",
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
    ),
    _one(
        "potassium metabisulphite",
        "K2S2O5",
        "metabisulphite of potash",
        "potash metabisulphite",
        active="bisulphite",
        per_mole=2,
    ),
    _one("sodium metabisulphite", "Na2S2O5", active="bisulphite", per_mole=2),
    _one(
        "sodium bisulphite",
        "NaHSO3",
        "bisulphite of soda",
        "acid sulphite of soda",
        "sodium hydrogen sulphite",
        active="bisulphite",
    ),
    Substance(
        "citric acid",
        "citric acid",
        {"anhydrous": "C6H8O7", "monohydrate": "C6H8O7·H2O"},
        crystals="monohydrate",
    ),
    _one("tartaric acid", "C4H6O6"),
    _one("boric acid", "B(OH)3", "boracic acid"),
    _one("acetic acid", "C2H4O2", "glacial acetic acid", liquid=True),
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
    ),
    _one(
        "chrome alum",
        "KCr(SO4)2·12H2O",
        "potassium chrome alum",
        "chromium potassium sulphate",
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
    ),
    _one(
        "potassium ferrocyanide",
        "K4Fe(CN)6·3H2O",
        "yellow prussiate of potash",
        "ferrocyanide of potassium",
    ),
    _one("ammonium persulphate", "(NH4)2S2O8", "persulphate of ammonium"),
    _one("potassium permanganate", "KMnO4", "permanganate of potash"),
    Substance(
        "sodium sulphate",
        "sulphate",
        {"anhydrous": "Na2SO4", "decahydrate": "Na2SO4·10H2O"},
        ("sulphate of soda",),
        {"Glauber's salt": "decahydrate"},
        crystals="decahydrate",
    ),
    _one("sodium sulphide", "Na2S·9H2O", "sulphide of soda"),
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
