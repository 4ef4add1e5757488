// crypto as a page sees it, without the threads behind it: what is ready when depends on the schedule alone.
import { createHash, createPrivateKey, createPublicKey, generateKeyPairSync, pbkdf2Sync, sign, verify, type KeyObject } from 'node:crypto'
import { later } from './turns.ts'

/** A key as the store keeps it: plain data, since structured clones of real keys need those threads too. */
interface PlainKey {
  sort: 'private' | 'public' | 'password'
  der: Uint8Array
}

const opened = new Map<string, KeyObject>()

function keyObject({ sort, der }: PlainKey): KeyObject {
  const name = Buffer.from(der).toString('base64')
  let key = opened.get(name)
  if (!key) {
    const given = { key: Buffer.from(der), format: 'der' } as const
    key = sort === 'private' ? createPrivateKey({ ...given, type: 'pkcs8' }) : createPublicKey({ ...given, type: 'spki' })
    opened.set(name, key)
  }
  return key
}

const bytesOf = (data: BufferSource) => (ArrayBuffer.isView(data) ? new Uint8Array(data.buffer, data.byteOffset, data.byteLength) : new Uint8Array(data))
const buffer = (bytes: Uint8Array): ArrayBuffer => bytes.slice().buffer as ArrayBuffer

export const subtle = {
  digest: (_name: string, data: BufferSource) => later(buffer(createHash('sha256').update(bytesOf(data)).digest())),
  generateKey() {
    const pair = generateKeyPairSync('ec', { namedCurve: 'P-256' })
    const privateKey: PlainKey = { sort: 'private', der: pair.privateKey.export({ format: 'der', type: 'pkcs8' }) }
    const publicKey: PlainKey = { sort: 'public', der: pair.publicKey.export({ format: 'der', type: 'spki' }) }
    return later({ privateKey, publicKey })
  },
  exportKey: (_format: string, { der }: PlainKey) => later(buffer(der)),
  importKey: (format: string, bytes: BufferSource) => later<PlainKey>({ sort: format === 'raw' ? 'password' : 'public', der: bytesOf(bytes).slice() }),
  sign: (_name: unknown, key: PlainKey, data: BufferSource) =>
    later(buffer(sign('sha256', bytesOf(data), { key: keyObject(key), dsaEncoding: 'ieee-p1363' }))),
  verify: (_name: unknown, key: PlainKey, signature: BufferSource, data: BufferSource) =>
    later(verify('sha256', bytesOf(data), { key: keyObject(key), dsaEncoding: 'ieee-p1363' }, bytesOf(signature))),
  deriveBits: ({ salt, iterations }: { salt: BufferSource; iterations: number }, { der }: PlainKey, bits: number) =>
    later(buffer(pbkdf2Sync(der, bytesOf(salt), iterations, bits / 8, 'sha256'))),
}
