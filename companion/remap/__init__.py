"""From the draft's tie-up to the loom's. Pure: no file, clock or print.

Read from below: `loom` says what a loom is asked (sheds as targets, ties, footings, cords), `search` finds the fewest
treadles, `feet` chooses order and feet, `stages` plans where to tie anew; the modules of this folder put the whole
answer together (`remapping`), weave it (`proof`), and ask for other ways (`alternatives`, `turned_over`, `pieces`).
"""
