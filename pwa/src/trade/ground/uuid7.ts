// Entry identifiers: UUID version 7 (RFC 9562 section 5.7), made at capture, so that they sort by the time of making.

/** The identifier of `milliseconds` (Unix time) and ten random bytes: 12 bits for rand_a, 62 bits for rand_b. */
export function uuid7From(milliseconds: number, random: Uint8Array): string {
  const bytes = new Uint8Array(16)
  let rest = milliseconds
  for (let at = 5; at >= 0; at--) {
    bytes[at] = rest % 256
    rest = Math.floor(rest / 256)
  }
  bytes.set(random.subarray(0, 10), 6)
  bytes[6] = 0x70 | (bytes[6]! & 0x0f)
  bytes[8] = 0x80 | (bytes[8]! & 0x3f)
  const hex = Array.from(bytes, (byte) => byte.toString(16).padStart(2, '0')).join('')
  return [hex.slice(0, 8), hex.slice(8, 12), hex.slice(12, 16), hex.slice(16, 20), hex.slice(20)].join('-')
}

/** A new identifier. */
export function uuid7(now: number = Date.now()): string {
  return uuid7From(now, crypto.getRandomValues(new Uint8Array(10)))
}

