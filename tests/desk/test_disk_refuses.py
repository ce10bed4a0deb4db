"""What a disk refuses reaches the browser in words, and without a path."""

import errno
import os

import pytest
from fastapi import FastAPI
from fastapi.testclient import TestClient

from wayfold.desk.refusals import install_refusals


@pytest.mark.parametrize(
    ("number", "status", "what", "remedy"),
    [
        (errno.ENOSPC, 422, "The disk is full.", "Make room"),
        (errno.EROFS, 422, "cannot be written to", "Allow writing"),
        (errno.EIO, 422, "The drive does not answer.", "See that it is connected"),
        (errno.ESTALE, 422, "The drive does not answer.", "See that it is connected"),
        (errno.ENOENT, 404, "not there", "Connect the drive"),
    ],
)
def test_a_disk_that_refuses_is_told(number: int, status: int, what: str, remedy: str) -> None:
    app = FastAPI()
    install_refusals(app)

    @app.get("/read")
    def read() -> None:
        raise OSError(number, os.strerror(number), "/media/stick/book/photos.toml")

    answer = TestClient(app).get("/read")
    assert answer.status_code == status
    told = answer.json()
    assert what in told["what"]
    assert remedy in told["remedy"]
    assert told["where"] == "photos.toml"


def test_what_is_no_matter_of_disks_stays_a_fault() -> None:
    app = FastAPI()
    install_refusals(app)

    @app.get("/read")
    def read() -> None:
        raise OSError(errno.EINVAL, "a bug")

    with pytest.raises(OSError, match="a bug"):
        TestClient(app).get("/read")
