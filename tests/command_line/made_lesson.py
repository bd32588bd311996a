"""A lesson of 24 invented pupils whose truth is known, with the faults that lessons have: python3 made_lesson.py FOLDER writes it.

Everybody does the same on the own resting and maximum rate: sitting, warm-up, two bouts with a pause, cool-down. Finger clips wrote pulses without times
(64 samples a second), the other devices heart rates. `EXPECTED` says what has to be said of each.
"""
import os
import sys

import recordings

LENGTH = 660
BEGINS = 10 * 3600 + 5 * 60
#        until, demand of the reserve
PARTS = [(60, 0.0), (180, 0.38), (330, 0.78), (390, 0.3), (510, 0.92), (600, 0.3), (660, 0.05)]
CLIP_RATE = 64
BIRDS = ("wren heron plover robin siskin dipper dunlin curlew redwing fieldfare linnet twite "
         "knot ruff avocet bittern crake coot gadwall garganey pintail pochard scaup smew").split()

# Code: why there is no place, and a word of what is said of it.
EXPECTED = {
    "heron": ("implausible_resting", "set aside"),        # 150 at rest
    "plover": ("implausible_resting", "set aside"),       # 27 at rest
    "robin": ("no_resting", ""),
    "siskin": ("no_maximum", ""),                         # no age
    "dipper": ("little_measured", ""),                    # measured for a third
    "dunlin": ("little_measured", ""),                    # 40 s long
    "curlew": ("shared_recording", "same recording"),     # one file under two codes
    "redwing": ("shared_recording", "same recording"),
    "fieldfare": ("code_twice", "stands on lines"),       # and so nobody is linnet
    "twite": ("below_resting", "swapped"),                # has the recording of knot
    "ruff": ("rate_hz_doubtful", "sampling rate"),        # 32 for 64
    "avocet": ("no_recording", ""),                       # an empty file
}
ABSENT = ["linnet", "smew"]


def person(k):
    """Resting and maximum rate, how much of the demand is met, and the time constants of rise and fall."""
    resting = 60 + (7 * k) % 23
    if BIRDS[k] == "twite":
        resting = 92
    return {"resting": resting, "maximum": 205, "zeal": 0.62 + 0.02 * ((11 * k) % 24), "rise": 20 + k % 9, "fall": 38 + (5 * k) % 17}


def course(k):
    """Rate at each second."""
    p, level, rates = person(k), 0.0, []
    for second in range(LENGTH):
        aim = p["zeal"] * next(demand for until, demand in PARTS if second < until)
        level += (aim - level) / (p["rise"] if aim > level else p["fall"])
        rates.append(p["resting"] + level * (p["maximum"] - p["resting"]))
    return rates


def effort(k, start=0, end=LENGTH):
    """Mean per cent of reserve."""
    p = person(k)
    rates = course(k)[start:end]
    return 100 * (sum(rates) / len(rates) - p["resting"]) / (p["maximum"] - p["resting"])


def beats(k):
    rates, times, phase = course(k), [], 0.35
    for second, rate in enumerate(rates):
        step = rate / 60
        at = 0.0
        while phase + (1 - at) * step >= 1:
            at += (1 - phase) / step
            times.append(second + at)
            phase = 0.0
        phase += (1 - at) * step
    return times


def clip(k):
    """A line a sample; the clip writes nothing for a moment that it missed."""
    samples = recordings.wave(beats(k), LENGTH, recordings.PULSE, CLIP_RATE)
    return [f"{512 + v + recordings.ripple(i):.1f}" for i, v in enumerate(samples)]


def clock(second):
    return f"{second // 3600:02}:{second // 60 % 60:02}:{second % 60:02}"


def rate_list(k, start=0, end=LENGTH, lost=lambda second: False):
    return "time,bpm\n" + "".join(f"{clock(BEGINS + s)},{'' if lost(s) else format(rate, '.1f')}\n"
                                  for s, rate in enumerate(course(k)) if start <= s < end)


def wears_a_clip(k):
    return BIRDS[k] in ("wren", "coot", "gadwall", "pochard", "ruff")


def write(folder):
    """Writes roster.csv, sheet.csv, counts.csv and the recordings; returns the folder."""
    os.makedirs(folder, exist_ok=True)

    def put(name, text):
        with open(os.path.join(folder, name), "w", encoding="utf-8") as file:
            file.write(text)

    roster = ["code,age_years,resting_bpm"]
    sheet = ["code,file,rate_hz,file_begins,laps"]
    for k, code in enumerate(BIRDS):
        resting = {"heron": "150", "plover": "27", "robin": "", "siskin": str(person(k)["resting"])}.get(code, str(person(k)["resting"]))
        roster.append(f"{code},{'' if code == 'siskin' else 15},{resting}")
        if wears_a_clip(k):
            lines = clip(k)
            if code == "wren":  # half a minute after 3:30 the clip had slipped off, and wrote empty lines
                lines[210 * CLIP_RATE:240 * CLIP_RATE] = [""] * (30 * CLIP_RATE)
            put(f"{code}.txt", "\n".join(lines) + "\n")
        elif code == "avocet":
            put(f"{code}.csv", "")
        else:
            worn_by = {"twite": "knot", "knot": "twite"}.get(code, code)
            span = {"dunlin": (300, 340), "crake": (40, LENGTH)}.get(code, (0, LENGTH))
            put(f"{code}.csv", rate_list(BIRDS.index(worn_by), *span, lost=(lambda s: s > 220) if code == "dipper" else (lambda s: False)))
    for k, code in enumerate(BIRDS):
        if code in ABSENT:
            continue
        name = f"{code}.txt" if wears_a_clip(k) else f"{code}.csv"
        rate = ("32" if code == "ruff" else str(CLIP_RATE)) if wears_a_clip(k) else ""
        begins = clock(BEGINS) if wears_a_clip(k) and code != "ruff" else ""
        sheet.append(f"{code},{'curlew.csv' if code == 'redwing' else name},{rate},{begins},{4 + (5 * k) % 7}")
    sheet.append("fieldfare,linnet.csv,,,5")
    put("roster.csv", "\n".join(roster) + "\n")
    put("sheet.csv", "\n".join(sheet) + "\n")
    put("counts.csv", "\n".join(["code,recording,start_s,seconds,count,rate_hz"] + [
        f"{code},{name},{start},15,{counted},{rate}" for code, name, start, counted, rate, _ in counts()]) + "\n")
    return folder


def counts():
    """Eighteen counts of 15 s: code, file, start, beats counted, sampling rate, true rate."""
    rows = []
    for n, code in enumerate(["wren", "robin", "bittern", "coot", "gadwall", "garganey", "pintail", "pochard", "scaup"] * 2):
        k = BIRDS.index(code)
        start = [75, 250, 345, 430, 520][n % 5] if code != "wren" else [90, 430][n >= 9]
        true = sum(course(k)[start:start + 15]) / 15
        counted = sum(start < t <= start + 15 for t in beats(k))
        rows.append((code, f"{code}.txt" if wears_a_clip(k) else f"{code}.csv", start, counted, CLIP_RATE if wears_a_clip(k) else "", true))
    return rows


if __name__ == "__main__":
    write(sys.argv[1])
