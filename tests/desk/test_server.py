"""The desk as a real server on a real socket."""

import asyncio
import contextlib
import mimetypes
import socket
import threading
from pathlib import Path
from urllib.parse import urlsplit

import httpx2
import pytest
from starlette.testclient import TestClient

from tests.desk.fake_book import FakeShown, put_on_shelf
from wayfold.base.errors import UserError
from wayfold.desk import server
from wayfold.desk.door import Door


def test_serves_on_this_machine_only_and_opens_the_browser(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    opened: list[str] = []
    told: list[str] = []
    ready = threading.Event()

    def open_it(address: str) -> bool:
        opened.append(address)
        ready.set()
        return True

    monkeypatch.setattr(server.webbrowser, "open", open_it)
    running = threading.Thread(
        target=server.serve, args=(put_on_shelf(FakeShown()), None, True, told.append), daemon=True
    )
    running.start()
    assert ready.wait(20)
    assert opened == told
    address = urlsplit(told[0])
    assert address.hostname == "127.0.0.1"
    with httpx2.Client(follow_redirects=True, timeout=20) as client:
        assert client.get(told[0]).status_code == 200
        base = f"http://127.0.0.1:{address.port}"
        assert client.get(f"{base}/api/view").json()["author"] == "M. Quill"
        assert "server" not in client.get(f"{base}/api/view").headers


def test_taken_port_is_an_error_with_a_way_out() -> None:
    with socket.socket() as holder:
        holder.bind(("127.0.0.1", 0))
        holder.listen()
        port = holder.getsockname()[1]
        with pytest.raises(UserError, match=str(port)) as caught:
            server.serve(put_on_shelf(FakeShown()), port, open_browser=False)
    assert "another port" in caught.value.remedy


def test_impossible_port_is_an_error_too() -> None:
    with pytest.raises(UserError):
        server.serve(put_on_shelf(FakeShown()), 70_000, open_browser=False)


def test_missing_front_end_is_told(
    monkeypatch: pytest.MonkeyPatch, tmp_path: pytest.TempPathFactory
) -> None:
    monkeypatch.setattr(server, "STATIC", tmp_path)
    with pytest.raises(UserError, match="not built"):
        server.serve(put_on_shelf(FakeShown()), None, open_browser=False)


def test_scripts_are_scripts_whatever_the_system_believes(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    """Windows' registry often has ".js" as text/plain, which no browser runs (RFC 9239)."""
    (tmp_path / "index.html").write_text("<!doctype html>", "utf-8")
    (tmp_path / "desk.js").write_text("", "utf-8")
    monkeypatch.setattr(server, "STATIC", tmp_path)
    mimetypes.add_type("text/plain", ".js")
    door = Door(8732)
    app = server.create_desk(put_on_shelf(FakeShown()), door)
    with TestClient(app, base_url="http://127.0.0.1:8732") as client:
        client.get(door.opening_address)
        assert client.get("/desk.js").headers["content-type"].startswith("text/javascript")


def test_a_port_is_kept_for_this_desk_alone_where_that_must_be_asked_for(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """Microsoft, "Using SO_REUSEADDR and SO_EXCLUSIVEADDRUSE"; here under another option's number,
    which can be read back."""
    monkeypatch.setattr(socket, "SO_EXCLUSIVEADDRUSE", socket.SO_KEEPALIVE, raising=False)
    with contextlib.closing(server._listen(None)) as listener:
        assert listener.getsockopt(socket.SOL_SOCKET, socket.SO_KEEPALIVE)
        assert not listener.getsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR)


def test_the_parts_of_an_answer_do_not_wait_for_each_other() -> None:
    """RFC 9293, 3.7.4: what is small is held back unless the connection says otherwise."""

    async def read_option() -> int:
        told = asyncio.get_running_loop().create_future()

        def meet(_: asyncio.StreamReader, writer: asyncio.StreamWriter) -> None:
            connection = writer.get_extra_info("socket")
            told.set_result(connection.getsockopt(socket.IPPROTO_TCP, socket.TCP_NODELAY))
            writer.close()

        listener = server._listen(None)
        async with await asyncio.start_server(meet, sock=listener):
            _, writer = await asyncio.open_connection(*listener.getsockname())
            option: int = await told
            writer.close()
            return option

    assert asyncio.run(read_option()) != 0
