"""How many cases a run takes: few in every test run, as many as asked for by WAYFOLD_PLAN_CASES."""

import os


def choose_seeds(usual: int, chunk: int) -> list[range]:
    """Give the seeds in runs of ``chunk``, so that workers share them.

    WAYFOLD_PLAN_CASES=20 takes twenty times as many.
    """
    count = usual * int(os.environ.get("WAYFOLD_PLAN_CASES", "1"))
    return [range(at, min(at + chunk, count)) for at in range(0, count, chunk)]
