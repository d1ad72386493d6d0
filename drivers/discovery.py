"""Which serial ports there are, under names that stay the same when the cable is moved or the machine restarted."""

from __future__ import annotations

import os
from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path
from typing import Protocol

from drivers.port_errors import group_of

NAMES_FOLDER = Path("/dev/serial")
"""Where udev keeps stable names: `by-id` after maker and serial number, `by-path` after the socket plugged into."""


class PortInfo(Protocol):
    """What pyserial tells about a port; `vid` is None for ports that are no USB device."""

    device: str
    description: str
    vid: int | None
    pid: int | None
    serial_number: str | None


@dataclass(frozen=True, slots=True)
class FoundPort:
    """A port with its stable `name`, its present `device` name, what it says it is, and whether we may open it."""

    name: str
    device: str
    description: str
    allowed: bool
    group: str | None


def find_ports(ports: Iterable[PortInfo] | None = None, names: Path = NAMES_FOLDER) -> tuple[FoundPort, ...]:
    """Return the USB serial ports, sorted by stable name; built-in ports are left out, no pedal hangs there."""
    usb = [port for port in (_ports_here() if ports is None else ports) if port.vid is not None]
    twins = Counter((port.vid, port.pid, port.serial_number) for port in usb)
    found = []
    for port in usb:
        # Two devices with one serial number fight over one by-id name: then only the socket tells them apart.
        alone = twins[port.vid, port.pid, port.serial_number] == 1
        folders = ("by-id", "by-path") if alone else ("by-path",)
        name = stable_name(port.device, [names / folder for folder in folders])
        allowed = os.access(port.device, os.R_OK | os.W_OK)
        found.append(FoundPort(name, port.device, port.description, allowed, group_of(port.device)))
    return tuple(sorted(found, key=lambda port: port.name))


def _ports_here() -> Iterable[PortInfo]:
    try:
        from serial.tools import list_ports
    except ImportError:
        # A tablet has no serial ports, and no library for them.
        return ()
    ports: Iterable[PortInfo] = list_ports.comports()
    return ports


def stable_name(device: str, folders: Iterable[Path]) -> str:
    """Return the first name in these folders that points to the device, or the device's own name."""
    for folder in folders:
        links = sorted(folder.iterdir()) if folder.is_dir() else []
        for link in links:
            if link.resolve() == Path(device).resolve():
                return str(link)
    return device
