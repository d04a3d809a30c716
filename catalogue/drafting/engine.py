"""The engine that drafts: loaded on first use, one in a process; its models lie in its own package.

Nothing is ever fetched: only the models that came along with the package are named.
"""

from __future__ import annotations

import os
import threading
from collections.abc import Iterator
from functools import cache
from importlib.metadata import version
from importlib.util import find_spec
from pathlib import Path
from typing import Any, Final

import numpy as np
from PIL import Image

from catalogue.drafting.draft import TABLE, Line
from catalogue.errors import BadSetting
from catalogue.places import table

NAME: Final = "rapidocr"
_SETTINGS: Final = {
    "Global.log_level": "critical",
    "Global.text_score": 0.0,  # a line that it is unsure of is better shown than dropped
    # one core is left to whoever goes on working at the desk
    "EngineConfig.onnxruntime.intra_op_num_threads": max(1, (os.cpu_count() or 2) - 1),
}
_MODELS: Final = ("*_det_*.onnx", "*_rec_*.onnx", "*_cls_*.onnx")
"""What finds lines, spells them out, and tells which way up they stand."""
_FULL_WIDTH: Final = {code: code - 0xFEE0 for code in range(0xFF01, 0xFF5F)}
"""Signs in the width of Chinese letters, which the engine sometimes gives, as ours."""

_one_at_a_time = threading.Lock()


def missing() -> str:
    """Why no draft can be made here, and what to install; "" where it can."""
    if find_spec(NAME) and find_spec("onnxruntime"):
        return ""
    said: str = table(TABLE)["says"]["missing"]
    return said


def engine_version() -> str:
    """The version of the engine. Raises `BadSetting` where it is not installed."""
    if missing():
        raise BadSetting("there is no engine for drafts by machine here", remedy=missing())
    return version(NAME)


def lines_on(picture: Image.Image) -> tuple[Line, ...]:
    """Every line that the engine finds on a picture, as it found them. Raises `BadSetting`."""
    engine_version()
    with _one_at_a_time:
        return tuple(_found(_engine(), np.asarray(picture.convert("RGB"))[:, :, ::-1]))


@cache
def _engine() -> Any:
    import rapidocr
    from rapidocr import RapidOCR

    # A model that is not there would be fetched: so it is looked for first.
    models = Path(rapidocr.__file__).parent / "models"
    if not all(any(models.glob(each)) for each in _MODELS):
        raise BadSetting(
            "the engine for drafts by machine came without its models",
            remedy='install it anew: pip install --force-reinstall "dorse[ocr]"',
        )
    engine = RapidOCR(params=dict(_SETTINGS))
    engine.return_word_box = True  # so that it tells how sure it is of each letter
    return engine


def _found(engine: Any, pixels: Any) -> Iterator[Line]:
    """Its steps one by one: its last one, for words, counts the letters without their spaces."""
    from rapidocr.utils.process_img import map_boxes_to_original

    small, record = engine.preprocess_img(pixels)
    seen, _, read, _ = engine.run_ocr_steps(small, record)
    if seen.boxes is None or read.txts is None:
        return
    boxes = map_boxes_to_original(seen.boxes, record, *pixels.shape[:2])
    for box, text, score, told in zip(
        boxes, read.txts, read.scores, read.word_results, strict=True
    ):
        if text.strip():
            yield _line(text, float(score), told, [(float(x), float(y)) for x, y in box])


def _line(text: str, score: float, told: Any, corners: list[tuple[float, float]]) -> Line:
    sure = [float(each) for each in getattr(told, "confs", ())]
    if len(sure) != len(text):
        sure = [score] * len(text)
    return Line(
        text=text.translate(_FULL_WIDTH), corners=tuple(corners), sure=tuple(sure), score=score
    )
