"""The wheel check's own reading of requirements; whether there are wheels is asked by hand, of a registry."""

import pytest

from tests.hardware import wheels


@pytest.mark.parametrize(
    ("requirement", "name"),
    [
        ("textual==8.2.8", "textual"),
        ("Foo_Bar.baz >= 1; python_version < '3.13'", "foo-bar-baz"),
        ("a[b]>2", "a"),
    ],
)
def test_the_name_of_a_requirement(requirement, name):
    assert wheels.package_name(requirement) == name


def test_a_marker_leaves_a_requirement_out_where_it_says_so():
    assert wheels.is_wanted("lgpio>=0.2.2; python_version < '3.13'", "3.11")
    assert not wheels.is_wanted("lgpio>=0.2.2; python_version < '3.13'", "3.13")
    assert wheels.is_wanted("pint>=0.24", "3.13")


def test_every_requirement_of_the_project_is_asked_for():
    asked = wheels.requirements()
    assert {"", "board", "sheets"} == set(asked)
    assert any(each.startswith("textual==") for each in asked[""])


def test_a_package_without_a_wheel_is_named_and_counts_as_a_failure(monkeypatch, capsys):
    def ask(requirement, python):
        own = wheels.package_name(requirement)
        return {} if own == "pint" and python == "3.13" else {own: "1.0", "brought-along": "2.0"}

    monkeypatch.setattr(wheels, "ask", ask)
    assert wheels.main([]) == 1
    told = capsys.readouterr()
    assert "| pint |  | 1.0 | **no wheel** |" in told.out
    assert "| lgpio | board | 1.0 | from the system |" in told.out
    assert "| brought-along | by astral | 2.0 | 2.0 |" in told.out
    assert told.err == "no wheel: pint\n"
