// Width and height read from the first bytes of a picture, without decoding it. As stored, before any turning.

/** Reads JPEG (ISO/IEC 10918-1 B.2.2), PNG and WebP headers; null for everything else. */
export function dimensions(buffer: ArrayBuffer): { width: number; height: number } | null {
  const bytes = new DataView(buffer)
  try {
    if (bytes.getUint16(0) === 0xffd8) return jpeg(bytes)
    if (bytes.getUint32(0) === 0x89504e47) return checked(bytes.getUint32(16), bytes.getUint32(20))
    if (bytes.getUint32(0) === 0x52494646 && bytes.getUint32(8) === 0x57454250) return webp(bytes)
  } catch (fault) {
    if (!(fault instanceof RangeError)) throw fault // cut short: its size stays unknown
  }
  return null
}

function jpeg(bytes: DataView) {
  let at = 2
  while (at < bytes.byteLength) {
    if (bytes.getUint8(at) !== 0xff) return null
    const marker = bytes.getUint8(at + 1)
    if (marker === 0xff) {
      at++
      continue
    }
    // A frame header: C0 to CF without C4, C8 and CC, which hold tables.
    if (marker >= 0xc0 && marker <= 0xcf && marker !== 0xc4 && marker !== 0xc8 && marker !== 0xcc)
      return checked(bytes.getUint16(at + 7), bytes.getUint16(at + 5))
    if (marker === 0xda || marker === 0xd9) return null
    at += 2 + bytes.getUint16(at + 2)
  }
  return null
}

function webp(bytes: DataView) {
  const form = bytes.getUint32(12)
  const small = (at: number) => bytes.getUint16(at, true) & 0x3fff
  if (form === 0x56503820) return checked(small(26), small(28))
  const wide = (at: number) => 1 + bytes.getUint16(at, true) + (bytes.getUint8(at + 2) << 16)
  return form === 0x56503858 ? checked(wide(24), wide(27)) : null
}

const checked = (width: number, height: number) =>
  width > 0 && height > 0 && width <= 100_000 && height <= 100_000 ? { width, height } : null
