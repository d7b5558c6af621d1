/*
 * A probe for one drum: a DS18B20 in a closed tube, read every ten minutes, sent as SenML (RFC 8428) over MQTT.
 * C99 and nothing else, so that it runs on any board that board.h can be written for.
 *
 * What matters in it:
 *  - a reading is kept until the broker has acknowledged it, with the time it was taken;
 *  - after an outage the newest reading goes first, so that the wall is right at once, then what was kept, oldest first;
 *  - a frame whose check sum is wrong, or that is all zeros, is a fault and never a temperature.
 */
#include "probe.h"

#include <stdio.h>
#include <string.h>

#include "board.h"

/* Ten minutes a reading: eight days of them. The oldest goes when there are more, and is counted. */
#define KEPT 1152
/* A record takes 60 bytes at most, the first one 150: a full pack always fits. */
#define PER_PACK 30
#define TOPIC_LENGTH 128
#define PAYLOAD_LENGTH 2048

static struct reading kept[KEPT];
static uint32_t first, count, dropped;

/* CRC-8 of 1-Wire: x^8 + x^5 + x^4 + 1, lowest bit first (Maxim Application Note 27). */
uint8_t crc8(const uint8_t *bytes, unsigned length) {
  uint8_t crc = 0;
  for (unsigned index = 0; index < length; index++) {
    crc ^= bytes[index];
    for (int bit = 0; bit < 8; bit++) crc = crc & 1 ? (uint8_t)(crc >> 1 ^ 0x8C) : crc >> 1;
  }
  return crc;
}

/* Sixteenths of a degree from a scratchpad (DS18B20 data sheet, figure 4). False: a fault, not a temperature. */
bool decode_scratchpad(const uint8_t scratchpad[9], int16_t *sixteenths) {
  bool any = false;
  for (int index = 0; index < 9; index++) any = any || scratchpad[index] != 0;
  /* A wire held low gives nine zeros, and the check sum of zeros is zero. */
  if (!any || crc8(scratchpad, 8) != scratchpad[8]) return false;
  int16_t raw = (int16_t)(scratchpad[1] << 8 | scratchpad[0]);
  /* Nine to eleven bits leave the last bits undefined. */
  unsigned undefined_bits = 3u - (scratchpad[4] >> 5 & 3u);
  *sixteenths = (int16_t)(raw & ~((1 << undefined_bits) - 1));
  return true;
}

static struct reading *kept_at(uint32_t index) { return &kept[(first + index) % KEPT]; }

static void keep(struct reading reading) {
  if (count == KEPT) {
    first = (first + 1) % KEPT;
    count--;
    dropped++;
  }
  *kept_at(count) = reading;
  count++;
}

uint32_t probe_waiting(void) { return count; }
uint32_t probe_dropped(void) { return dropped; }

/* A pack of readings as SenML: one base record, then times and values. Returns its length, or 0 when it does not fit. */
unsigned encode_pack(char *out, unsigned size, const char *probe, const struct reading *readings, unsigned length) {
  int at = snprintf(out, size, "[{\"bn\":\"%s:\",\"bt\":%lu,\"n\":\"temperature\",\"u\":\"Cel\",\"v\":%.4f,\"ut\":1800}", probe, (unsigned long)readings[0].unix_time, readings[0].sixteenths / 16.0);
  for (unsigned index = 1; index < length && at > 0 && (unsigned)at < size; index++) {
    at += snprintf(out + at, size - (unsigned)at, ",{\"n\":\"temperature\",\"u\":\"Cel\",\"t\":%ld,\"v\":%.4f}", (long)(readings[index].unix_time - readings[0].unix_time), readings[index].sixteenths / 16.0);
  }
  if (at > 0 && (unsigned)at < size) at += snprintf(out + at, size - (unsigned)at, "]");
  return at > 0 && (unsigned)at < size ? (unsigned)at : 0;
}

static bool send(const char *site, const char *probe, const struct reading *readings, unsigned length) {
  char topic[TOPIC_LENGTH];
  char payload[PAYLOAD_LENGTH];
  if (snprintf(topic, sizeof topic, "brineward/%s/probe/%s", site, probe) >= (int)sizeof topic) return false;
  return encode_pack(payload, sizeof payload, probe, readings, length) > 0 && board_publish(topic, payload);
}

/* The newest first, then the oldest ones, a pack at a time; what is not acknowledged stays. */
static void send_kept(const char *site, const char *probe) {
  if (count == 0 || !send(site, probe, kept_at(count - 1), 1)) return;
  count--;
  while (count > 0) {
    struct reading pack[PER_PACK];
    unsigned length = count < PER_PACK ? count : PER_PACK;
    for (unsigned index = 0; index < length; index++) pack[index] = *kept_at(index);
    if (!send(site, probe, pack, length)) return;
    first = (first + length) % KEPT;
    count -= length;
  }
}

/* One round: read, keep, send. Without a set clock nothing is kept: a reading with a guessed time is worse than none. */
void probe_round(const char *site, const char *probe) {
  uint8_t scratchpad[9];
  int16_t sixteenths;
  uint32_t now = board_unix_time();
  if (now != 0 && board_read_scratchpad(scratchpad) && decode_scratchpad(scratchpad, &sixteenths)) keep((struct reading){now, sixteenths});
  if (board_is_connected()) send_kept(site, probe);
}

/* Call this from your main function. */
void probe_run(const char *site, const char *probe) {
  char topic[TOPIC_LENGTH];
  snprintf(topic, sizeof topic, "brineward/%s/probe/%s/presence", site, probe);
  bool greeted = false;
  for (;;) {
    if (!board_is_connected()) greeted = false;
    else if (!greeted) greeted = board_publish(topic, "online");
    probe_round(site, probe);
    board_sleep(600);
  }
}
