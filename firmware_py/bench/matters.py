"""Every kind of matter the bench can bring: why it comes, what to do. The manual's table is made from it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Literal

Kind = Literal[
    "bath assumed",
    "bath outside window",
    "bath used up",
    "broken glass",
    "calibration old",
    "cue",
    "damaged bath",
    "damaged journal",
    "damaged plate",
    "damaged print",
    "damaged probe",
    "damaged run",
    "foot refused",
    "foot switch held",
    "foot switch unplugged",
    "formulas",
    "guardian",
    "heater stopped",
    "heater waits",
    "journal",
    "lamp",
    "lamp interrupted",
    "lamp out by itself",
    "lamp unanswered",
    "light sensor silent",
    "mock pins",
    "no exposure",
    "plate size",
    "probe misses",
    "probe rushes",
    "probe set aside",
    "probe silent",
    "probes differ",
    "pull taken back",
    "relay",
    "safe time",
    "safelight out",
    "switchboard",
    "tray stalled",
    "which bath",
]


@dataclass(frozen=True, slots=True)
class Matter:
    """A kind of matter: what its notice says (… stands for what varies), its usual causes, the next step.

    Kinds of one ``slot`` stand in the same place: the newer replaces the older. Trouble stands first.
    """

    says: str
    cause: str
    to_do: str
    trouble: bool = False
    slot: str = ""


_DAMAGE = (
    "The rest of the book is whole and in use. `embertray logbook rebuild --leave-out` leaves this one out."
)
_MATTERS: dict[Kind, Matter] = {
    "bath assumed": Matter(
        "Run …, …: counted on …",
        "Several baths fit this step, and none was named before it was over: the one last used is counted.",
        "Name the bath at the next step: Enter on the Trays page asks for it, and it is remembered.",
        slot="which bath",
    ),
    "bath outside window": Matter(
        "… has … degC; … wants … degC",
        "The bath is colder or warmer than the step of the routine allows.",
        "Warm or cool the bath, or take the plate out. Development goes on being timed at the temperature "
        "the bath has.",
        trouble=True,
    ),
    "bath used up": Matter(
        "Bath … is …; mix a new one",
        "It has had as much plate area as it bears, it is past its keeping time, or it clears too slowly.",
        "Mix a fresh bath before the next plate. If its date is wrong, put the date right.",
    ),
    "broken glass": Matter(
        "Broken glass: no bare hands in tray, holder or sink",
        "A plate was said to have broken.",
        "White light only once no plate is open. Take the pieces up with tongs or thick gloves and the "
        "splinters with wet paper; rinse tray and holder out before another plate goes in. Common practice, "
        "no source.",
    ),
    "calibration old": Matter(
        "Probe … was calibrated more than a year ago",
        "A probe drifts with the years.",
        "Hold it in melting ice and calibrate it again when no plate is waiting.",
    ),
    "cue": Matter(
        "…: Rock the tray, … edge up",
        "A moment of the routine has come, or is near.",
        "Do what it says. The foot or a key says that it is done.",
    ),
    "damaged bath": Matter(
        "Bath … cannot be read from the journal",
        "The entries of this bath do not follow from one another.",
        f"{_DAMAGE} Make the bath anew under another name; run `embertray logbook verify`.",
        trouble=True,
    ),
    "damaged journal": Matter(
        "The journal was damaged (…) and is kept as …",
        "The disk failed, or power went in a way the disk did not bear.",
        "Copy the damaged file that the notice names to another disk. Run `embertray logbook verify`. "
        "Put a new card into the board.",
        trouble=True,
    ),
    "damaged plate": Matter(
        "A … cannot be read from the journal",
        "The entries of this box, holder or plate do not follow from one another.",
        f"{_DAMAGE} Enter it anew under another name; run `embertray logbook verify`.",
        trouble=True,
    ),
    "damaged print": Matter(
        "A print cannot be read from the journal",
        "The entries of this print do not follow from one another.",
        f"{_DAMAGE} Open the print again; run `embertray logbook verify`.",
        trouble=True,
    ),
    "damaged probe": Matter(
        "The calibration of a probe cannot be read from the journal",
        "The entries of this probe do not follow from one another.",
        f"{_DAMAGE} Calibrate the probe again; until then it is read uncorrected.",
        trouble=True,
    ),
    "damaged run": Matter(
        "A run cannot be read from the journal",
        "The entries of this run do not follow from one another.",
        f"{_DAMAGE} If the plate lies in a tray now, time it by a clock; run `embertray logbook verify`.",
        trouble=True,
    ),
    "foot refused": Matter(
        "cannot move on while …",
        "The foot asked for something that can not be done now.",
        "Read why. Nothing has changed.",
    ),
    "foot switch held": Matter(
        "The foot switch stays down",
        "Something stands on it, it is wet inside, or its wire is pinched. Interlock 5.",
        "Lift the foot, or move what lies on it. It counts again once it is released. The keys do all "
        "that the foot does.",
        trouble=True,
        slot="foot switch",
    ),
    "foot switch unplugged": Matter(
        "The foot switch is unplugged",
        "Its plug is out, or its wire is broken.",
        "Put the plug in again. Until then, use the keys; they do all that the foot does.",
        trouble=True,
        slot="foot switch",
    ),
    "formulas": Matter(
        "The formulas cannot be read",
        "A formula file is wrong: the notice names the file, the line and what is allowed.",
        "Put the file right; `embertray check` reads it without starting the bench. Until then no bath can "
        "be made; runs are not touched.",
        trouble=True,
    ),
    "guardian": Matter(
        "The guardian was lost (…); starting another",
        "The process that darkens the lamp when controller and switchboard both fail has ended, does not "
        "answer or cannot be started.",
        "Wait: it is tried again until it runs. While this notice stays, stay beside a lit lamp, with its "
        "plug in reach.",
        trouble=True,
    ),
    "heater stopped": Matter(
        "Interlock 4: the heater stays off: …",
        "Its probe was silent or impossible, the water was above its limit, it did not warm, or it warmed "
        "while the heater was off.",
        "If the notice says so, pull the heater's plug. Look at the water, the probe and the heater. "
        "Then set the temperature again.",
        trouble=True,
        slot="heater",
    ),
    "heater waits": Matter(
        "The heater waits: …",
        "The last reading can not be believed yet: it jumped, or probes disagree.",
        "Nothing. It goes on by itself with the next readings that hold together.",
        slot="heater",
    ),
    "journal": Matter(
        "The journal takes nothing: …",
        "The disk is full, write-protected or broken.",
        "Finish the plate: timing goes on, and what happens is kept in memory. Do not switch the board off. "
        "Make room on the disk. No exposure begins until the journal takes entries again.",
        trouble=True,
    ),
    "lamp": Matter(
        "Print … has got all its light: into the baths",
        "Something went on at the printing lamp, or a value of the print was changed.",
        "Do what it says.",
        slot="lamp",
    ),
    "lamp interrupted": Matter(
        "The bench was stopped in an exposure: … got … of light",
        "The controller ended while the lamp was lit: power, a crash or a restart. The switchboard put "
        "it out.",
        "Give the rest of the exposure, or give the sheet up. The notice says how much light it got, and how "
        "well that is known.",
        trouble=True,
        slot="lamp",
    ),
    "lamp out by itself": Matter(
        "The lamp went out by itself (…)",
        "The switchboard ended the exposure: its ceiling, a lost connection, or a fault.",
        "Give the rest of the exposure, or give the sheet up. If it comes again, look at the "
        "wiring of the lamp's relay.",
        trouble=True,
        slot="lamp",
    ),
    "lamp unanswered": Matter(
        "The lamp should be out, but no word of it came",
        "The exposure is past its ceiling, and the switchboard has not answered.",
        "Look at the lamp. If it is lit, pull its plug and cover the paper. Start the bench again.",
        trouble=True,
        slot="lamp",
    ),
    "light sensor silent": Matter(
        "The light sensor is silent: the dose is reckoned by its last word",
        "Its plug, its supply or its port failed while an exposure went on by dose.",
        "Nothing in this exposure: its ceiling holds. Then look at the sensor; until it speaks, exposures go "
        "by time.",
        trouble=True,
        slot="lamp",
    ),
    "mock pins": Matter(
        "Mock pins: nothing is really switched",
        'The settings say `pins = "mock"`.',
        "Take that line out of the settings on a real bench.",
    ),
    "no exposure": Matter(
        "No exposure: …",
        "An interlock forbade it, the journal was too slow, or the switchboard refused. "
        "The lamp did not light.",
        "Read why, put that right, ask again. The paper has got no light.",
        trouble=True,
        slot="lamp",
    ),
    "plate size": Matter(
        "… and holder … are not of one size",
        "A plate was loaded into a holder that is entered for another size.",
        "Nothing, if the plate is in a kit. Otherwise unload it and look.",
    ),
    "probe misses": Matter(
        "Probe … gives no reading: …",
        "Two readings in a row did not come, or could not be believed; the notice says why.",
        "Look at the plug. The last reading still counts for some seconds; then the probe is said to be "
        "silent.",
        slot="probe",
    ),
    "probe rushes": Matter(
        "Probe … changes by … K a minute",
        "A tray does not change so fast by itself: the probe lies out of the bath, water was poured in, or "
        "it is broken.",
        "Hold a glass thermometer beside it. If the probe is wrong, set it aside and give the temperature "
        "by hand.",
        trouble=True,
    ),
    "probe set aside": Matter(
        "Probe … is set aside",
        "A person said that it is not to be trusted.",
        "Give the temperature by hand now and then, or trust the probe again.",
    ),
    "probe silent": Matter(
        "Probe … is silent: …",
        "Usually the plug or a wet connector; the notice says what the probe's driver found. Interlock 7.",
        "Timing goes on by the bath's last trend, and shows how unsure it is. Give a tray's temperature by "
        "hand: T on the Trays page. A heater waits for its jacket's probe. Mend the probe when the plate is "
        "in the fixer.",
        trouble=True,
        slot="probe",
    ),
    "probes differ": Matter(
        "The probes in the … differ by … K",
        "One of them is wrong, or the bath is not mixed.",
        "Stir. Hold a glass thermometer beside them; set the wrong one aside.",
        trouble=True,
    ),
    "pull taken back": Matter(
        "…: back in …, … s out counted as development",
        "A pull was a mistake: the plate went back into its developer within 15 s, by Z or the foot.",
        "Go on. If the plate has been in a stop bath it develops more slowly at first: judge it by eye.",
    ),
    "relay": Matter(
        "relay … is …",
        "The switchboard would not switch a relay, or there is none just now.",
        "Read why. Wait until the switchboard is back, then ask again.",
        trouble=True,
    ),
    "safe time": Matter(
        "… has used … % of its safe time: safelight off soon",
        "The plate has lain under the safelight for most of the time that your own test found safe.",
        "Put the safelight out soon, or get on to the fixer. At the whole of it the light goes out by "
        "itself.",
    ),
    "safelight out": Matter(
        "Interlock 2: the safelight is off while …",
        "A plate is open that this light would fog, or whose safe time is used up.",
        "Fix it in the dark. A plate that is still dry may go back into its box: then give up its run.",
    ),
    "switchboard": Matter(
        "The switchboard was lost (…)",
        "The process that owns the relays ended or stopped answering. A new one is started.",
        "If the notice says PULL THE PLUG, do that at once: lamp and heater may be on. Otherwise every "
        "relay is off; they come back when you act. Timing goes on.",
        trouble=True,
    ),
    "tray stalled": Matter(
        "…: …",
        "The bench could not write the next entry of this run. It tries again by itself.",
        "Time this plate by a clock for now. Afterwards, run `embertray logbook verify`.",
        trouble=True,
    ),
    "which bath": Matter(
        "Run …, …: which bath, … or …?",
        "Several baths fit the words of this step. Only the one that the plate is in may be counted.",
        "Choose it on the Baths page: its number, then Enter. It is remembered for the next plate.",
    ),
}
MATTERS: Mapping[Kind, Matter] = MappingProxyType(_MATTERS)
