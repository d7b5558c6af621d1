/*
 * A board that exists only in a test: its sensor says what stands in a script on the standard input, its broker is the standard output.
 * A line of the script is a round: UNIX_TIME, connected (1 or 0), and the nine bytes of the scratchpad in hex, or "none".
 * A line of the output is a message: topic, tab, payload. The last line says how many readings still wait, and how many were dropped.
 */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "board.h"
#include "probe.h"

static unsigned long now;
static int connected;
static char frame[32];

uint32_t board_unix_time(void) { return (uint32_t)now; }
bool board_is_connected(void) { return connected != 0; }
void board_sleep(uint32_t seconds) { now += seconds; }

bool board_read_scratchpad(uint8_t scratchpad[9]) {
  if (strlen(frame) != 18) return false;
  for (int index = 0; index < 9; index++) {
    char digits[3] = {frame[2 * index], frame[2 * index + 1], 0};
    scratchpad[index] = (uint8_t)strtoul(digits, NULL, 16);
  }
  return true;
}

bool board_publish(const char *topic, const char *payload) {
  if (!connected) return false;
  printf("%s\t%s\n", topic, payload);
  return true;
}

int main(int argc, char **argv) {
  if (argc != 3) return 2;
  while (scanf("%lu %d %31s", &now, &connected, frame) == 3) probe_round(argv[1], argv[2]);
  printf("waiting\t%lu\ndropped\t%lu\n", (unsigned long)probe_waiting(), (unsigned long)probe_dropped());
  return 0;
}
