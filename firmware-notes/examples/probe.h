#ifndef PROBE_H
#define PROBE_H

#include <stdbool.h>
#include <stdint.h>

struct reading {
  uint32_t unix_time;
  int16_t sixteenths; /* of a degree Celsius */
};

uint8_t crc8(const uint8_t *bytes, unsigned length);
bool decode_scratchpad(const uint8_t scratchpad[9], int16_t *sixteenths);
unsigned encode_pack(char *out, unsigned size, const char *probe, const struct reading *readings, unsigned length);

void probe_round(const char *site, const char *probe);
void probe_run(const char *site, const char *probe);
uint32_t probe_waiting(void);
uint32_t probe_dropped(void);

#endif
