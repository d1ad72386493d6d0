"""Random whole drafts for property tests: every field of the model takes part, sizes stay small."""

from __future__ import annotations

from hypothesis import strategies as st

from companion.draft.masks import shed_of, treadle_set
from companion.draft.model import Colour, Draft, ForeignSection, Layout, Lifted, Section, ThreadingBlock, Treadled, Yarn
from companion.draft.sley import UNTOLD, Sley

# Texts as a file's line can hold them: no control characters, no blanks at the ends.
lines = st.text(st.characters(exclude_categories=("Cc", "Cs", "Zl", "Zp")), max_size=12).map(str.strip)
colours = st.builds(Colour, *[st.integers(0, 255)] * 3)
words = st.sampled_from(["", "oat", "sea green", "x3"])
sizes_cm = st.floats(0.001, 10)


def sets_of(most):
    return st.sets(st.integers(1, most), max_size=most) if most else st.just(set())


@st.composite
def sections(draw, picks, texts):
    cuts = sorted(draw(st.lists(st.integers(0, picks), max_size=3)))
    stretches = [last - first for first, last in zip([0, *cuts], [*cuts, picks], strict=True)]
    return tuple(Section(draw(texts), stretch, draw(st.none() | st.floats(0.5, 500))) for stretch in stretches)


@st.composite
def blocks(draw, ends, texts):
    cut = draw(st.integers(0, ends))
    return (ThreadingBlock(draw(texts), cut), ThreadingBlock(draw(texts), ends - cut))


@st.composite
def layouts(draw, threads):
    def sizes():
        each = st.lists(sizes_cm, min_size=threads, max_size=threads) | sizes_cm.map(lambda size: [size] * threads)
        return tuple(draw(st.just([]) | each))

    return Layout(spacing_cm=sizes(), thickness_cm=sizes())


@st.composite
def foreign_sections(draw):
    body = draw(st.lists(lines.filter(lambda line: not line.startswith("[")), max_size=4))
    while body and not body[-1]:
        body.pop()
    name = "PRIVATE OTHER " + draw(st.text("ABCDEFG", min_size=1, max_size=3))
    return ForeignSection(name, tuple(body))


@st.composite
def sleys(draw, ends):
    """A plan for these ends, mostly, or for others; with a reed or without."""
    dents = draw(st.lists(st.integers(0, 3), max_size=8))
    short = ends - sum(dents)
    if dents and short > 0 and draw(st.booleans()):
        dents.append(short)
    return Sley(tuple(dents), draw(st.none() | st.sampled_from([4.0, 10 / 2.54, 3.7])))


@st.composite
def drafts(draw, most_shafts=10, most_threads=12, texts=lines):
    """A whole draft; `texts` for its names and notes (plain words where a test is not about texts: drawn faster)."""
    shafts = draw(st.integers(1, most_shafts))
    threading = tuple(draw(st.lists(st.none() | st.integers(0, shafts - 1), max_size=most_threads)))
    picks = draw(st.integers(0, most_threads))
    yarns = tuple(draw(st.lists(st.builds(Yarn, texts, colours), min_size=1, max_size=4)))
    if draw(st.booleans()):
        tieup = tuple(map(shed_of, draw(st.lists(sets_of(shafts), max_size=6))))
        pressed = st.lists(sets_of(len(tieup)), min_size=picks, max_size=picks)
        lifting = Treadled(tieup, tuple(map(treadle_set, draw(pressed))))
    else:
        lifting = Lifted(tuple(map(shed_of, draw(st.lists(sets_of(shafts), min_size=picks, max_size=picks)))))
    yarn = st.integers(0, len(yarns) - 1)
    return Draft(
        shafts=shafts,
        threading=threading,
        lifting=lifting,
        yarns=yarns,
        warp=tuple(draw(st.lists(yarn, min_size=len(threading), max_size=len(threading)))),
        weft=tuple(draw(st.lists(yarn, min_size=picks, max_size=picks))),
        rising=draw(st.booleans()),
        sections=draw(st.just(()) | sections(picks, texts)),
        title=draw(texts),
        author=draw(texts),
        notes=tuple(draw(st.lists(texts, max_size=3))),
        warp_layout=draw(layouts(len(threading))),
        weft_layout=draw(layouts(picks)),
        blocks=draw(st.just(()) | blocks(len(threading), texts)),
        foreign=tuple(draw(st.lists(foreign_sections(), max_size=2))) if texts is lines else (),
        sley=draw(st.just(UNTOLD) | sleys(len(threading))),
    )
