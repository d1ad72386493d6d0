"""Pedals and sensors: hardware in, a few events out. Knows no weaving; the only importer of pyserial."""
