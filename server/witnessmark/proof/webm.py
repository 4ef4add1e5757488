"""The places in a WebM recording that may hold words about it, by the second rule: all but what RFC 8794 and RFC 9559
need to play one track of sound, each element where and as it should be. What else stands there becomes Void.
"""

from __future__ import annotations

from typing import NamedTuple

from witnessmark.proof.containers import Words, is_opus_head, vint, void
from witnessmark.proof.sentences import say

EBML, SEGMENT, VOID = 0x1A45DFA3, 0x18538067, 0xEC
SEEKS, INFO, TRACKS, CLUSTER, CUES = 0x114D9B74, 0x1549A966, 0x1654AE6B, 0x1F43B675, 0x1C53BB6B
SEEK, TRACK, AUDIO, GROUP, CUE, CUE_PLACE = 0x4DBB, 0xAE, 0xE1, 0xA0, 0xBB, 0xB7
SEEK_ID, SEEK_POSITION, CUE_TRACK, CUE_CLUSTER = 0x53AB, 0x53AC, 0xF7, 0xF1
TRACK_NUMBER, TRACK_TYPE, CODEC, CODEC_HEAD, ENCODINGS = 0xD7, 0x83, 0x86, 0x63A2, 0x6D80
SIMPLE_BLOCK, BLOCK = 0xA3, 0xA1

# What an element holds: other elements, a whole number, a real number, frames of sound; or something that has to be
# there for players and is blank in a copy (the names of the programs, the number by which tags call the track).
HOLDS, WHOLE, REAL, FRAMES, NAME, TRACK_ID, GIVEN = range(7)
INSIDE = {
    EBML: dict.fromkeys((0x4286, 0x42F7, 0x42F2, 0x42F3, 0x4287, 0x4285), WHOLE) | {0x4282: GIVEN},
    SEGMENT: dict.fromkeys((SEEKS, INFO, TRACKS, CLUSTER, CUES), HOLDS),
    SEEKS: {SEEK: HOLDS},
    SEEK: {SEEK_ID: WHOLE, SEEK_POSITION: WHOLE},
    INFO: {0x2AD7B1: WHOLE, 0x4489: REAL, 0x4D80: NAME, 0x5741: NAME},
    TRACKS: {TRACK: HOLDS},
    TRACK: dict.fromkeys((TRACK_NUMBER, TRACK_TYPE, 0xB9, 0x88, 0x55AA, 0x9C, 0x6DE7, 0x6DF8, 0x23E383, 0x55EE), WHOLE)
    | dict.fromkeys((0xAA, 0x56AA, 0x56BB), WHOLE)
    | {0x73C5: TRACK_ID, CODEC: GIVEN, CODEC_HEAD: GIVEN, AUDIO: HOLDS},
    AUDIO: {0xB5: REAL, 0x78B5: REAL, 0x9F: WHOLE, 0x6264: WHOLE},
    CLUSTER: {0xE7: WHOLE, SIMPLE_BLOCK: FRAMES, GROUP: HOLDS},
    GROUP: {BLOCK: FRAMES, 0x9B: WHOLE, 0x75A2: WHOLE, 0xFB: WHOLE},
    CUES: {CUE: HOLDS},
    CUE: {0xB3: WHOLE, CUE_PLACE: HOLDS},
    CUE_PLACE: dict.fromkeys((CUE_TRACK, CUE_CLUSTER, 0xF0, 0xB2, 0x5378), WHOLE),
}
# Any other element stands once in what holds it.
REPEATED = {SEEK, TRACK, CLUSTER, SIMPLE_BLOCK, GROUP, 0xFB, CUE}
# What ends a cluster that does not give its length: 1043A770, 1941A469 and 1254C367 are chapters, attachments, tags.
BEHIND_A_CLUSTER = {SEEKS, INFO, TRACKS, CLUSTER, CUES, 0x1043A770, 0x1941A469, 0x1254C367}
# Their frames need no words in the file's head; Vorbis keeps its comments there.
CODECS = {b"A_OPUS", b"A_PCM/INT/LIT", b"A_PCM/FLOAT/IEEE"}
SOUND = 2
# Times and places in a recording are far below; 8 bytes of anything are not a number.
LARGEST_NUMBER = 1 << 40
WORDS = {
    0x1254C367: "proof.sound.tags", 0x1941A469: "proof.sound.attachments", VOID: "proof.sound.void",
    0x7BA9: "proof.sound.title", 0x7384: "proof.sound.file_name", 0x536E: "proof.sound.name",
    0x4D80: "proof.sound.program", 0x5741: "proof.sound.program", 0x4461: "proof.sound.date",
    0x1043A770: "proof.sound.chapters", 0x73C5: "proof.sound.number", 0x73A4: "proof.sound.number",
}  # fmt: skip


