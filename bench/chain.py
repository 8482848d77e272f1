"""The chain from bytes to readings as a script with numpy: what `npm run bench` sets the program's own beside.

Usage: chain.py FILE TICKHZ EDGES TURNS. Prints JSON. It does what the program does (lines and turns checked for
sense, noise set aside, lobes followed, pickup learnt across speeds, outliers left out, means with the scatter of
their mean), all of it for many turns at once, and leaves out what a script would: budgets, dwell by lobe, drift.
"""

import json
import re
import sys
import time
import zlib

import numpy as np

ROUNDS = 15
FIRING = ord("a")


def numbers(texts):
    return np.fromstring(b",".join(texts), dtype=np.int64, sep=",")


def checked(data):
    """Bodies of good lines: turns with their events apart, and pickup edges."""
    heads, events, picks = [], [], []
    crc32 = zlib.crc32
    for line in data.split(b"\n"):
        if crc32(line[:-9]) != int(line[-8:] or b"0", 16):
            continue
        if line.startswith(b"pick,"):
            picks.append(line[5:-9])
        elif line.startswith(b"rev,"):
            head, _, event = line[4:-9].rpartition(b",")
            heads.append(head)
            events.append(event)
    return heads, events, picks


def turns_of(data, edges):
    heads, events, picks = checked(data)
    head = numbers(heads).reshape(-1, 9)
    together = b"".join(events)
    kinds = np.frombuffer(together.translate(None, b"0123456789"), dtype=np.uint8)
    ticks = numbers([re.sub(b"[ab]", b",", together)[1:]])
    counts = np.array([len(event.translate(None, b"0123456789")) for event in events])
    turn = np.repeat(np.arange(len(head)), counts)
    if edges == 1:
        return head, kinds, ticks, turn, None
    pick = numbers(picks).reshape(-1, 3 + edges)
    # A turn that lost an edge has none; then its edges are taken as even.
    at = np.minimum(np.searchsorted(pick[:, 0], head[:, 0]), len(pick) - 1)
    even = np.outer(head[:, 3], np.arange(edges + 1)) // edges
    known = np.concatenate(
        [np.zeros((len(head), 1), dtype=np.int64), np.cumsum(pick[at, 3:], axis=1)], axis=1
    )
    places = np.where((pick[at, 0] == head[:, 0])[:, None], known, even)
    return head, kinds, ticks, turn, places


def cubic(ts, vs, t):
    """Through four known values by divided differences, for many at once."""
    d01 = (vs[1] - vs[0]) / (ts[1] - ts[0])
    d12 = (vs[2] - vs[1]) / (ts[2] - ts[1])
    d23 = (vs[3] - vs[2]) / (ts[3] - ts[2])
    d012 = (d12 - d01) / (ts[2] - ts[0])
    d0123 = ((d23 - d12) / (ts[3] - ts[1]) - d012) / (ts[3] - ts[0])
    return vs[0] + (t - ts[0]) * (d01 + (t - ts[1]) * (d012 + (t - ts[2]) * d0123))


def angles_of(head, ticks, turn, places, edges, true):
    during = head[turn, 3].astype(float)
    t = ticks.astype(float)
    if edges == 1:
        before, after = head[turn, 2].astype(float), head[turn, 4].astype(float)
        known = before > 0
        before = np.where(known, before, during)
        return 360 * cubic([-before, 0, during, during + after], [-1, 0, 1, 2], t), known
    space = np.clip((t * edges / during).astype(np.int64), 0, edges - 1)
    space -= places[turn, space] > t
    space += places[turn, np.minimum(space + 1, edges)] <= t
    first = np.clip(space - 1, 0, edges - 3)
    ts = [places[turn, first + k].astype(float) for k in range(4)]
    vs = [true[first + k] for k in range(4)]
    return 360 * cubic(ts, vs, t), np.ones(len(t), dtype=bool)


def make_sense(head):
    """Whether each turn follows the one before it."""
    elapsed = np.diff(head[:, 1]) % 2**32
    follows = np.ones(len(head), dtype=bool)
    follows[1:] = (
        (elapsed == head[:-1, 3]) & (head[1:, 2] == head[:-1, 3]) & (head[1:, 3] == head[:-1, 4])
    )
    return follows | (np.diff(head[:, 0], prepend=0) != 1)


