"""Small recordings in the containers that phones and browsers write, made by hand so that anything can be hidden in
them, and by an encoder as phones have it."""

from __future__ import annotations

import io
import math
import struct
from array import array

import av

from witnessmark.proof.containers import ogg_checksum

THE_SOUND = b"the sound itself"
UNKNOWN = b"\x01" + b"\xff" * 7


def box(name: bytes, *inside: bytes) -> bytes:
    body = b"".join(inside)
    return struct.pack(">I", 8 + len(body)) + name + body


def an_mp4(
    *, handler: bytes = b"soun", name: bytes = b"\0", brands: bytes = b"M4A ", sizes: bytes = b"",
    made: bytes = bytes(8), in_track: bytes = b"", in_movie: bytes = b"", behind: bytes = b"",
    in_data: bytes = b"", coding: bytes = b"",
    sounds: tuple[bytes, ...] = (THE_SOUND,),
) -> bytes:  # fmt: skip
    """One track, whose samples are `sounds`; `in_data` lies behind them in the same box, where no sample is."""
    head = box(b"ftyp", b"M4A \0\0\0\0", brands)
    table = [
        coding,
        box(b"stsc", struct.pack(">5I", 0, 1, 1, len(sounds), 1)),
        box(b"stsz", struct.pack(f">{3 + len(sounds)}I", 0, 0, len(sounds), *map(len, sounds)), sizes),
        box(b"stco", struct.pack(">3I", 0, 1, len(head) + 8)),
    ]
    media = box(b"mdia", box(b"hdlr", bytes(8), handler, bytes(12), name), box(b"minf", box(b"stbl", *table)), in_track)
    movie = box(b"moov", box(b"mvhd", bytes(4), made, bytes(88)), box(b"trak", media), in_movie)
    return head + box(b"mdat", *sounds, in_data) + movie + behind


def element(number: str, body: bytes, size: bytes | None = None) -> bytes:
    return bytes.fromhex(number) + (size or b"\x01" + len(body).to_bytes(7, "big")) + body


def a_webm(
    *, in_head: bytes = b"", in_info: bytes = b"", in_track: bytes = b"", in_segment: bytes = b"", behind: bytes = b"",
    in_cluster: bytes = b"", kind: bytes = b"\x02", whole: bool = True, second: bytes = b"",
) -> bytes:  # fmt: skip
    """One track; `whole` when segment and cluster give their length, as a recorder that finished can."""
    track = element("d7", b"\1") + element("83", kind) + element("86", b"A_OPUS") + in_track
    info = element("1549a966", element("2ad7b1", b"\x0f\x42\x40") + in_info)
    frames = element("e7", b"\0") + in_cluster + element("a3", b"\x81\0\0\x80" + THE_SOUND)
    size = None if whole else UNKNOWN
    inside = info + element("1654ae6b", element("ae", track) + second) + in_segment + element("1f43b675", frames, size)
    return element("1a45dfa3", element("4282", b"webm") + in_head) + element("18538067", inside, size) + behind


def page(number: int, packet: bytes, flags: int = 0, serial: int = 1, position: int = 0) -> bytes:
    lacing = bytes([255] * (len(packet) // 255) + [len(packet) % 255])
    head = b"OggS\0" + bytes([flags]) + struct.pack("<QIII", position, serial, number, 0)
    plain = head + bytes([len(lacing)]) + lacing + packet
    return plain[:22] + struct.pack("<I", ogg_checksum(plain)) + plain[26:]


def an_ogg(*, in_head: bytes = b"", vendor: bytes = b"made", serial: int = 1, behind: bytes = b"") -> bytes:
    head = b"OpusHead\1\1\x38\1\x80\xbb\0\0\0\0\0" + in_head
    comments = b"OpusTags" + struct.pack("<I", len(vendor)) + vendor + bytes(4)
    pages = page(0, head, 2, serial) + page(1, comments, 0, serial)
    return pages + page(2, THE_SOUND, 4, serial, 960) + behind


def chunk(name: bytes, content: bytes) -> bytes:
    return name + struct.pack("<I", len(content)) + content + bytes(len(content) & 1)


def riff(name: bytes, *chunks: bytes) -> bytes:
    return chunk(b"RIFF", name + b"".join(chunks))


def a_wav(*, in_format: bytes = b"", fact: bytes = b"", more: bytes = b"", behind: bytes = b"") -> bytes:
    plain = struct.pack("<HHIIHH", 1, 1, 8000, 16000, 2, 16)
    return riff(b"WAVE", chunk(b"fmt ", plain + in_format), fact, chunk(b"data", THE_SOUND), more) + behind


def encoded(container: str, codec: str, **options: str) -> bytes:
    """A fifth of a second, as an encoder writes it into a container."""
    whole = io.BytesIO()
    samples = array("h", (int(9000 * math.sin(at * at / 9e5)) for at in range(9600)))
    frame = av.AudioFrame(format="s16", layout="mono", samples=len(samples))
    frame.planes[0].update(samples.tobytes())
    frame.rate, frame.pts = 48000, 0
    with av.open(whole, "w", format=container, options=options) as file:
        file.metadata["title"] = "A SECRET TITLE"
        stream = file.add_stream(codec, rate=48000, layout="mono")
        plain = av.AudioResampler(format=stream.codec_context.format.name, layout="mono", rate=48000)
        for part in [*plain.resample(frame), *plain.resample(None), None]:
            file.mux(stream.encode(part))
    return whole.getvalue()


def played(data: bytes) -> bytes:
    """The sound, as a player outside of this project decodes it."""
    with av.open(io.BytesIO(data)) as file:
        return b"".join(bytes(frame.planes[0]) for frame in file.decode(audio=0))
