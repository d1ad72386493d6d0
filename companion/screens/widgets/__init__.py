"""Pictures and signs that the screens are made of; each draws what it is given and decides nothing."""
