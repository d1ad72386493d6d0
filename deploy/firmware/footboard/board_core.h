// The footboard's side of the line protocol, without any hardware: contacts and time in, lines out; bytes in, lamps out.
// The protocol is described in assets/help/pedals.md. Compiles with any C++11 compiler; tested on the host against
// Fellside's own side (tests/drivers/test_firmware.py).
#pragma once

#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

namespace footboard {

const unsigned PROTOCOL_VERSION = 1;
const size_t LONGEST_LINE = 80;

// The times of a `state` line, in milliseconds.
const uint32_t SETTLED_AFTER_MS = 6;  // once more after the last change, when the contact has stopped bouncing
const uint32_t BRISK_EVERY_MS = 50;   // while a pedal is down, and for BRISK_FOR_MS after a change
const uint32_t BRISK_FOR_MS = 1000;
const uint32_t CALM_EVERY_MS = 500;   // else: the heartbeat

// CRC-16/IBM-3740: polynomial 1021, start FFFF; "123456789" gives 29B1.
inline uint16_t checksum(const char *body, size_t length) {
    uint16_t crc = 0xFFFF;
    for (size_t i = 0; i < length; ++i) {
        crc = static_cast<uint16_t>(crc ^ static_cast<uint16_t>(static_cast<uint8_t>(body[i]) << 8));
        for (int bit = 0; bit < 8; ++bit) {
            const bool carry = (crc & 0x8000) != 0;
            crc = static_cast<uint16_t>(crc << 1);
            if (carry) crc = static_cast<uint16_t>(crc ^ 0x1021);
        }
    }
    return crc;
}

// Closed pedals and treadles that are down; bit 0 is the first (leftmost).
struct Contacts {
    uint32_t pedals;
    uint32_t treadles;
};

typedef void (*SendLine)(const char *line, size_t length, void *context);

class Board {
  public:
    Board(unsigned pedals, unsigned treadles, unsigned lamps, const char *name, SendLine send, void *context)
        : pedals_(pedals), treadles_(treadles), lamp_count_(lamps), name_(name), send_(send), context_(context) {}

    uint32_t lamps() const { return lamps_; }

    // Call once when the board starts.
    void start(uint32_t now_ms) {
        contacts_ = Contacts{0, 0};
        changed_ms_ = sent_ms_ = now_ms;
        say_hello();
    }

    // Call as often as possible with the contacts as they are; sends what is due.
    void look(uint32_t now_ms, Contacts now) {
        if (now.pedals != contacts_.pedals || now.treadles != contacts_.treadles) {
            if (now_ms == sent_ms_) return;  // bounce faster than a millisecond; look again in the next one
            contacts_ = now;
            changed_ms_ = now_ms;
            unsettled_ = true;
            say_state(now_ms);
        } else if (unsettled_ && now_ms - changed_ms_ >= SETTLED_AFTER_MS) {
            unsettled_ = false;
            say_state(now_ms);
        } else if (now_ms - sent_ms_ >= (is_brisk(now_ms) ? BRISK_EVERY_MS : CALM_EVERY_MS)) {
            say_state(now_ms);
        }
    }

    // Call with every byte that arrives; `now_ms` for the answer.
    void hear(char byte, uint32_t now_ms) {
        if (byte == '!') {
            in_line_ = true;
            length_ = 0;
        } else if (byte == '\n') {
            if (in_line_) read_line(now_ms);
            in_line_ = false;
        } else if (in_line_ && length_ < LONGEST_LINE) {
            line_[length_++] = byte;
        } else {
            in_line_ = false;  // noise, or longer than any line
        }
    }

  private:
    bool is_brisk(uint32_t now_ms) const { return contacts_.pedals != 0 || now_ms - changed_ms_ < BRISK_FOR_MS; }

    void say_hello() {
        char words[LONGEST_LINE];
        snprintf(words, sizeof words, "hello %u %u %u %.24s", pedals_, treadles_, lamp_count_, name_);
        say(words);
    }

    void say_state(uint32_t now_ms) {
        char words[LONGEST_LINE];
        snprintf(words, sizeof words, "state %lu %lX %lX %lX", static_cast<unsigned long>(now_ms),
                 static_cast<unsigned long>(contacts_.pedals), static_cast<unsigned long>(contacts_.treadles),
                 static_cast<unsigned long>(lamps_));
        sent_ms_ = now_ms;
        say(words);
    }

    void say(const char *words) {
        char line[LONGEST_LINE + 24];
        const int body = snprintf(line, sizeof line, "!%u %u %s", PROTOCOL_VERSION, unsigned(sequence_++), words);
        const unsigned crc = checksum(line + 1, static_cast<size_t>(body) - 1);
        const int tail = snprintf(line + body, sizeof line - static_cast<size_t>(body), " %04X\n", crc);
        send_(line, static_cast<size_t>(body + tail), context_);
    }

    // `line_` is "1 42 lamps 1F 9C1D": version, sequence number, words, checksum.
    void read_line(uint32_t now_ms) {
        if (length_ < 6 || line_[length_ - 5] != ' ') return;
        line_[length_] = '\0';
        char *end = nullptr;
        const unsigned long crc = strtoul(line_ + length_ - 4, &end, 16);
        if (*end != '\0' || crc != checksum(line_, length_ - 5)) return;
        line_[length_ - 5] = '\0';
        if (strtoul(line_, &end, 10) != PROTOCOL_VERSION || *end != ' ') return;
        strtoul(end + 1, &end, 10);  // the sequence number: both orders may come twice without harm
        if (strcmp(end, " ask") == 0) {
            say_hello();
            say_state(now_ms);
        } else if (strncmp(end, " lamps ", 7) == 0) {
            const uint32_t wanted = static_cast<uint32_t>(strtoul(end + 7, &end, 16));
            if (*end != '\0') return;
            lamps_ = wanted;
            say_state(now_ms);  // shows that the order has arrived
        }
    }

    const unsigned pedals_, treadles_, lamp_count_;
    const char *const name_;
    const SendLine send_;
    void *const context_;
    Contacts contacts_ = {0, 0};
    uint32_t lamps_ = 0;
    uint32_t changed_ms_ = 0;
    uint32_t sent_ms_ = 0;
    uint8_t sequence_ = 0;
    bool unsettled_ = false;
    bool in_line_ = false;
    size_t length_ = 0;
    char line_[LONGEST_LINE + 1] = {0};
};

}  // namespace footboard
