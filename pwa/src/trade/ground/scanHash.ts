// The scan hash of a picture: SHA-256 over the bytes that carry its pixels. It is equal for an original and for the copy of
// it that was cleaned of everything else, so the one can be tied to the other. As proof/pictures.py works it out.
import { sha256Hex } from './canonical.ts'

const SOI = 0xd8
const EOI = 0xd9
const SOS = 0xda
// What may stand in a clean JPEG by ITU-T T.81, B.1: frames, tables, restart intervals, scans, numbers of lines, hierarchies.
const JPEG_KEPT = new Set([SOI, EOI, SOS, 0xc4, 0xcc, 0xdb, 0xdc, 0xdd, 0xde, 0xdf])
for (let marker = 0xc0; marker < 0xd0; marker++) if (marker !== 0xc8) JPEG_KEPT.add(marker)
const PNG_PIXELS = new Set(['IDAT', 'fdAT'])
const WEBP_PIXELS = new Set(['VP8 ', 'VP8L', 'ALPH', 'ANMF'])

/** The scan hash of a JPEG, PNG or WebP in hexadecimal; null for any other file, or one that is cut off or malformed. */
export async function scanHash(file: ArrayBuffer | Uint8Array<ArrayBuffer>): Promise<string | null> {
  const bytes = file instanceof Uint8Array ? file : new Uint8Array(file)
  const pieces = pixels(bytes)
  if (!pieces) return null
  const whole = new Uint8Array(pieces.reduce((length, piece) => length + piece.length, 0))
  let at = 0
  for (const piece of pieces) {
    whole.set(piece, at)
    at += piece.length
  }
  return sha256Hex(whole)
}

function pixels(bytes: Uint8Array): Uint8Array[] | null {
  if (bytes[0] === 0xff && bytes[1] === SOI && bytes[2] === 0xff) return jpegPixels(bytes)
  if (text(bytes, 0, 8) === '\x89PNG\r\n\x1a\n') return pngPixels(bytes)
  if (text(bytes, 0, 4) === 'RIFF' && text(bytes, 8, 4) === 'WEBP') return webpPixels(bytes)
  return null
}

const text = (bytes: Uint8Array, at: number, length: number) => String.fromCharCode(...bytes.subarray(at, at + length))
const number = (bytes: Uint8Array, at: number, littleEndian: boolean) =>
  at + 4 > bytes.length ? Number.NaN : new DataView(bytes.buffer, bytes.byteOffset).getUint32(at, littleEndian)

/** All that a decoder needs from the first scan to the end of the image. */
function jpegPixels(bytes: Uint8Array): Uint8Array[] | null {
  const pieces: Uint8Array[] = []
  let at = 2
  for (;;) {
    const start = at
    while (bytes[at] === 0xff && bytes[at + 1] === 0xff) at++
    const marker = bytes[at + 1]
    if (bytes[at] !== 0xff || marker === undefined) return null
    if (marker === EOI) return pieces.length ? [...pieces, bytes.subarray(start, at + 2)] : null
    const length = ((bytes[at + 2] ?? 0) << 8) | (bytes[at + 3] ?? 0)
    let end = at + 2 + length
    if (length < 2 || end > bytes.length) return null
    if (marker === SOS) {
      const next = nextMarker(bytes, end)
      if (next === null) return null
      end = next
    }
    if ((pieces.length || marker === SOS) && JPEG_KEPT.has(marker)) pieces.push(bytes.subarray(start, end))
    at = end
  }
}

/** Inside a scan a marker is FF and anything but a stuffed zero, a restart marker or a fill byte. */
function nextMarker(bytes: Uint8Array, from: number): number | null {
  for (let at = bytes.indexOf(0xff, from); at >= 0 && at + 1 < bytes.length; at = bytes.indexOf(0xff, at + 1)) {
    const next = bytes[at + 1] as number
    if (next !== 0 && next !== 0xff && (next < 0xd0 || next > 0xd7)) return at
  }
  return null
}

function pngPixels(bytes: Uint8Array): Uint8Array[] | null {
  const pieces: Uint8Array[] = []
  for (let at = 8; ; ) {
    const length = number(bytes, at, false)
    const end = at + 12 + length
    if (!(end <= bytes.length)) return null
    const name = text(bytes, at + 4, 4)
    if (PNG_PIXELS.has(name)) pieces.push(bytes.subarray(at + 8, end - 4))
    if (name === 'IEND') return pieces
    at = end
  }
}

function webpPixels(bytes: Uint8Array): Uint8Array[] | null {
  const whole = number(bytes, 4, true) + 8
  if (!(whole <= bytes.length)) return null
  const pieces: Uint8Array[] = []
  for (let at = 12; at + 8 <= whole; ) {
    const length = number(bytes, at + 4, true)
    const end = at + 8 + length + (length & 1)
    if (end > whole + (length & 1)) return null
    if (WEBP_PIXELS.has(text(bytes, at, 4))) pieces.push(bytes.subarray(at + 8, at + 8 + length))
    at = end
  }
  return pieces.length ? pieces : null
}
