"""
A board that exists only in a test: reads the same script as board_stub.c on the standard input and writes the same lines.
A line of the script is a round: UNIX_TIME, connected (1 or 0), and the nine bytes of the scratchpad in hex, or "none".
"""
import sys

from probe import Probe


class ScriptedBoard:
    def __init__(self):
        self.now, self.connected, self.frame = 0, False, None

    def unix_time(self):
        return self.now

    def read_scratchpad(self):
        return self.frame

    def is_connected(self):
        return self.connected

    def publish(self, topic, payload):
        print(topic + "\t" + payload)
        return True


board = ScriptedBoard()
probe = Probe(sys.argv[1], sys.argv[2], board)
for line in sys.stdin:
    time, connected, frame = line.split()
    board.now, board.connected, board.frame = int(time), connected == "1", None if frame == "none" else bytes.fromhex(frame)
    probe.round()
print("waiting\t" + str(len(probe.kept)))
print("dropped\t" + str(probe.dropped))
