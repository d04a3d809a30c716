"""Draw the photographs that the sample records name.

    python sample_records/draw.py OUT_FOLDER [--width 3000] [--only WORD]

Every picture is drawn from its record: what an inscription says, where it sits, what lay over it on
the day of the photo. `dressing.toml` adds what no record knows. The same records always give the
same pictures; each finished one is reported on a line, "3 of 31: its file name".
"""

from __future__ import annotations

import argparse
import os
import sys
from concurrent.futures import ProcessPoolExecutor
from pathlib import Path

HERE = Path(__file__).resolve().parent
# Run as a script from a checkout or out of the installed package, find the package that we are in.
sys.path[:0] = [
    str(HERE),
    str(HERE.parent if HERE.parent.name != "catalogue" else HERE.parents[1]),
]

from drawing.photographs import Wanted, draw, wanted  # noqa: E402
from PIL import Image  # noqa: E402


def main(told: list[str]) -> None:
    """Draw what the command line asks for."""
    parser = argparse.ArgumentParser(description="Draw the photographs of the sample records.")
    parser.add_argument(
        "out", type=Path, help="folder for the pictures; made if it is not there"
    )
    parser.add_argument("--width", type=int, default=3000, help="width in pixels (3000)")
    parser.add_argument("--only", default="", help="draw only files with this in their name")
    said = parser.parse_args(told)
    said.out.mkdir(parents=True, exist_ok=True)
    jobs = [
        (each, said.out, said.width)
        for each in wanted(HERE / "works")
        if said.only in (each.photo.file_name or "")
    ]
    with ProcessPoolExecutor(min(os.cpu_count() or 1, 4)) as pool:
        print(f"0 of {len(jobs)}: none yet", flush=True)
        for done, name in enumerate(pool.map(_one, jobs), 1):
            print(f"{done} of {len(jobs)}: {name}", flush=True)


def _one(job: tuple[Wanted, Path, int]) -> str:
    each, out, width = job
    name = each.photo.file_name or ""
    picture: Image.Image = draw(each, width)
    picture.save(out / name, quality=88, subsampling=0 if width < 1000 else 1)
    return name


if __name__ == "__main__":
    main(sys.argv[1:])
