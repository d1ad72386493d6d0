"""How things stand at the loom, worked out the slow way: the whole list of events, replayed with plain lists.

Shares no code with companion.weaving.progress: the cloth is a list of picks, undoing strikes an event off the list,
a section is found by counting.
"""

from __future__ import annotations

from companion.weaving import events as ev


class NaiveLoom:
    """Holds every entry; each question replays them all."""

    def __init__(self, warp):
        self.warp = warp
        self.entries = []

    def standing(self):
        struck = {entry.event.number for entry in self.entries if isinstance(entry.event, ev.Undone)}
        return [e for e in self.entries if e.number not in struck and not isinstance(e.event, ev.Undone)]

    def replay(self):
        piece, place, cloth = 0, 0, []
        # Whether a section with a length began anew with each pick in the cloth, and whether one will with the next.
        begun_anew, begins_anew = [], False
        finished = paused = False
        measured = relaxed = None
        faults, open_faults, notes = 0, [], []
        woven = taken_out = 0
        for entry in self.standing():
            event = entry.event
            draft = self.warp.pieces[piece].draft
            if isinstance(event, ev.Paused | ev.Resumed):
                paused = isinstance(event, ev.Paused)
            elif isinstance(event, ev.PickWoven):
                assert event.pick == place
                cloth.append(place)
                begun_anew.append(begins_anew)
                begins_anew = False
                woven += 1
                place = self._after(self.warp.pieces[piece], place, cloth, begun_anew, measured)
            elif isinstance(event, ev.PickTakenOut):
                place, begins_anew = cloth.pop(), begun_anew.pop()
                taken_out += 1
                assert place == event.pick
            elif isinstance(event, ev.Jumped):
                kept = begins_anew and self._section_at(draft, place) == self._section_at(draft, event.pick)
                place, begins_anew = event.pick, event.anew or kept
            elif isinstance(event, ev.LengthMeasured):
                if event.under_tension:
                    measured = (event.centimetres, len(cloth))
                else:
                    relaxed = (event.centimetres, len(cloth))
            elif isinstance(event, ev.FaultNoted):
                if event.state is ev.FaultState.FOUND:
                    open_faults.append(faults)
                faults += 1
            elif isinstance(event, ev.FaultSettled):
                open_faults.remove(event.fault)
            elif isinstance(event, ev.NoteWritten):
                notes.append(event.text)
            elif isinstance(event, ev.PieceFinished):
                finished = True
            elif isinstance(event, ev.PieceStarted):
                piece, place, cloth, finished, measured, relaxed = event.piece, 0, [], False, None, None
                begun_anew, begins_anew = [], False
        draft = self.warp.pieces[piece].draft
        lies = {}
        for yarn in range(len(draft.yarns)):
            side = self.warp.pieces[piece].start_side.value
            for pick in cloth:
                if draft.weft[pick] == yarn:
                    side = "left" if side == "right" else "right"
            lies[yarn] = side
        return {
            "piece": piece,
            "next": place,
            "cloth": cloth,
            "finished": finished,
            "paused": paused,
            "measured": measured,
            "relaxed": relaxed,
            "faults": faults,
            "open": open_faults,
            "notes": notes[-5:],
            "woven": woven,
            "taken_out": taken_out,
            "lies": lies,
        }

    @staticmethod
    def _section_at(draft, pick):
        ends = [sum(section.picks for section in draft.sections[: at + 1]) for at in range(len(draft.sections or ()))]
        return next((at for at, end in enumerate(ends) if pick < end), None)

    @staticmethod
    def _after(piece, pick, cloth, begun_anew, measured):
        start = 0
        for section in piece.draft.sections or ():
            stop = start + section.picks
            if start <= pick < stop:
                if section.until_cm is None or pick + 1 < stop:
                    return pick + 1
                number = 0
                for lying, anew in zip(reversed(cloth), reversed(begun_anew), strict=True):
                    if not start <= lying < stop:
                        break
                    number += 1
                    if anew:
                        break
                density = measured[1] / measured[0] if measured and measured[1] else piece.picks_per_cm
                if density is None or number / density < section.until_cm - 1e-9:
                    return start
                return stop
            start = stop
        return pick + 1
