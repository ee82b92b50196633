"""The warm child process that decodes pictures: bytes in, bytes out, no files, hard limits.

Message and answer are one JSON line with lengths, then the bytes.
"""

import io
import json
import resource
import sys
import warnings
from typing import Any, BinaryIO

import pi_heif  # type: ignore[import-untyped]
from PIL import Image, ImageFile, ImageOps, UnidentifiedImageError

from skinpin.imaging.drawings import answer_drawing

FORMATS = ["JPEG", "PNG", "HEIF", "WEBP"]
KNOWN = "JPEG, PNG, HEIC or WebP"
MAX_PIXELS = 80_000_000
MEMORY_BYTES = 2 * 1024**3
QUALITY = 80


def limit_process() -> None:
    """Bound what a hostile picture can take."""
    resource.setrlimit(resource.RLIMIT_AS, (MEMORY_BYTES, MEMORY_BYTES))
    resource.setrlimit(resource.RLIMIT_FSIZE, (0, 0))
    resource.setrlimit(resource.RLIMIT_CORE, (0, 0))
    Image.MAX_IMAGE_PIXELS = MAX_PIXELS
    ImageFile.LOAD_TRUNCATED_IMAGES = False
    pi_heif.options.DECODE_THREADS = 1
    # A HEIC is turned upright as it is opened, and then says so: it is not turned twice.
    pi_heif.register_heif_opener(thumbnails=False)
    warnings.simplefilter("error", Image.DecompressionBombWarning)


def render(content: bytes, sizes_px: list[int]) -> tuple[dict[str, Any], list[bytes]]:
    """Return the upright size and a JPEG for each longest side, largest first or not.

    The largest is made first, the smaller ones from it; turning upright comes last, on few
    pixels.
    """
    with Image.open(io.BytesIO(content), formats=FORMATS) as image:
        largest = max(sizes_px)
        turned = image.getexif().get(0x0112, 1) in (5, 6, 7, 8)
        width, height = image.size[::-1] if turned else image.size
        if image.width * image.height > MAX_PIXELS:
            raise Image.DecompressionBombError
        if image.format == "JPEG":
            image.draft("RGB", _draft_size(image.size, largest))
        image.thumbnail((largest, largest), Image.Resampling.BICUBIC, reducing_gap=None)
        upright = ImageOps.exif_transpose(image)
        base = upright if upright.mode == "RGB" else _on_white(upright)
        pictures = [_jpeg(base, size) for size in sizes_px]
    return {"width_px": width, "height_px": height}, pictures


def upright(content: bytes) -> Image.Image:
    """Return a picture as it is seen, in colour or grey as it was stored."""
    with Image.open(io.BytesIO(content), formats=FORMATS) as image:
        if image.width * image.height > MAX_PIXELS:
            raise Image.DecompressionBombError
        plain = image if image.mode in ("L", "RGB") else _on_white(image)
        plain.getexif()[0x0112] = image.getexif().get(0x0112, 1)
        return ImageOps.exif_transpose(plain)


def upright_grey(content: bytes) -> Any:
    """Return a picture as it is seen, in grey: an array of bytes, row by row."""
    import numpy as np

    return np.asarray(upright(content).convert("L"))


def _draft_size(size: tuple[int, int], largest: int) -> tuple[int, int]:
    """Ask the decoder for no more than it must give: both sides reach the wanted ones."""
    share = min(1.0, largest / max(size))
    return max(1, int(size[0] * share)), max(1, int(size[1] * share))


def _on_white(image: Image.Image) -> Image.Image:
    if image.mode in ("RGBA", "LA", "P", "PA"):
        clear = image.convert("RGBA")
        ground = Image.new("RGBA", clear.size, "white")
        return Image.alpha_composite(ground, clear).convert("RGB")
    if image.mode in ("I;16", "I;16B", "I", "F"):
        return image.point(lambda value: value / 256).convert("L").convert("RGB")
    return image.convert("RGB")


def _jpeg(image: Image.Image, size_px: int) -> bytes:
    if max(image.size) > size_px:
        image = image.copy()
        image.thumbnail((size_px, size_px), Image.Resampling.BICUBIC, reducing_gap=2.0)
    out = io.BytesIO()
    image.save(out, "JPEG", quality=QUALITY)
    return out.getvalue()


def answer(content: bytes, sizes_px: list[int]) -> tuple[dict[str, Any], list[bytes]]:
    """Render, or say in one word and one sentence why not."""
    try:
        return render(content, sizes_px)
    except (Image.DecompressionBombError, Image.DecompressionBombWarning):
        megapixels = MAX_PIXELS // 1_000_000
        return refusal("too_many_pixels", f"The picture has more than {megapixels} megapixels."), []
    except MemoryError:
        return refusal("too_many_pixels", "The picture needs more memory than is allowed."), []
    except UnidentifiedImageError:
        return refusal("unreadable_picture", f"The file is no {KNOWN} picture."), []
    except Exception:  # any decoder may fail in its own way, and word, on hostile bytes
        return refusal("unreadable_picture", "The picture is damaged or cut short."), []


def refusal(code: str, message: str) -> dict[str, Any]:
    """Return the head of an answer that refuses."""
    return {"code": code, "message": message}


def serve(messages: BinaryIO, answers: BinaryIO) -> None:
    """Answer messages until the other side closes."""
    while line := messages.readline():
        message = json.loads(line)
        content = messages.read(message["size_bytes"])
        if "page" in message:
            head, pictures = answer_drawing(content, message["page"])
        else:
            head, pictures = answer(content, message["sizes_px"])
        head["sizes_bytes"] = [len(picture) for picture in pictures]
        answers.write(json.dumps(head).encode() + b"\n" + b"".join(pictures))
        answers.flush()


if __name__ == "__main__":
    limit_process()
    serve(sys.stdin.buffer, sys.stdout.buffer)
