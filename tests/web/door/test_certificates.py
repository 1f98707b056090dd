"""Our own authority, judged by OpenSSL through Python's ssl module: a real handshake on the loopback."""

import contextlib
import socket
import ssl
import threading
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from stillroom.web.addresses import picture_of
from stillroom.web.door.certificates import AUTHORITY_FILE, certificates

NAMES = ("127.0.0.1", "localhost", "kitchen.local")


def shake_hands(folder: Path, name: str) -> None:
    """Raises ssl.SSLError when a client that trusts our authority does not believe the server to be `name`."""
    file, key, _ = certificates(folder, NAMES)
    server = ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER)
    server.load_cert_chain(file, key)
    client = ssl.create_default_context(cafile=str(folder / AUTHORITY_FILE))
    with socket.create_server(("127.0.0.1", 0)) as listening:

        def answer() -> None:
            conn, _ = listening.accept()
            with conn, contextlib.suppress(OSError):
                server.wrap_socket(conn, server_side=True).close()

        thread = threading.Thread(target=answer)
        thread.start()
        try:
            with (
                socket.create_connection(listening.getsockname()) as line,
                client.wrap_socket(line, server_hostname=name),
            ):
                pass
        finally:
            thread.join(5)


@pytest.mark.parametrize("name", NAMES)
def test_a_device_that_trusts_the_authority_believes_each_name(tmp_path: Path, name: str) -> None:
    shake_hands(tmp_path, name)


def test_another_name_is_not_believed(tmp_path: Path) -> None:
    with pytest.raises(ssl.SSLCertVerificationError):
        shake_hands(tmp_path, "elsewhere.example")


def test_it_is_kept_until_it_runs_out_or_the_names_change(tmp_path: Path) -> None:
    file, key, print_ = certificates(tmp_path, NAMES)
    first = file.read_bytes()
    assert certificates(tmp_path, NAMES)[2] == print_
    assert file.read_bytes() == first
    later = datetime.now(UTC) + timedelta(days=380)
    assert certificates(tmp_path, NAMES, now=later)[2] == print_  # the authority stays trusted
    assert file.read_bytes() != first
    second = file.read_bytes()
    certificates(tmp_path, ("127.0.0.1", "other.local"), now=later)
    assert file.read_bytes() != second
    assert key.stat().st_mode & 0o077 == 0


def test_a_picture_of_an_address_is_drawn() -> None:
    picture = picture_of("http://192.0.2.7:8765/")
    assert len(picture.splitlines()) > 10
