from __future__ import annotations

import random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drivers.events import Press
from drivers.line_protocol import LONGEST_LINE, Line, LineReader, checksum, parse_body, print_line
from drivers.messages import Ask, Hello, Judged, Lamps, State, bits_of, contacts_of, line_of, message_of
from drivers.tally import Ignored, new_tally

bits = st.integers(0, 2**32 - 1)
names = st.text(st.characters(min_codepoint=0x22, max_codepoint=0x7E), min_size=1, max_size=20)
counts = st.integers(0, 32)
messages = st.one_of(
    st.builds(Hello, counts, counts, counts, names),
    st.builds(State, bits, bits, bits, bits),
    st.builds(Judged, st.sampled_from(Press)),
    st.just(Ask()),
    st.builds(Lamps, bits),
)


def test_the_checksum_is_the_published_one():
    # Catalogue of parametrised CRC algorithms (G. Cook), CRC-16/IBM-3740: check 0x29b1. From memory.
    assert checksum(b"123456789") == 0x29B1


def test_a_line_looks_like_this_and_stays_so():
    assert print_line(line_of(State(61250, 1, 0, 0xA), 42)) == b"!1 42 state 61250 1 0 A 134A\n"


@given(messages, st.integers(0, 10**6))
def test_every_message_comes_back_from_its_line_and_fits_a_small_buffer(message, sequence):
    line = print_line(line_of(message, sequence))
    assert len(line) <= LONGEST_LINE
    (read,) = LineReader(new_tally()).feed(line)
    assert message_of(read) == message
    assert read.sequence == sequence % 256


@given(st.frozensets(st.integers(0, 31)))
def test_contacts_come_back_from_their_bits(contacts):
    assert contacts_of(bits_of(contacts)) == contacts


@given(st.lists(messages, max_size=6), st.data())
def test_lines_come_out_the_same_however_the_bytes_are_cut(sent, data):
    stream = b"".join(print_line(line_of(message, number)) for number, message in enumerate(sent))
    cuts = sorted(data.draw(st.lists(st.integers(0, len(stream)), max_size=8)))
    reader = LineReader(new_tally())
    pieces = [stream[start:end] for start, end in zip([0, *cuts], [*cuts, len(stream)], strict=True)]
    assert [message_of(line) for piece in pieces for line in reader.feed(piece)] == sent


def test_any_single_flipped_bit_of_a_line_is_noticed():
    body = print_line(line_of(State(61250, 1, 0, 0xA), 42))[1:-1]
    for place in range(8 * len(body)):
        flipped = bytearray(body)
        flipped[place // 8] ^= 1 << place % 8
        assert parse_body(bytes(flipped)) is None


def test_a_carriage_return_before_the_line_feed_is_let_be():
    line = print_line(line_of(Ask(), 1))
    assert [message_of(read) for read in LineReader(new_tally()).feed(line.replace(b"\n", b"\r\n"))] == [Ask()]


OTHER_WORDS = """
state 1 0 0
state 4294967296 0 0 0
state -1 0 0 0
lamps 0x1
lamps 1F1F1F1F1
lamps a
press twice
hello 33 0 0 x
jump
ask me
"""


@pytest.mark.parametrize("words", OTHER_WORDS.strip().splitlines())
def test_sound_lines_with_other_words_mean_nothing(words):
    assert message_of(Line(1, 0, tuple(words.split()))) is None


def test_noise_without_an_end_fills_no_memory_and_the_next_line_is_heard():
    ignored = new_tally()
    reader = LineReader(ignored)
    for _ in range(1000):
        assert reader.feed(b"x!" + b"y" * 998) == []
        assert len(reader._rest) <= LONGEST_LINE
    assert ignored[Ignored.NOISE_BYTE] == 1_000_000
    assert len(reader.feed(b"half of !1 4 sta" + print_line(line_of(Ask(), 1)))) == 1


def test_a_million_random_bytes_say_nothing():
    chance = random.Random(2)
    ignored = new_tally()
    reader = LineReader(ignored)
    lines = []
    # Bytes of the lines' own alphabet, for plain noise hardly ever has the shape of a line.
    alphabet = b"!\n 0123456789ABCDEFstaelmpok"
    for round_number in range(500):
        noise = chance.randbytes(1000) if round_number % 2 else bytes(chance.choices(alphabet, k=1000))
        lines += reader.feed(noise)
        lines += reader.feed(noise[::-1])
    assert lines == []
    assert ignored[Ignored.BAD_LINE] > 1000