def without_chatter(kinds, ticks, turn, chatter):
    """Edges that do not come back within moments."""
    near = (np.diff(ticks, prepend=-(10**9)) < chatter) & (np.diff(turn, prepend=-1) == 0)
    alone = ~near
    alone[:-1] &= ~near[1:]
    return kinds[alone], ticks[alone], turn[alone]


def edge_pattern(head, places, edges):
    """Where the edges seem to stand beside their even places, by the index pulses alone."""
    before, during, after = (head[:, k].astype(float)[:, None] for k in (2, 3, 4))
    before = np.where(before > 0, before, during)
    seen = cubic([-before, 0, during, during + after], [-1, 0, 1, 2], places[:, :-1].astype(float))
    offsets = seen - np.arange(edges) / edges
    return offsets.mean(axis=0)


def learnt(patterns, speeds, edges):
    """Spacing errors by least squares: what stays as speeds change, beside what falls with their square."""
    x = (1000 / np.array(speeds)) ** 2
    both, *_ = np.linalg.lstsq(np.stack([np.ones(len(x)), x], axis=1), np.array(patterns), rcond=None)
    return np.arange(edges + 1) / edges + np.append(both[0], 0)


def belonging(values):
    middle = np.median(values)
    width = max(6 * 1.4826 * np.median(np.abs(values - middle)), 0.3)
    return np.abs(values - middle) <= width


def reading(advance, lobe, turn, lobes):
    means, kept = [], []
    for j in range(lobes):
        own = advance[lobe == j]
        own = own[belonging(own)]
        means.append(own.mean())
        kept.append(own.std(ddof=1))
    rest = advance - np.array(means)[lobe]
    first = np.flatnonzero(np.diff(turn, prepend=-1))
    turns = np.add.reduceat(rest, first) / np.diff(np.append(first, len(rest)))
    lag = np.mean((turns[1:] - turns.mean()) * (turns[:-1] - turns.mean())) / turns.var()
    sure = min(0.9, max(0, lag - 1 / np.sqrt(len(turns))))
    return np.mean(means), turns.std(ddof=1) * np.sqrt((1 + sure) / (1 - sure) / len(turns)), kept


def readings_of(data, tick_hz, edges, turns_per_reading, lobes=4):
    head, kinds, ticks, turn, places = turns_of(data, edges)
    good = make_sense(head)
    kinds, ticks, turn = without_chatter(kinds, ticks, turn, 0.0003 * tick_hz)
    starts = range(0, len(head) - turns_per_reading + 1, turns_per_reading)
    spans = [(start, start + turns_per_reading) for start in starts]
    even = np.arange(edges + 1) / edges
    true = even
    if edges > 1:
        speeds = [60 * tick_hz / head[low:high, 3].mean() for low, high in spans]
        patterns = [edge_pattern(head[low:high], places[low:high], edges) for low, high in spans]
        true = learnt(patterns, speeds, edges)
    angle, known = angles_of(head, ticks, turn, places, edges, true)
    known &= good[turn]
    # The closing before each opening, a turn earlier where the index lies between.
    dwell = np.full(len(angle), np.nan)
    dwell[1:] = (angle[1:] - angle[:-1]) % 360
    opens = (kinds == FIRING) & known
    angle, dwell, turn = angle[opens], dwell[opens], turn[opens]
    spacing = 360 / lobes
    reference = np.median(angle[: lobes * 20] % spacing)
    lobe = np.round((angle - reference) / spacing).astype(np.int64) % lobes
    advance = (reference + lobe * spacing - angle + 180) % 360 - 180
    readings = []
    for span in spans:
        low, high = np.searchsorted(turn, span)
        own = reading(advance[low:high], lobe[low:high], turn[low:high], lobes)
        readings.append((*own, np.nanmean(dwell[low:high])))
    return len(head), readings


def main():
    path, tick_hz, edges, turns_per_reading = sys.argv[1:]
    with open(path, "rb") as file:
        data = file.read()
    times = []
    for _ in range(ROUNDS):
        started = time.process_time()
        turns, readings = readings_of(data, int(tick_hz), int(edges), int(turns_per_reading))
        times.append(time.process_time() - started)
    dwell = float(np.mean([one[-1] for one in readings]))
    print(json.dumps({"seconds": sorted(times)[ROUNDS // 2], "turns": turns, "dwellDeg": dwell}))


main()
