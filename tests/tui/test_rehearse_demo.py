"""``embertray rehearse --demo-book`` says what it will not do, before it does anything."""

from __future__ import annotations

import pytest

from tui.cli import main


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("--demo-book",), "--state DIR"),
        (("--demo-book", "--state", "{folder}", "--unattended"), "by itself"),
        (("--demo-book", "--state", "{folder}"), "already"),
    ],
)
def test_a_demo_book_needs_a_folder_of_its_own(tmp_path, capsys, words, said):
    (tmp_path / "journal.db").write_bytes(b"mine")
    code = main(["rehearse", *(word.format(folder=tmp_path) for word in words)])
    err = capsys.readouterr().err
    assert (code, said in err, len(err.splitlines())) == (1, True, 1)
    assert (tmp_path / "journal.db").read_bytes() == b"mine"
