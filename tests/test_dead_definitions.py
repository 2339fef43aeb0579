"""What nothing but a test uses is dead: it goes. The list of exceptions may only shrink."""

from __future__ import annotations

from pathlib import Path

from vulture import Vulture

ROOT = Path(__file__).parents[1]
FOLDERS = ("firmware_py", "tui", "docs", "hardware")
# Found by name: Textual's actions, handlers and class settings, commands and their deeds, printers of sheets,
# mkdocs' hooks, fields that only the struct's reader sees.
BY_NAME = [
    *("action_*", "on_*", "add_*", "run_*", "*Page", "*_of", "KEYS"),
    *("BINDINGS", "SCREENS", "CSS_PATH", "ENABLE_COMMAND_PALETTE", "ALLOW_SELECT", "_sigtstp_application"),
    *("_sigcont_application", "frame", "background", "HORIZONTAL_BREAKPOINTS", "_handle_exception"),
    *("_print_error_renderables", "_return_code", "check_action", "compose", "cursor_blink"),
    *("cursor_position", "render_line", "enqueue"),
]
# Why each is kept.
KEPT = {
    "KeyedFootSwitch": "a test's own pedal",
    "move": "of a test's own pedal",
    "SimulatedRelay": "the relay of tests, under the contract of all relays",
    "SimulatedLightSensor": "the sensor of tests",
    "all_safe": "of the link's Protocol; tests hold the switchboard by it",
    "guardian_pid": "tests kill the guardian by it",
    "read_record": "tests read the pins' own record by it",
    "appears_at_s": "of the law's own description; its tests hold it",
    "effective_samples": "tells whoever asks how finely a belief is drawn",
    "is_firm": "of the advice of before, kept beside the belief in the benchmark",
    "print_base_s": "taken with the evidence; the belief does not weigh it yet",
    "inertia": "of a curve's printed definition; its own test holds it",
}
# Set for a library, which reads it.
SET_FOR_OTHERS = {
    *("setpoint", "when_changed", "output_with_state", "pin_class", "_function", "timeout", "text_factory"),
    *("_panel", "used_by_light", "driven", "discarded", "estimated", "bath_min_degC", "bath_mean_degC"),
    *("bath_max_degC", "at_reset", "Printer"),
}


def deeds_of_commands() -> set[str]:
    """The deeds that `logbook` finds by the name of file and function."""
    files = (ROOT / "tui/commands/logbook").glob("*.py")
    text = " ".join(file.read_text(encoding="utf-8") for file in files)
    return {word.rpartition(".")[2].strip('",)') for word in text.split() if "." in word}


def dead() -> set[str]:
    finder = Vulture(ignore_names=BY_NAME)
    finder.scavenge([str(ROOT / folder) for folder in FOLDERS])
    found = {item.name for item in finder.get_unused_code(min_confidence=60)}
    return found - deeds_of_commands() - SET_FOR_OTHERS


def test_nothing_is_kept_for_its_own_test_alone():
    assert dead() - KEPT.keys() == set()


def test_no_exception_outlives_its_reason():
    assert KEPT.keys() - dead() == set()
