// Runs the footboard's core on this machine: the cable is an open file descriptor, time and contacts come from stdin.
//   at MS PEDALS TREADLES   let the clock run to MS, millisecond by millisecond, then set the contacts (hexadecimal)
//   hear                    wait for bytes on the cable, take them, print "lamps HEX"
#include <poll.h>
#include <unistd.h>

#include "board_core.h"

static void send_line(const char *line, size_t length, void *context) {
    const int cable = *static_cast<int *>(context);
    while (length > 0) {
        const ssize_t written = write(cable, line, length);
        if (written <= 0) exit(3);
        line += written;
        length -= static_cast<size_t>(written);
    }
}

int main(int count, char **words) {
    if (count != 3) return 2;
    int cable = atoi(words[1]);
    uint32_t now_ms = static_cast<uint32_t>(strtoul(words[2], nullptr, 10));
    footboard::Board board(1, 8, 8, "on-host", send_line, &cable);
    footboard::Contacts contacts = {0, 0};
    board.start(now_ms);
    char order[100];
    while (fgets(order, sizeof order, stdin) != nullptr) {
        unsigned long until_ms = 0, pedals = 0, treadles = 0;
        if (sscanf(order, "at %lu %lx %lx", &until_ms, &pedals, &treadles) == 3) {
            while (now_ms != static_cast<uint32_t>(until_ms)) board.look(now_ms++, contacts);
            contacts = footboard::Contacts{static_cast<uint32_t>(pedals), static_cast<uint32_t>(treadles)};
            board.look(now_ms, contacts);
        } else if (strncmp(order, "hear", 4) == 0) {
            struct pollfd waiting = {cable, POLLIN, 0};
            if (poll(&waiting, 1, 10000) != 1) return 4;
            char bytes[4096];
            const ssize_t length = read(cable, bytes, sizeof bytes);
            for (ssize_t i = 0; i < length; ++i) board.hear(bytes[i], now_ms);
            printf("lamps %lX\n", static_cast<unsigned long>(board.lamps()));
            fflush(stdout);
        }
    }
    return 0;
}
