"""The addresses under which the other devices of the house find this machine."""

from __future__ import annotations

import io
import socket

import segno


def lan_addresses() -> tuple[str, ...]:
    """The address in the network of the house, then the names of this machine; empty without a network."""
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
        try:
            probe.connect(("192.0.2.1", 9))  # an address for documentation (RFC 5737): nothing is sent to it
            address = str(probe.getsockname()[0])
        except OSError:
            return ()
    name = socket.gethostname().split(".")[0].lower()
    return (address, name, f"{name}.local")


def picture_of(address: str) -> str:
    """A QR code of the address, for a terminal."""
    out = io.StringIO()
    segno.make(address, error="m").terminal(out, compact=True, border=2)
    return out.getvalue()
