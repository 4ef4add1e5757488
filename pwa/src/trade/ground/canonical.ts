// Canonical JSON text (RFC 8785, restricted to whole numbers): the twin of proof/canonical.py on the server.
// Decimals travel as text, so a reading keeps the digits that were typed.

export type Plain = null | boolean | number | string | Plain[] | { [key: string]: Plain }

const DEEPEST = 64
// With the u flag this matches only a half of a character that stands alone.
const HALF_A_CHARACTER = /[\ud800-\udfff]/u

/** The canonical text of `value`. Throws for a fraction, a number beyond 2^53 - 1, half a character, or a foreign type. */
export function canonical(value: unknown): string {
  return write(value, 0)
}

/** The canonical text as UTF-8 bytes: what is hashed and signed. */
export function canonicalBytes(value: unknown): Uint8Array<ArrayBuffer> {
  return new TextEncoder().encode(canonical(value))
}

/** The value written in `text`. Throws unless `text` is exactly what `canonical` would write. */
export function parse(text: string): Plain {
  const value = JSON.parse(text) as Plain
  if (canonical(value) !== text) throw new Error('not canonical: written in another way than RFC 8785 asks')
  return value
}

/** SHA-256 as 64 lower-case hex digits. */
export async function sha256Hex(bytes: BufferSource): Promise<string> {
  const digest = new Uint8Array(await crypto.subtle.digest('SHA-256', bytes))
  return Array.from(digest, (byte) => byte.toString(16).padStart(2, '0')).join('')
}

function write(value: unknown, depth: number): string {
  if (depth > DEEPEST) throw new Error(`nested deeper than ${DEEPEST}`)
  if (value === null || value === true || value === false) return String(value)
  if (typeof value === 'string') return text(value)
  if (typeof value === 'number') {
    if (!Number.isSafeInteger(value)) throw new Error(`${value} is not a whole number within 2^53 - 1; write it as text`)
    return String(value)
  }
  if (Array.isArray(value)) return `[${value.map((item) => write(item, depth + 1)).join(',')}]`
  if (typeof value === 'object' && isPlain(value)) {
    // sort() without a rule compares UTF-16 code units, which is the order that RFC 8785 3.2.3 asks for.
    const keys = Object.keys(value).sort()
    return `{${keys.map((key) => `${text(key)}:${write(value[key], depth + 1)}`).join(',')}}`
  }
  throw new Error(`a ${typeof value} has no canonical form`)
}

function text(value: string): string {
  if (HALF_A_CHARACTER.test(value)) throw new Error('text holds half a character')
  // For whole text JSON.stringify escapes exactly as RFC 8785 3.2.2.2 asks (ECMAScript 2019 and later).
  return JSON.stringify(value)
}

function isPlain(value: object): value is Record<string, unknown> {
  const prototype = Object.getPrototypeOf(value)
  return prototype === null || Object.getPrototypeOf(prototype) === null
}
