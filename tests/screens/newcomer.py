"""What a touch of somebody new at the start needs: the program opened there, and a finger."""

from __future__ import annotations


def opened(name=None):
    from companion.wiring.screen_app import ScreenApp

    return ScreenApp(name, guard=None)


def choose(stage, words):
    def offered():
        return words in offers(stage.app.place.ask)

    offered.__name__ = f"an answer {words!r}"

    def lies():
        button = stage.app.place.ask.button(words)
        return *button.to_window(*button.pos), *button.size

    stage.pump(4)
    stage.until(offered)
    # Nested boxes find their places over some frames; no hand is as quick as these.
    before = None
    while before != (now := lies()):
        before = now
        stage.pump(2)
    stage.touch(stage.app.place.ask.button(words))


def offers(ask):
    """Return the words on every button of a question."""
    boxes = (ask._strips, ask._answers, ask._pad)
    buttons = [button for box in boxes for button in box.children] + list(ask.foot.buttons)
    return {getattr(button, "text", "") for button in buttons}


def go_to_the_cords(stage):
    """Say of a new warp that it is threaded: the treadles are tied next."""
    from companion.present.first_look import THREADED

    def asked():
        ask = getattr(stage.app.place, "ask", None)
        return ask is not None and any(answer.words == THREADED for answer in ask.asked.answers)

    stage.until(asked)
    choose(stage, THREADED)
    stage.until(lambda: stage.app.place.cords is not None)


def choose_listed(stage, words):
    ask = stage.app.place.ask
    while words not in {button.text for button in (*ask.ids.answers.children, *ask.foot.buttons)}:
        choose(stage, "More")
    choose(stage, words)
