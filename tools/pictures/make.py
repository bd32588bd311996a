"""Draws README's picture anew, light and dark: a figure of the program's own, in the two palettes of the reports.

usage: make.py PROGRAM THEME OUT    (build/pulsewright dsp/8_report/page/theme.css tools/pictures)
"""

import pathlib
import re
import subprocess
import sys
import tempfile

RECORDING = "datasets/simulated/wren_stair_climb.csv"
FIGURE = "rate"


def palettes(theme):
    """Colours by name: on light ground and, where they differ, on dark."""
    light, dark = re.findall(r":root \{(.*?)\}", theme, re.DOTALL)[:2]
    return [dict(re.findall(r"--([\w-]+): (#[0-9a-f]{6});", block)) for block in (light, dark)]


def main():
    program, theme, out = sys.argv[1], pathlib.Path(sys.argv[2]), pathlib.Path(sys.argv[3])
    light, dark = palettes(theme.read_text())
    with tempfile.TemporaryDirectory() as folder:
        subprocess.run([program, "analyze", RECORDING, "--age", "15", "--resting", "66", "--figures", folder],
                       check=True, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
        svg = (pathlib.Path(folder) / f"{FIGURE}.svg").read_text()
    (out / "stair_climb_light.svg").write_text(svg)
    darker = {colour: dark.get(name, colour) for name, colour in light.items()}
    (out / "stair_climb_dark.svg").write_text(re.sub(r"#[0-9a-f]{6}", lambda found: darker.get(found.group(0), found.group(0)), svg))


if __name__ == "__main__":
    main()
