"""Make the program's sounds: `python -m tests.screens.make_sounds`. Plain tones with soft ends; nothing recorded."""

from __future__ import annotations

import wave
from pathlib import Path

import numpy as np

RATE = 44_100
SOUNDS = {"woven": (1200, 0.035), "change": (700, 0.16), "refused": (260, 0.25)}
"""For each sound its pitch in hertz and its length in seconds."""


def main() -> None:
    """Write one WAV file per sound into assets/sounds."""
    folder = Path(__file__).parents[2] / "assets" / "sounds"
    folder.mkdir(parents=True, exist_ok=True)
    for name, (pitch_hz, seconds) in SOUNDS.items():
        time_s = np.arange(int(RATE * seconds)) / RATE
        loudness = np.sin(np.pi * time_s / seconds) ** 2
        samples = (0.5 * loudness * np.sin(2 * np.pi * pitch_hz * time_s) * 32767).astype("<i2")
        with wave.open(str(folder / f"{name}.wav"), "wb") as file:
            file.setnchannels(1)
            file.setsampwidth(2)
            file.setframerate(RATE)
            file.writeframes(samples.tobytes())


if __name__ == "__main__":
    main()
