"""`fellside pedal`: list the ports, watch a foot-switch, see how much it bounces."""

from __future__ import annotations

import argparse
import json
import queue
import time
from collections.abc import Iterator
from typing import Any

from companion.cli.status import DONE, CommandError
from companion.present.cautions import PEDAL_CAUTIONS
from drivers.discovery import FoundPort, find_ports
from drivers.event_facts import facts_of
from drivers.events import DriverEvent, LinkDown, LinkUp, Pressed, PressSwallowed, TreadlesSensed, Trouble
from drivers.gestures import BEATER, ONE_PEDAL, TWO_PEDALS
from drivers.pedal import PedalSettings, Wiring, open_pedal
from drivers.switch_lines import SwitchWiring
from drivers.tally import Ignored

SUMMARY = "list the serial ports, watch a foot-switch, test its bounce"

HOPELESS = (Trouble.NO_SUCH_PORT, Trouble.NO_PERMISSION, Trouble.BUSY, Trouble.FAULT)
"""Troubles that end the watching when the port has never been open; later ones are only told."""


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Declare the command's arguments."""
    parser.add_argument("--port", help="the port to watch, as the list shows it; without it the ports are listed")
    parser.add_argument("--switch", action="store_true", help="a bare switch from RTS to CTS (a second: DTR to DSR)")
    parser.add_argument("--invert", action="store_true", help="a bare switch that reads as pressed when it is not")
    parser.add_argument("--two", action="store_true", help="two pedals, next and back; else one: tap and hold")
    parser.add_argument("--beater", action="store_true", help="a switch at the beater, on the contact after the pedals")
    parser.add_argument("--seconds", type=_seconds, help="stop watching after so long (else: Ctrl-C)")
    parser.add_argument("--json", action="store_true", help="print one JSON document at the end")


def run(arguments: argparse.Namespace) -> int:
    """List the ports, or watch one."""
    ports = find_ports()
    report: dict[str, Any] = {"ports": [_port_facts(port) for port in ports]}
    if arguments.port is None:
        if not arguments.json:
            print(_port_list(ports))
    else:
        report |= _watch(arguments.port, arguments.seconds, _settings(arguments), quiet=arguments.json)
    if arguments.json:
        print(json.dumps(report))
    return DONE


def _settings(arguments: argparse.Namespace) -> PedalSettings:
    """Return the wiring that was asked for; without the guard, for a test must show every press."""
    return PedalSettings(
        wiring=Wiring.SWITCH if arguments.switch or arguments.invert else Wiring.BOARD,
        uses=(TWO_PEDALS if arguments.two else ONE_PEDAL) + ((BEATER,) if arguments.beater else ()),
        switch=SwitchWiring(invert=arguments.invert),
        guard=None,
    )


def _seconds(text: str) -> float:
    seconds = float(text)
    if not 0 < seconds < 1e6:
        raise argparse.ArgumentTypeError("give a number of seconds above 0")
    return seconds


def _watch(port: str, seconds: float | None, settings: PedalSettings, *, quiet: bool) -> dict[str, Any]:
    arrived: queue.SimpleQueue[DriverEvent] = queue.SimpleQueue()
    events: list[dict[str, Any]] = []
    start_s = time.monotonic()
    if not quiet:
        print(f"watching {port}; press the pedal (Ctrl-C ends)", flush=True)
    with open_pedal(port, arrived.put, settings) as pedal:
        try:
            for event in _until(arrived, None if seconds is None else start_s + seconds):
                if isinstance(event, LinkDown) and event.trouble in HOPELESS and not events:
                    raise CommandError(event.why)
                facts = facts_of(event, start_s)
                events.append(facts)
                if not quiet:
                    print(f"{facts['seconds']:8.3f}  {_sentence(event)}", flush=True)
        except KeyboardInterrupt:
            pass  # the usual way to end a watch
        ignored = {reason: number for reason, number in pedal.ignored().items() if number}
    if not quiet:
        print(_ignored_list(ignored))
    return {
        "port": port,
        "events": events,
        "ignored": {reason.name.lower(): number for reason, number in ignored.items()},
    }


def _until(arrived: queue.SimpleQueue[DriverEvent], end_s: float | None) -> Iterator[DriverEvent]:
    """Yield events as they arrive until the clock passes `end_s`."""
    while True:
        left_s = None if end_s is None else end_s - time.monotonic()
        if left_s is not None and left_s <= 0:
            return
        try:
            yield arrived.get(timeout=left_s)
        except queue.Empty:
            return


def _port_facts(port: FoundPort) -> dict[str, Any]:
    return {
        "name": port.name,
        "device": port.device,
        "description": port.description,
        "allowed": port.allowed,
        "group": port.group,
    }


def _port_list(ports: tuple[FoundPort, ...]) -> str:
    if not ports:
        return "no USB serial port found; plug the pedal in and ask again (a pedal that acts as a keyboard needs none)"
    lines = [*PEDAL_CAUTIONS, ""]
    for port in ports:
        rights = "" if port.allowed else f"  NO PERMISSION: join the group {port.group}"
        lines.append(f"{port.name}  {port.description}{rights}")
    return "\n".join([*lines, f"watch one with: fellside pedal --port {ports[0].name}"])


def _sentence(event: DriverEvent) -> str:
    match event:
        case Pressed(press):
            return press.value
        case PressSwallowed(press):
            return f"{press.value} swallowed: only {event.after_s:.2f} s after the last one"
        case TreadlesSensed(down):
            return "treadles down: " + (" ".join(str(treadle + 1) for treadle in sorted(down)) or "none")
        case LinkUp():
            return "the pedal answers"
        case LinkDown():
            return event.why


def _ignored_list(ignored: dict[Ignored, int]) -> str:
    if not ignored:
        return "nothing was ignored: no bounce, no noise"
    return "ignored:\n" + "\n".join(f"{number:8}  {reason.value}" for reason, number in ignored.items())
