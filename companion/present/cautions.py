"""What to mind when a pedal is wired, when one treads for long, and under the loom; shown where each is done.

Breaks: UK Health and Safety Executive, guidance on Regulation 4 of the Display Screen Equipment Regulations: short
frequent breaks, such as 5 to 10 minutes after 50 to 60; written for screen work, applied here by analogy. The rest is
common practice, no source. No published safe rate of treadling was found, so none is shown.
"""

from __future__ import annotations

from companion.weaving.dressing_events import DressingTask

PEDAL_CAUTIONS = (
    "Extra-low voltage only: bare contacts and small lamps, nothing on the mains or a motor.",
    "Lay cables clear of feet, shuttle and beam.",
    "Rest 5 to 10 minutes after 50 to 60. Pain that stays is for a doctor.",
    "Local code, licensed electricians come first.",
)

TYING_CAUTIONS = (
    "Slack off the warp, set the brake, and make sure that the loom cannot roll or fold.",
    "Prop or block whatever could come down (shafts, lams, treadles) before you reach under it.",
    "Keep hair, scarves and fingers out of the way of treadles and lams; let nobody tread while you tie.",
    "Lie or sit so that your back and neck are supported, light the place, and come out often to stretch.",
    "The instructions of the loom's maker come before anything said here.",
)
"""The usual ones for working under a loom: common practice, no source."""
TYING_CAUTION = "Warp slack, brake set, shafts and lams propped, nobody treads; the loom maker's word comes first"
"""The same in one line, for a screen that is read from below."""

DRESSING_CAUTIONS = {
    DressingTask.WINDING: (
        "Wind at a height that spares your back, change sides, and stop before wrist or shoulder ache.",
    ),
    DressingTask.BEAMING: (
        "A warp under tension pulls: set brake and pawl before you let go, and keep face and fingers out of its line.",
        "Release a brake slowly, with both hands, and never while somebody leans over the beam.",
    ),
    DressingTask.THREADING: (
        "Prop the shafts before you lean under the castle, sit so that your back is straight, light heddles well.",
        "Look up and away often; five minutes in the hour rest eyes and neck.",
    ),
    DressingTask.SLEYING: ("Fasten the reed so that it cannot tip, and light it from behind.",),
    DressingTask.TIE_UP: TYING_CAUTIONS[:2],
    DressingTask.TEST_WEAVE: (
        "First tie on in front, bit by bit, and feel the tension across; set the brake before you tighten.",
        "Take props and tools out before you tread; keep hands clear of the sheds.",
    ),
    DressingTask.HEADING: ("Weave until the ends lie even across; set the brake before you tighten.",),
}
"""The usual ones for each task of dressing a loom: common practice, no source; the loom's maker comes first."""
DRESSING_CAUTION = {
    DressingTask.WINDING: "Spare your back and wrists",
    DressingTask.BEAMING: "Brake and pawl before you let go",
    DressingTask.THREADING: "Prop the shafts; rest your eyes",
    DressingTask.SLEYING: "Fasten the reed; light it well",
    DressingTask.TIE_UP: "Slack warp, brake set, props in",
    DressingTask.TEST_WEAVE: "Tie on first; then props out",
    DressingTask.HEADING: "Set the brake before you tighten",
}
"""The same in half a line, where a small screen has room for no more."""
