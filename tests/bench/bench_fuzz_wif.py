"""A million damaged files: each must give a draft or a DraftError, and every draft must survive writing and reading.

Run: python -m tests.bench.bench_fuzz_wif [INPUTS] [SEED]

Prints how many were read and refused, the rate, the slowest input, and the time against Python's own INI reader on the
same inputs. Stops with the seed of the input at the first exception of another kind.
"""

from __future__ import annotations

import configparser
import sys
import time
from random import Random

from companion.draft.errors import DraftError
from companion.draft.masks import shed_of, treadle_set
from companion.draft.model import Colour, Draft, Layout, Lifted, Section, Treadled, Yarn
from companion.draft.wif_read import read_wif
from companion.draft.wif_write import write_wif
from tests.draft.wif_mutations import mutated

INPUTS = 1_000_000
ONE_IN = 20
"""One draft of so many is written and read again; one input of so many is given to the peer."""


def sound_files() -> list[bytes]:
    """Small files that use every section."""
    yarns = (Yarn("oat", Colour(220, 210, 180)), Yarn("sea", Colour(20, 90, 120)))
    treadled = Draft(
        shafts=4,
        threading=(0, 1, 2, 3, None),
        lifting=Treadled(tuple(map(shed_of, ([1, 2], [3, 4], [1]))), tuple(map(treadle_set, ([1], [2], [1, 3], [])))),
        yarns=yarns,
        warp=(0, 0, 1, 0, 0),
        weft=(1, 0, 1, 1),
        sections=(Section("Hem", 1), Section("Body", 3, 20.5)),
        title="Runner",
        notes=("wash warm",),
        warp_layout=Layout(spacing_cm=(0.1, 0.2, 0.1, 0.1, 0.1), thickness_cm=(0.1,) * 5),
    )
    lifted = Draft(
        shafts=3,
        threading=(0, 1, 2),
        lifting=Lifted(tuple(map(shed_of, ([1, 2], [3], [2])))),
        yarns=yarns,
        warp=(0, 0, 0),
        weft=(1, 1, 1),
        rising=False,
    )
    return [write_wif(treadled), write_wif(lifted).replace(b"\r\n", b"\n")]


def peer(data: bytes) -> None:
    """Python's own INI reader, as lenient as it can be set."""
    parser = configparser.RawConfigParser(strict=False, allow_no_value=True, delimiters=("=",))
    try:
        parser.read_string(data.decode("latin-1"))
    except (configparser.Error, AttributeError):  # it stumbles itself over a line that continues a key without value
        return


def main(inputs: int, first_seed: int) -> None:
    """Feed the reader and print the tally."""
    sound = sound_files()
    drafts = refused = again = 0
    ours = theirs = compared = slowest = 0.0
    slowest_seed = first_seed
    began = time.perf_counter()
    for seed in range(first_seed, first_seed + inputs):
        choice = Random(seed)
        data = mutated(choice.choice(sound), choice)
        before = time.perf_counter()
        try:
            draft = read_wif(data).draft
            drafts += 1
        except DraftError:
            draft = None
            refused += 1
        except BaseException:
            print(f"seed {seed}: {data!r}")
            raise
        took = time.perf_counter() - before
        ours += took
        if took > slowest:
            slowest, slowest_seed = took, seed
        if seed % ONE_IN == 0:
            before = time.perf_counter()
            peer(data)
            theirs += time.perf_counter() - before
            compared += took
            if draft is not None:
                again += 1
                if read_wif(write_wif(draft)).draft != draft:
                    raise SystemExit(f"seed {seed}: written and read again it is another draft: {data!r}")
    total = time.perf_counter() - began
    print(f"{inputs:,} inputs in {total:.0f} s, {inputs / total:,.0f} a second; reading alone {inputs / ours:,.0f}")
    print(f"{drafts:,} drafts, {refused:,} refused, nothing else; {again:,} drafts written and read again")
    print(f"slowest {slowest * 1000:.1f} ms (seed {slowest_seed}); {compared / theirs:.2f} of the peer's time")


if __name__ == "__main__":
    numbers = [int(word) for word in sys.argv[1:]]
    main(numbers[0] if numbers else INPUTS, numbers[1] if len(numbers) > 1 else 0)
