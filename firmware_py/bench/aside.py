"""Does what may take long, or for ever, on a thread that the end of the program does not wait for."""

from __future__ import annotations

import asyncio
from collections.abc import Callable
from contextlib import suppress
from threading import Thread
from typing import TypeVar

from firmware_py.craft.refusal import Refused

Result = TypeVar("Result")


class NoThread(Refused):
    """The system gives no thread just now; it may the next time."""


async def aside(what: Callable[[], Result], name: str = "aside") -> Result:
    """Return what ``what()`` returns, the event loop going on meanwhile.

    Not `asyncio.to_thread`: a program that ends waits for the threads of that, and a probe on a sick bus may
    never answer. Raises `NoThread` where the system gives none.
    """
    loop = asyncio.get_running_loop()
    answer: asyncio.Future[Result] = loop.create_future()

    def settle(error: BaseException | None, result: Result | None) -> None:
        if answer.done():  # nobody waits for it any more
            return
        if error is not None:
            answer.set_exception(error)
        else:
            answer.set_result(result)  # type: ignore[arg-type] # it is one, where there is no error

    def run() -> None:
        error, result = None, None
        try:
            result = what()
        except BaseException as caught:  # noqa: BLE001 - it is raised where the answer is awaited
            error = caught
        with suppress(RuntimeError):  # the loop has ended
            loop.call_soon_threadsafe(settle, error, result)

    try:
        Thread(target=run, name=name, daemon=True).start()
    except RuntimeError as error:
        raise NoThread(f"no thread to be had ({error})", where=name) from error
    return await answer
