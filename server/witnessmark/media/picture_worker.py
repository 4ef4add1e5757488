"""The process that looks at pictures, fenced in: little memory, little time, no more than it needs.

Decoders are where a hostile file bites, so they never run in the server. One line of JSON in, one line out:
  {"path": "...", "into": {"1600": "...", "320": "..."}}  ->  {"facts": {...}} or {"fault": "sentence", "facts": {...}}
It stands for many pictures; when one kills it, the next gets a new one. Started by media.previews.
"""

from __future__ import annotations

import json
import os
import resource
import sys
import warnings
from pathlib import Path

from PIL import Image, ImageOps

from witnessmark.media import facts

MEMORY = 1200 << 20  # bytes of address space: a 12 Mpx JPEG needs 80 MB, 100 Mpx of PNG fit, a bomb does not
CPU_SECONDS = 20  # for one picture
MOST_PIXELS = 100_000_000
FORMATS = ("JPEG", "PNG", "WEBP", "TIFF", "AVIF")  # "JPEG" opens multi-picture files as well
QUALITY = {1600: 82, 640: 80, 320: 78}


def fence() -> None:
    """Limits that hold for the rest of this process."""
    resource.setrlimit(resource.RLIMIT_AS, (MEMORY, MEMORY))
    resource.setrlimit(resource.RLIMIT_CORE, (0, 0))
    os.nice(10)  # people who wait for an answer come first
    Image.MAX_IMAGE_PIXELS = MOST_PIXELS
    warnings.simplefilter("error", Image.DecompressionBombWarning)


def look(path: str, into: dict[str, str]) -> dict:
    """Facts and previews of one picture; what went wrong is named, with its detail, never raised."""
    facts_read: dict = {}
    try:
        data = Path(path).read_bytes()
        if not data:
            return {"facts": facts_read, "fault": ["empty", ""]}
        with Image.open(path, formats=FORMATS) as picture:
            if picture.width * picture.height > MOST_PIXELS:
                raise Image.DecompressionBombError
            facts_read = facts.of_picture(picture, data)
            del data
            made = draw(picture, max(int(edge) for edge in into))
        for edge in sorted((int(edge) for edge in into), reverse=True):
            made.thumbnail((edge, edge))
            made.save(into[str(edge)], "JPEG", quality=QUALITY[edge], optimize=edge < 1000)
        facts_read["preview"] = list(made.size)
        return {"facts": facts_read}
    except (Image.DecompressionBombError, Image.DecompressionBombWarning):
        fault = ["too_large", str(MOST_PIXELS // 1_000_000)]
    except MemoryError:
        fault = ["too_much_memory", ""]
    except Image.UnidentifiedImageError:
        fault = ["unknown", ""]
    except Exception as raised:  # a decoder may raise anything at all; the picture is evidence all the same
        fault = ["cut_off", f"{type(raised).__name__}: {str(raised)[:120]}"]
    return {"facts": facts_read, "fault": fault}


def draw(picture: Image.Image, edge: int) -> Image.Image:
    """The picture upright, at most `edge` points long, plain RGB; of its metadata only the colour profile."""
    profile = picture.info.get("icc_profile")
    picture.draft("RGB", (edge, edge))
    picture.load()
    if picture.mode.startswith(("I", "F")):
        picture = picture.convert("I").point(lambda value: value * (1 / 256)).convert("L")
    upright = picture.copy() if picture.mode in ("RGB", "L") else _on_white(picture)
    upright.thumbnail((edge, edge))
    if orientation := picture.getexif().get(0x0112):
        exif = Image.Exif()
        exif[0x0112] = orientation
        upright.info["exif"] = exif.tobytes()
        upright = ImageOps.exif_transpose(upright)
    plain = upright.convert("RGB")
    # Pillow carries a JPEG's comment over to what is made of it.
    plain.info = {"icc_profile": profile} if profile and picture.mode == "RGB" else {}
    return plain


def _on_white(picture: Image.Image) -> Image.Image:
    if picture.has_transparency_data:
        picture = picture.convert("RGBA")
        ground = Image.new("RGB", picture.size, "white")
        ground.paste(picture, mask=picture.getchannel("A"))
        return ground
    return picture.convert("RGB")


def grant_time() -> None:
    """Another CPU_SECONDS of processor time, counted from now."""
    used = resource.getrusage(resource.RUSAGE_SELF)
    soft = int(used.ru_utime + used.ru_stime) + CPU_SECONDS + 1
    resource.setrlimit(resource.RLIMIT_CPU, (soft, resource.RLIM_INFINITY))


def main() -> None:
    fence()
    for line in sys.stdin:
        grant_time()
        wish = json.loads(line)
        print(json.dumps(look(wish["path"], wish["into"])), flush=True)


if __name__ == "__main__":
    main()
