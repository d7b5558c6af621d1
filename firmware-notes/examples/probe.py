"""
A probe for one drum in MicroPython: a DS18B20 in a closed tube, read every ten minutes, sent as SenML (RFC 8428) over MQTT.
The same in C stands in probe.c. What the board does is passed in, so that this file also runs on a desktop, where a test runs it.

- A reading is kept until the broker has acknowledged it (QoS 1), with the time it was taken.
- After an outage the newest reading goes first, so that the wall is right at once, then what was kept, oldest first.
- A frame whose check sum is wrong, or that is all zeros, is a fault and never a temperature.
"""
import json

KEPT = 1152  # ten minutes a reading: eight days of them
PER_PACK = 30


def crc8(data):
    """CRC-8 of 1-Wire: x^8 + x^5 + x^4 + 1, lowest bit first (Maxim Application Note 27)."""
    crc = 0
    for byte in data:
        crc ^= byte
        for _ in range(8):
            crc = (crc >> 1) ^ 0x8C if crc & 1 else crc >> 1
    return crc


def decode_scratchpad(scratchpad):
    """Degrees Celsius from nine bytes (DS18B20 data sheet, figure 4), or None: a fault, not a temperature."""
    # A wire held low gives nine zeros, and the check sum of zeros is zero.
    if len(scratchpad) != 9 or not any(scratchpad) or crc8(scratchpad[:8]) != scratchpad[8]:
        return None
    raw = scratchpad[1] << 8 | scratchpad[0]
    if raw & 0x8000:
        raw -= 0x10000
    # Nine to eleven bits leave the last bits undefined.
    undefined_bits = 3 - (scratchpad[4] >> 5 & 3)
    return (raw & ~((1 << undefined_bits) - 1)) / 16


def encode_pack(probe, readings):
    """Readings, each (Unix time, degrees), as a SenML pack."""
    start = readings[0][0]
    pack = [{"bn": probe + ":", "bt": start, "n": "temperature", "u": "Cel", "v": readings[0][1], "ut": 1800}]
    for time, value in readings[1:]:
        pack.append({"n": "temperature", "u": "Cel", "t": time - start, "v": value})
    return json.dumps(pack)


class Probe:
    """
    One probe. `board` has: unix_time() (0 while the clock is not set), read_scratchpad() (nine bytes or None),
    is_connected(), publish(topic, payload) (QoS 1; True only after the PUBACK: then the reading is on disk).
    """

    def __init__(self, site, name, board):
        self.topic = "brineward/" + site + "/probe/" + name
        self.name = name
        self.board = board
        self.kept = []
        self.dropped = 0

    def round(self):
        """Read, keep, send. Without a set clock nothing is kept: a reading with a guessed time is worse than none."""
        now = self.board.unix_time()
        frame = self.board.read_scratchpad()
        value = decode_scratchpad(frame) if now and frame else None
        if value is not None:
            if len(self.kept) == KEPT:
                self.kept.pop(0)
                self.dropped += 1
            self.kept.append((now, value))
        if self.board.is_connected():
            self.send_kept()

    def send_kept(self):
        if not self.kept or not self.board.publish(self.topic, encode_pack(self.name, self.kept[-1:])):
            return
        self.kept.pop()
        while self.kept:
            pack = self.kept[:PER_PACK]
            if not self.board.publish(self.topic, encode_pack(self.name, pack)):
                return
            self.kept = self.kept[len(pack) :]
