"""From the draft's tie-up to the loom's: fewest treadles, feet, cords, stages. Pure: no file, clock or print."""
