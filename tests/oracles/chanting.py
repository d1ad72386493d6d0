"""The cheapest way to write any short word with repeats and turns, by writing down everything; shares no product code.

Every word is finished before any longer one. Each finished word offers what it becomes when it is repeated, or turned
back in the three ways, to the longer words; a word takes the least of its offers, of its letters one by one, and of
every way to cut it in two.
"""

from __future__ import annotations

from itertools import product

PICK, MARK = 2, 3


def turned(word):
    """`abc` becomes `abcba`, `abccba` and `abcb`."""
    return (word + word[-2::-1], word + word[::-1], word + word[-2:0:-1])


def cheapest(letters, longest):
    """Return the cost of every word of up to `longest` letters."""
    offers = {}
    costs = {}
    for length in range(1, longest + 1):
        for parts in product(letters, repeat=length):
            word = "".join(parts)
            cuts = (costs[word[:at]] + costs[word[at:]] for at in range(1, length))
            costs[word] = min(offers.get(word, PICK * length), PICK * length, *cuts)
            longer = [word * times for times in range(2, longest // length + 1)]
            longer += [back for back in turned(word) if length < len(back) <= longest]
            for offered in longer:
                offers[offered] = min(offers.get(offered, PICK * longest), costs[word] + MARK)
    return costs


def all_words_in_one(letters, length):
    """Return a sequence in which every word of this length stands once: a de Bruijn sequence, its head added again.

    N. G. de Bruijn, "A combinatorial problem", Proceedings of the Koninklijke Nederlandse Akademie van Wetenschappen 49
    (1946), 758-764; made by always adding the last letter that gives a word not met before.
    """
    sequence = letters[0] * length
    met = {sequence}
    while True:
        for letter in reversed(letters):
            word = sequence[len(sequence) - length + 1 :] + letter
            if word not in met:
                met.add(word)
                sequence += letter
                break
        else:
            return sequence
