from __future__ import annotations

from dataclasses import dataclass

from drivers.discovery import find_ports


@dataclass
class Adapter:
    device: str
    serial_number: str | None = "A1"
    vid: int | None = 0x1A86
    pid: int | None = 0x7523
    description: str = "adapter"


def device(tmp_path, name):
    path = tmp_path / name
    path.touch()
    return str(path)


def named(tmp_path, folder, name, target):
    (tmp_path / "serial" / folder).mkdir(parents=True, exist_ok=True)
    (tmp_path / "serial" / folder / name).symlink_to(target)
    return str(tmp_path / "serial" / folder / name)


def test_a_port_goes_by_its_maker_and_serial_number(tmp_path):
    usb0 = device(tmp_path, "ttyUSB0")
    by_id = named(tmp_path, "by-id", "usb-maker-A1", usb0)
    named(tmp_path, "by-path", "usb-0:1", usb0)
    (found,) = find_ports([Adapter(usb0)], tmp_path / "serial")
    assert (found.name, found.device, found.allowed) == (by_id, usb0, True)


def test_twins_with_one_serial_number_go_by_their_sockets(tmp_path):
    usb0, usb1 = device(tmp_path, "ttyUSB0"), device(tmp_path, "ttyUSB1")
    named(tmp_path, "by-id", "usb-maker-A1", usb1)
    paths = [named(tmp_path, "by-path", f"usb-0:{i}", usb) for i, usb in enumerate((usb0, usb1))]
    assert [port.name for port in find_ports([Adapter(usb1), Adapter(usb0)], tmp_path / "serial")] == paths


def test_without_stable_names_the_device_stands_for_itself(tmp_path):
    assert [port.name for port in find_ports([Adapter("COM3")], tmp_path / "serial")] == ["COM3"]


def test_a_port_that_is_no_usb_device_is_left_out(tmp_path):
    assert find_ports([Adapter("/dev/ttyS0", vid=None, pid=None)], tmp_path / "serial") == ()
