"""The cheapest way to say a short treadling with repeats, turns and tabby, by trying every way there is.

A treadling is a string; tabby is `A` and `B` by turns. In a text a tabby pick is `T`: which of the two it is, is known
once all picks stand in a row. Shares no code with the product.
"""

from __future__ import annotations

from functools import cache
from itertools import combinations

PICK, MARK, NAMED = 2, 3, 4


def cheapest_with_tabby(word):
    """The least cost of a word of letters, `A` and `B`, with tabby or without."""
    least = cheapest(word)
    places = [at for at, letter in enumerate(word) if letter in "AB"]
    for many in range(1, len(places) + 1):
        for tabby in combinations(places, many):
            said = "".join("T" if at in tabby else letter for at, letter in enumerate(word))
            turns = {word[at] + str(number % 2) for number, at in enumerate(tabby)}
            if turns in ({"A0"}, {"B0"}, {"A0", "B1"}, {"B0", "A1"}):
                least = min(least, NAMED + cheapest(said))
    return least


@cache
def cheapest(said):
    """The least cost of a text, `T` being a tabby pick that only "with tabby" can put in."""
    length = len(said)
    ways = [PICK] if length == 1 and said != "T" else []
    ways += [cheapest(said[:at]) + cheapest(said[at:]) for at in range(1, length)]
    for body in range(1, length // 2 + 1):
        if length % body == 0 and said[:body] * (length // body) == said:
            ways.append(MARK + cheapest(said[:body]))
    for body in range(2, length):
        forth = said[:body]
        if said in (forth + forth[-2::-1], forth + forth[::-1], forth + forth[-2:0:-1]):
            ways.append(MARK + cheapest(forth))
    if length % 2 == 0 and set(said[1::2]) == {"T"} and "T" not in said[::2]:
        ways.append(MARK + cheapest(said[::2]))
    return min(ways, default=1_000)
