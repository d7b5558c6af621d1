/* What the example needs of a board. Write these five functions for yours; board_stub.c is a board that exists only in a test. */
#ifndef BOARD_H
#define BOARD_H

#include <stdbool.h>
#include <stdint.h>

/* Seconds since 1970, or 0 while the clock is not set (no network time yet). */
uint32_t board_unix_time(void);

/* Reads the nine bytes of the sensor's scratchpad after a conversion. False when nothing answers on the wire. */
bool board_read_scratchpad(uint8_t scratchpad[9]);

/* True while the connection to the broker stands. Connect with the last will "offline" on the presence topic. */
bool board_is_connected(void);

/* Publishes at QoS 1 and waits for the PUBACK, some seconds at most. True only after the PUBACK: then the reading is on disk. */
bool board_publish(const char *topic, const char *payload);

/* Sleeps. */
void board_sleep(uint32_t seconds);

#endif
