"""Leaves the emulated board out of every run that does not ask for it by its marker."""


def pytest_collection_modifyitems(config, items):
    if "emulated_board" in (config.getoption("-m") or ""):
        return
    ours = [item for item in items if item.get_closest_marker("emulated_board")]
    items[:] = [item for item in items if item not in ours]
    config.hook.pytest_deselected(items=ours)
