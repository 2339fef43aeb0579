"""Laying everything on a board and taking it off, on a copy of a board's file tree."""

from pathlib import Path

import pytest

from hardware import install

CONFIG = "dtparam=audio=on\n[cm4]\notg_mode=1\n"
CMDLINE = "console=serial0,115200 root=PARTUUID=1-02 quiet rootwait\n"


@pytest.fixture
def board(tmp_path):
    boot = tmp_path / "boot" / "firmware"
    boot.mkdir(parents=True)
    (boot / "config.txt").write_text(CONFIG)
    (boot / "cmdline.txt").write_text(CMDLINE)
    return tmp_path


def tree(root):
    return {str(p.relative_to(root)): p.read_bytes() for p in root.rglob("*") if p.is_file()}


def run(root, *more):
    assert install.main(["--root", str(root), *more]) == 0


def test_everything_that_the_units_need_is_laid_down(board):
    run(board)
    laid = tree(board)
    assert set(install.FILES.values()) < set(laid)
    units = b"".join(data for name, data in laid.items() if name.endswith(".service")).decode()
    for name in laid:
        if name.startswith("opt/embertray/share/") and not name.endswith("vtrgb"):
            assert f"/{name}" in units
    assert b"pin = 22" in laid["etc/embertray/bench.toml"]


def test_the_boot_settings_are_added_to_those_that_are_there(board):
    run(board)
    config = (board / "boot/firmware/config.txt").read_text()
    assert config.startswith(CONFIG)
    assert "gpio=17,22,27=op,dl" in config
    cmdline = (board / "boot/firmware/cmdline.txt").read_text()
    assert cmdline.startswith(CMDLINE.strip())
    assert cmdline.count("\n") == 1
    assert cmdline.split().count("quiet") == 1
    assert "vt.default_grn=0,0,0,0,0,0,0,0,0,0,0,0,0,0,0,0" in cmdline.split()


def test_twice_is_the_same_as_once(board):
    run(board)
    once = tree(board)
    run(board)
    assert tree(board) == once


def test_taken_off_the_board_is_as_it_was_but_for_the_bench_s_own_settings(board):
    before = tree(board)
    run(board)
    bench = board / "etc/embertray/bench.toml"
    bench.write_text("# my own\n")
    run(board)
    run(board, "--off")
    assert tree(board) == {**before, "etc/embertray/bench.toml": b"# my own\n"}


def test_what_was_added_to_the_boot_settings_meanwhile_is_left_alone(board):
    run(board)
    config, cmdline = (board / "boot/firmware" / name for name in ("config.txt", "cmdline.txt"))
    config.write_text(config.read_text() + "dtparam=i2c_arm=on\n")
    cmdline.write_text(cmdline.read_text().strip() + " cfg80211.ieee80211_regdom=NO\n")
    run(board, "--off")
    assert config.read_text() == CONFIG + "dtparam=i2c_arm=on\n"
    assert cmdline.read_text() == CMDLINE.strip() + " cfg80211.ieee80211_regdom=NO\n"


def test_a_board_without_those_files_gets_the_rest_and_is_told(tmp_path, capsys):
    run(tmp_path)
    assert "no config.txt here" in capsys.readouterr().out
    run(tmp_path, "--off")
    assert list(tree(tmp_path)) == ["etc/embertray/bench.toml"]


def test_a_folder_that_cannot_be_written_is_one_line(tmp_path, capsys):
    (tmp_path / "etc").write_text("a file")
    assert install.main(["--root", str(tmp_path)]) == 1
    assert capsys.readouterr().err.count("\n") == 1


def test_installing_needs_nothing_but_the_standard_library():
    text = Path(install.__file__).read_text()
    imported = {
        line.split()[1].split(".")[0] for line in text.splitlines() if line.startswith(("import ", "from "))
    }
    assert imported <= {"__future__", "argparse", "shutil", "subprocess", "sys", "pathlib"}
