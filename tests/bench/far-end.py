"""The sleeve's end of a pseudo-terminal, with a clock: writes samples at their pace and notes when each was written and what came back when.

Argument: path of the link to the near end. Standard input: one byte of command, four of length (little-endian), then the data.
  S  write the data at once
  P  write the data as frames of 31 bytes, one each 12.5 ms, listen until E, then report
  E  enough was heard; without it a busy host has a minute
Standard output, in the same form: B bytes from the host, H those during P, R the report as JSON:
  wrote: seconds just before each frame was written; heard: [seconds, hex] of each piece from the host
"""
import json, os, pty, select, struct, sys, time, tty

FRAME = 31
STEP_SEC = 0.0125
LONGEST_SEC = 60

far, near = pty.openpty()
tty.setraw(near)
link = sys.argv[1]
if os.path.lexists(link):
    os.remove(link)
os.symlink(os.ttyname(near), link)


def say(kind, data):
    out = kind + struct.pack("<I", len(data)) + data
    while out:
        out = out[os.write(1, out):]


def exactly(count):
    data = b""
    while len(data) < count:
        piece = os.read(0, count - len(data))
        if not piece:
            sys.exit(0)
        data += piece
    return data


def write_all(data):
    while data:
        data = data[os.write(far, data):]


def paced(frames):
    wrote, heard = [], []
    started = time.monotonic()
    due = started
    last = started
    index = 0
    enough = False
    while True:
        now = time.monotonic()
        if index < len(frames) and now >= due:
            wrote.append(time.monotonic())
            os.write(far, frames[index])
            index += 1
            due = started + index * STEP_SEC
            last = now
            continue
        until = due if index < len(frames) else last + LONGEST_SEC
        if index == len(frames) and (enough or until <= now):
            break
        ready, _, _ = select.select([far] if enough else [far, 0], [], [], max(0, until - now))
        if far in ready:
            data = os.read(far, 65536)
            heard.append([time.monotonic(), data.hex()])
            say(b"H", data)
        if 0 in ready:
            enough = exactly(5)[:1] == b"E"
    say(b"R", json.dumps({"wrote": wrote, "heard": heard}).encode())


say(b"B", b"")
while True:
    ready, _, _ = select.select([0, far], [], [])
    if far in ready:
        say(b"B", os.read(far, 65536))
    if 0 in ready:
        head = exactly(5)
        data = exactly(struct.unpack("<I", head[1:])[0])
        if head[:1] == b"S":
            write_all(data)
        elif head[:1] == b"P":
            paced([data[i:i + FRAME] for i in range(0, len(data), FRAME)])
