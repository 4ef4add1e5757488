// Signatures checked with the keys this phone knows: the server's from joining, the phones' from the log itself.
import { hex, unbase64 } from '../store/index.ts'

const known = new Map<string, Promise<CryptoKey>>()

/** Whether `signature` (raw r and s in base64) over `bytes` was made with the key in `spki` (DER in base64). */
export async function verify(spki: string, signature: string, bytes: Uint8Array): Promise<boolean> {
  try {
    let key = known.get(spki)
    if (!key) {
      key = crypto.subtle.importKey('spki', unbase64(spki), { name: 'ECDSA', namedCurve: 'P-256' }, false, ['verify'])
      known.set(spki, key)
    }
    const raw = unbase64(signature)
    return await crypto.subtle.verify({ name: 'ECDSA', hash: 'SHA-256' }, await key, raw, bytes as BufferSource)
  } catch {
    return false // a key or signature that cannot even be read fits nothing
  }
}

/** The name of a server: the first 32 hexadecimal digits of the SHA-256 of its key. */
export async function serverId(spki: string): Promise<string> {
  return hex(new Uint8Array(await crypto.subtle.digest('SHA-256', unbase64(spki)))).slice(0, 32)
}

export const bytesOf = (text: string) => new TextEncoder().encode(text)