class Element(NamedTuple):
    """An element's number and place; `end` is None where it does not give its length."""

    number: int
    start: int
    content: int
    end: int | None


def places(data: bytes) -> list[Words]:
    """All places for words, in order. Raises ValueError for a file that is damaged, holds more than one track of sound,
    or is coded in a way whose words cannot be told apart."""
    return sorted(_Reader(data).read(), key=lambda place: place.start)


class _Reader:
    def __init__(self, data: bytes) -> None:
        self.data = data
        self.places: list[Words] = []
        self.segment = 0
        self.track: int | None = None
        self.kept: set[tuple[int, int]] = set()
        self.pointers: list[tuple[Element, range]] = []

    def read(self) -> list[Words]:
        at, length = 0, len(self.data)
        while at < length:
            element = self.element(at, length)
            if element is None:
                self.rest(at, length)
                break
            at = length if element.end is None else element.end
            if element.number == SEGMENT and (EBML, 0) in self.kept:
                self.segment = element.content
                self.children(SEGMENT, element.content, at, ends=element.end is not None)
                if self.data.find(EBML.to_bytes(4, "big"), at) >= 0:
                    raise ValueError(say("proof.sound.more"))
                # Whatever else stands behind is of no use to a player.
                self.rest(at, length)
                break
            if element.number == EBML and not element.start and element.end is not None:
                self.kept.add((EBML, 0))
                self.children(EBML, element.content, at)
            else:
                self.blank(element, at)
        if self.track is None:
            raise ValueError(say("proof.sound.no_sound"))
        false: list[Words] = []
        within: set[int] = set()
        for pointer, numbers in self.pointers:
            if place := self.false_pointer(pointer):
                false.append(place)
                within.update(numbers)
        return false + [place for number, place in enumerate(self.places) if number not in within]

    def element(self, at: int, end: int) -> Element | None:
        """The element at `at` within what ends at `end`; None for the beginnings of one at the end of the file."""
        length = len(self.data)
        if end == length and self.cut(at):
            return None
        number, behind = vint(self.data, at, keep_marker=True)
        size, content = vint(self.data, behind, keep_marker=False)
        if size == (1 << 7 * (content - behind)) - 1:
            if number not in (SEGMENT, CLUSTER):
                raise ValueError(say("proof.sound.no_end", at=at))
            return Element(number, at, content, None)
        if content > end or content + size > end != length:
            raise ValueError(say("proof.sound.element", at=at))
        # A recording that was broken off ends within its last element.
        return Element(number, at, content, min(content + size, end))

    def cut(self, at: int) -> bool:
        """Whether the file ends before number and length of the element at `at` do."""
        for _ in range(2):
            if at + 1 >= len(self.data) and not self.data[at : at + 1].strip(b"\0"):
                return True
            at += 9 - self.data[at].bit_length()
        return at > len(self.data)

    def children(self, parent: int, at: int, end: int, ends: bool = True) -> int:
        """Walks through what an element holds; returns where it ends."""
        seen: set[int] = set()
        while at < end:
            element = self.element(at, end)
            if element is None:
                self.rest(at, end)
                return end
            number = element.number
            if parent == CLUSTER and not ends and number in BEHIND_A_CLUSTER:
                return at
            kind = INSIDE[parent].get(number)
            at = end if element.end is None else element.end
            if number in (ENCODINGS, EBML, SEGMENT):
                # Frames coded once more, or a second recording behind the first.
                raise ValueError(say("proof.sound.mixed"))
            if kind is None or number in seen and number not in REPEATED:
                self.blank(element, at)
            elif kind == HOLDS:
                before = len(self.places)
                at = self.children(number, element.content, at, ends=element.end is not None)
                self.whole(element, at, range(before, len(self.places)))
            else:
                self.value(kind, element, at)
            seen.add(number)
        return at

    def whole(self, element: Element, end: int, inside: range) -> None:
        """An element that holds others, once they are known; `inside` are the numbers of the places in it."""
        if element.number == TRACK:
            self.check_track(element.content, end)
        elif element.number in (SEEK, CUE):
            self.pointers.append((element._replace(end=end), inside))
        else:
            self.kept.add((element.number, element.start - self.segment))

    def value(self, kind: int, element: Element, end: int) -> None:
        content = self.data[element.content : end]
        fits = True
        if kind == WHOLE:
            fits = len(content) <= 8 and int.from_bytes(content, "big") < LARGEST_NUMBER
        elif kind == REAL:
            fits = len(content) in (0, 4, 8)
        elif kind == NAME:
            self.places.append(Words(say(WORDS[element.number]), element.content, end, bytes(len(content))))
        elif kind == TRACK_ID:
            fits = 1 <= len(content) <= 8
            self.places.append(
                Words(say(WORDS[element.number]), element.content, end, (1).to_bytes(len(content) or 1, "big"))
            )
        elif kind == FRAMES and not self.plays(content):
            self.blank(element, end)
        elif element.number == 0x4282:
            fits = content in (b"webm", b"matroska")
        if not fits:
            raise ValueError(say("proof.sound.mixed"))

    def plays(self, block: bytes) -> bool:
        """Whether a block (RFC 9559, 10.1) is one of the track of sound."""
        if self.track is None:
            raise ValueError(say("proof.sound.mixed"))
        if len(block) < 4 or not block[0]:
            return False
        number, behind = vint(block, 0, keep_marker=False)
        return number == self.track and len(block) >= behind + 3

    def check_track(self, at: int, end: int) -> None:
        values = self.values(at, end)
        kind = int.from_bytes(values.get(TRACK_TYPE, b""), "big")
        if kind != SOUND or self.track is not None:
            raise ValueError(say("proof.sound.more"))
        codec, head = values.get(CODEC), values.get(CODEC_HEAD)
        if codec is not None and codec not in CODECS:
            raise ValueError(say("proof.sound.mixed"))
        if head is not None and not (codec == b"A_OPUS" and is_opus_head(head)):
            raise ValueError(say("proof.sound.mixed"))
        self.track = int.from_bytes(values.get(TRACK_NUMBER, b""), "big")

    def values(self, at: int, end: int) -> dict[int, bytes]:
        """The first content of each element between `at` and `end`, which were walked through before."""
        values: dict[int, bytes] = {}
        while at < end and (element := self.element(at, end)):
            at = end if element.end is None else element.end
            values.setdefault(element.number, self.data[element.content : at])
        return values

    def false_pointer(self, element: Element) -> Words | None:
        """The place of an entry of the index that leads to nothing which a player needs; None for any other."""
        end = element.end or element.content
        values = self.values(element.content, end)
        if element.number == CUE:
            name, position = self.cue_place(values.get(CUE_PLACE, b""))
        else:
            name, position = values.get(SEEK_ID, b""), values.get(SEEK_POSITION, b"")
        if (int.from_bytes(name, "big"), int.from_bytes(position, "big")) in self.kept:
            return None
        return Words(say("proof.sound.index"), element.start, end, void(end - element.start))

    def cue_place(self, content: bytes) -> tuple[bytes, bytes]:
        inside = _Reader(content)
        values = inside.values(0, len(content))
        number = int.from_bytes(values.get(CUE_TRACK, b""), "big")
        return (CLUSTER.to_bytes(4, "big") if number == self.track else b""), values.get(CUE_CLUSTER, b"")

    def blank(self, element: Element, end: int) -> None:
        key = WORDS.get(element.number)
        name = say(key) if key else say("proof.sound.other", number=f"{element.number:X}")
        self.places.append(Words(name, element.start, end, void(end - element.start)))

    def rest(self, at: int, end: int) -> None:
        if at < end:
            blank = void(end - at) if end - at > 1 else b"\0"
            self.places.append(Words(say("proof.sound.after_end"), at, end, blank))
