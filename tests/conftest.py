"""What every test run begins with."""

import gc


def pytest_collection_finish():
    """Leave the thousands of collected tests out of every later garbage collection."""
    gc.collect()
    gc.freeze()
