#!/usr/bin/env python3
"""A finger clip on a pseudo-terminal: sends what PROTOCOL.md describes, and whatever may go wrong.

    tools/firmware/simulated_sensor.py --link wren.port &
    pulsewright live wren=wren.port --age 15 --resting 66

--link FILE is a symbolic link to the terminal, so that the sensor has the same name after it was unplugged.
"""
import argparse
import math
import os
import pty
import random
import signal
import struct
import sys
import time
import tty

FRAME_START = b"\xa7\x3c"


def check(data):
    """CRC-16, polynomial 0x1021, from 0xFFFF."""
    crc = 0xFFFF
    for byte in data:
        crc ^= byte << 8
        for _ in range(8):
            crc = (crc << 1 ^ 0x1021 if crc & 0x8000 else crc << 1) & 0xFFFF
    return crc


def frame(sequence, ticks_us, value):
    body = struct.pack("<HIi", sequence & 0xFFFF, ticks_us & 0xFFFFFFFF, value)
    return FRAME_START + body + struct.pack("<H", check(body))


def line(sequence, ticks_us, value):
    return b"seq=%d,t_us=%d,v=%d\n" % (sequence & 0xFFFF, ticks_us & 0xFFFFFFFF, value)


def json_line(sequence, ticks_us, value):
    return b'{"seq":%d,"t_us":%d,"v":%d}\n' % (sequence & 0xFFFF, ticks_us & 0xFFFFFFFF, value)


FORMS = {"lines": line, "frames": frame, "json": json_line}


class Pulse:
    """An optical pulse whose rate follows (second, beats/min) points, with a little breathing in it."""

    def __init__(self, course, seed=1):
        self.course, self.random = course, random.Random(seed)
        self.next_beat, self.beats = 0.4, []

    def rate_at(self, t):
        before = self.course[0]
        for point in self.course:
            if point[0] > t:
                share = (t - before[0]) / (point[0] - before[0])
                return before[1] + share * (point[1] - before[1])
            before = point
        return before[1]

    def at(self, t):
        while self.next_beat <= t + 0.2:
            self.beats.append(self.next_beat)
            interval = 60.0 / self.rate_at(self.next_beat)
            self.next_beat += interval * (1.0 + 0.02 * math.sin(1.6 * self.next_beat)) + self.random.gauss(0.0, 0.004)
        self.beats = [b for b in self.beats if b > t - 2.0]
        value = 30000.0 + 60.0 * math.sin(1.57 * t) + self.random.gauss(0.0, 8.0)
        for beat in self.beats:
            value += 900.0 * math.exp(-0.5 * ((t - beat) / 0.075) ** 2) + 250.0 * math.exp(-0.5 * ((t - beat - 0.25) / 0.09) ** 2)
        return round(value)


class Terminal:
    """The sensor's end of the wire."""

    def __init__(self, link):
        self.link, self.own = link, None

    def plug_in(self):
        self.own, its = pty.openpty()
        tty.setraw(its)
        name = os.ttyname(its)
        os.set_blocking(self.own, False)
        if os.path.islink(self.link):
            os.unlink(self.link)
        os.symlink(name, self.link)
        self.its = its

    def unplug(self):
        if self.own is None:
            return
        if os.path.islink(self.link):
            os.unlink(self.link)
        os.close(self.its)
        os.close(self.own)
        self.own = None

    def send(self, data):
        if self.own is None:
            return
        try:
            os.write(self.own, data)
        except BlockingIOError:
            pass  # nobody reads: a wire forgets


def points(text):
    return [tuple(float(n) for n in point.split(":")) for point in text.split(",")]


def arguments():
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--link", required=True, help="where the port appears")
    parser.add_argument("--form", choices=FORMS, default="frames")
    parser.add_argument("--rate", type=int, default=100, help="samples a second")
    parser.add_argument("--course", type=points, default=points("0:72"), help="heart rate as SECOND:BPM,SECOND:BPM,...")
    parser.add_argument("--seconds", type=float, default=1e9, help="how long it sends, in its own time")
    parser.add_argument("--speed", type=float, default=1.0, help="times real time")
    parser.add_argument("--jitter-us", type=float, default=0.0, help="SD of the sampling moments")
    parser.add_argument("--lose", type=float, default=0.0, help="share of samples that are not sent")
    parser.add_argument("--damage", type=float, default=0.0, help="share of samples with a flipped bit")
    parser.add_argument("--clock-starts", type=int, default=0, help="us on the sensor's clock at its first sample")
    parser.add_argument("--sequence-starts", type=int, default=0)
    parser.add_argument("--unplug", type=points, default=[], help="SECOND:LENGTH,...: the plug is pulled, and the sensor restarted")
    parser.add_argument("--freeze", type=points, default=[], help="SECOND:LENGTH,...: nothing is sent, the clock goes on")
    parser.add_argument("--no-finger", type=points, default=[], help="SECOND:LENGTH,...: the finger is off")
    parser.add_argument("--garbage", action="store_true", help="send what a wrong speed of the port looks like")
    parser.add_argument("--seed", type=int, default=1)
    return parser.parse_args()


def inside(spans, t):
    return any(start <= t < start + length for start, length in spans)


def main():
    asked = arguments()
    noise = random.Random(asked.seed + 1000)
    pulse = Pulse(asked.course, asked.seed)
    port = Terminal(asked.link)
    port.plug_in()
    signal.signal(signal.SIGTERM, lambda *_: sys.exit(0))
    print("ready", flush=True)
    began = time.monotonic()
    sequence, clock_zero, unplugged = asked.sequence_starts, -asked.clock_starts, False
    sample = 0
    try:
        while sample / asked.rate < asked.seconds:
            # In pieces of a fiftieth of a second, as a driver hands them over.
            until = min((time.monotonic() - began) * asked.speed, asked.seconds)
            data = b""
            while (t := sample / asked.rate) < until:
                sample += 1
                if inside(asked.unplug, t):
                    if not unplugged:
                        port.send(data)
                        time.sleep(0.05)  # what was sent is still read
                        data, unplugged = b"", True
                        port.unplug()
                    continue
                if unplugged:
                    unplugged, sequence, clock_zero = False, 0, round(1e6 * t)
                    port.plug_in()
                value = round(noise.gauss(900.0, 1.0)) if inside(asked.no_finger, t) else pulse.at(t)
                ticks = round(1e6 * t + noise.gauss(0.0, asked.jitter_us)) - clock_zero if asked.jitter_us else round(1e6 * t) - clock_zero
                piece = FORMS[asked.form](sequence, ticks, value)
                sequence += 1
                if inside(asked.freeze, t) or noise.random() < asked.lose:
                    continue
                if noise.random() < asked.damage:
                    place = noise.randrange(len(piece))
                    piece = piece[:place] + bytes([piece[place] ^ 1 << noise.randrange(8)]) + piece[place + 1:]
                if asked.garbage:
                    piece = bytes(noise.randrange(256) for _ in piece)
                data += piece
            if data:
                port.send(data)
            time.sleep(0.02 if asked.speed <= 1 else 0.005)
        time.sleep(0.2)
    finally:
        port.unplug()


if __name__ == "__main__":
    main()
