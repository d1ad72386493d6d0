"""What to mind when a pedal is wired and when one treads for long; shown at the first set-up of a pedal.

Breaks: UK Health and Safety Executive, guidance on Regulation 4 of the Display Screen Equipment Regulations: short
frequent breaks, such as 5 to 10 minutes after 50 to 60; written for screen work, applied here by analogy. The rest is
common practice, no source. No published safe rate of treadling was found, so none is shown.
"""

from __future__ import annotations

PEDAL_CAUTIONS = (
    "Extra-low voltage only: wire bare contacts and small lamps, nothing to the mains or to a motor.",
    "Lay cables where no foot, shuttle or beam takes them along; fix the pedal so that you need not twist.",
    "Short frequent breaks: 5 to 10 minutes after 50 to 60, before you are tired. Pain that stays is for a doctor.",
    "Your local code and licensed electricians come first. More: assets/help/pedals.md.",
)
