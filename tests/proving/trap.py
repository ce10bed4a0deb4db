"""A door at which some cases kill the process, never end, or show a fault."""

import os
import time
from pathlib import Path

from proving.fuzz.door import Door, End, Entrance

TRAPS = {b"dies": End.DIED, b"hangs": End.HANGS, b"spins": End.HANGS, b"fails": End.FAILED}


def prepare_trap(_: Path) -> Entrance:
    def enter(case: bytes) -> None:
        match case:
            case b"dies":
                os._exit(9)
            case b"hangs":
                time.sleep(60)
            case b"spins":
                while True:
                    pass
            case b"fails":
                raise KeyError(case)

    return Entrance(lambda rng: rng.choice((*TRAPS, *[b"passes"] * 9)), enter)


TRAP = Door("trap", "", prepare_trap, hangs_s=0.1, patience_s=3.0)
