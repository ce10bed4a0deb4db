"""Servers that are measured: one that ends is told, and nothing waits for it."""

import sys

import pytest

from benchmarks.serving import Served

ENDS = "import socket; s = socket.create_server(('127.0.0.1', 0)); "
TELLS = "print(f'http://127.0.0.1:{s.getsockname()[1]}/', flush=True); "


@pytest.mark.parametrize("program", [f"{ENDS}{TELLS}s.close(); raise SystemExit(3)", "exit(3)"])
def test_a_server_that_ends_is_told(program: str) -> None:
    served = Served([sys.executable, "-c", program])
    with pytest.raises(SystemExit, match="ended, code 3"), served:
        pass
