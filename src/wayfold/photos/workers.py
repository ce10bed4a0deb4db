"""Where worker processes come from: quiet ones of one thread, that end with their parent.

On Linux those for pictures are forked off a process that has loaded the imaging libraries and done
nothing with them, so that one is ready in a twentieth of a second; elsewhere each loads them anew,
which takes half a second. Never off this process itself: threads, the PDF renderer and Typst do
not outlive a fork.
"""

from __future__ import annotations

import logging
import multiprocessing
import os
import signal
import sys
import threading
import warnings
from collections.abc import Callable, Mapping
from concurrent.futures import ProcessPoolExecutor
from multiprocessing.context import BaseContext

LOADED = (
    *("wayfold.photos.one_thread", "numpy", "pyvips"),
    *("wayfold.photos.read_file", "wayfold.photos.looking", "wayfold.photos.derive"),
)
"""What is loaded once for all workers, in this order."""
FORKED = sys.platform == "linux"
"""Whether workers for pictures are ready at once."""


def open_pool(
    count: int, begin: Callable[[], None] | None = None, *, has_pictures: bool = True
) -> ProcessPoolExecutor:
    """Give ``count`` processes that start with their first work, each with ``begin`` if given.

    ``begin`` is a module's function. They see the surroundings (environment) of now. Work that
    opens no pictures (``has_pictures``) is not worth loading the imaging libraries for.
    """
    return ProcessPoolExecutor(
        count,
        mp_context=_find_source() if has_pictures else multiprocessing.get_context("spawn"),
        initializer=_start_worker,
        initargs=(dict(os.environ), begin),
    )


def _find_source() -> BaseContext:
    if not FORKED:
        return multiprocessing.get_context("spawn")
    source = multiprocessing.get_context("forkserver")
    source.set_forkserver_preload(list(LOADED))
    return source


def _start_worker(surroundings: Mapping[str, str], begin: Callable[[], None] | None) -> None:
    os.environ.update(surroundings)
    for name in os.environ.keys() - surroundings.keys():
        del os.environ[name]
    from wayfold.photos.one_thread import keep_to_one_thread

    keep_to_one_thread()
    # Ctrl-C is the parent's business; a worker that dies of it would look like a crash.
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    # What a decoder has to say of a file comes back as a finding, not as lines on the screen.
    warnings.simplefilter("ignore")
    logging.disable(logging.ERROR)
    threading.Thread(target=_follow_parent, daemon=True).start()
    if begin is not None:
        begin()


def _follow_parent() -> None:
    parent = multiprocessing.parent_process()
    if parent is not None:
        parent.join()
        os._exit(1)
