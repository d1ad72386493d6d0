// A foot-switch, treadle sensors and lamps for Fellside, for boards that the Arduino tools know (Uno, Nano, Leonardo,
// Pico and the like). Wiring: every contact between its pin and GND, nothing else; every lamp an LED with a series
// resistor (about 1 kilo-ohm) from its pin to GND. Nothing here may be wired to the mains or to a motor.
// The wiring, the protocol and the cautions stand in assets/help/pedals.md.
#include "board_core.h"

const uint8_t PEDAL_PINS[] = {2};  // pedals first; a reed switch at the beater is the last one, as in {2, 7}
const uint8_t TREADLE_PINS[] = {3, 4, 5, 6};
const uint8_t LAMP_PINS[] = {8, 9, 10, 11};

const unsigned PEDALS = sizeof PEDAL_PINS;
const unsigned TREADLES = sizeof TREADLE_PINS;
const unsigned LAMPS = sizeof LAMP_PINS;

static void send_line(const char *line, size_t length, void *) { Serial.write(line, length); }

static footboard::Board board(PEDALS, TREADLES, LAMPS, "footboard", send_line, nullptr);

static uint32_t closed_of(const uint8_t *pins, unsigned count) {
    uint32_t closed = 0;
    for (unsigned i = 0; i < count; ++i)
        if (digitalRead(pins[i]) == LOW) closed |= uint32_t(1) << i;
    return closed;
}

void setup() {
    for (uint8_t pin : PEDAL_PINS) pinMode(pin, INPUT_PULLUP);
    for (uint8_t pin : TREADLE_PINS) pinMode(pin, INPUT_PULLUP);
    for (uint8_t pin : LAMP_PINS) pinMode(pin, OUTPUT);
    Serial.begin(115200);
    board.start(millis());
}

void loop() {
    while (Serial.available() > 0) board.hear(char(Serial.read()), millis());
    board.look(millis(), footboard::Contacts{closed_of(PEDAL_PINS, PEDALS), closed_of(TREADLE_PINS, TREADLES)});
    for (unsigned i = 0; i < LAMPS; ++i) digitalWrite(LAMP_PINS[i], (board.lamps() >> i & 1) != 0 ? HIGH : LOW);
}
