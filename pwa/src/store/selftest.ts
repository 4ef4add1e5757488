// At every start: may this browser be trusted with evidence? If not, recording is blocked, with the reason.
import { sha256Hex } from '../trade/ground/canonical.ts'
import { signal } from '@preact/signals'
import { finish, StoreFault, withDb } from './db.ts'

export interface Health {
  state: 'starting' | 'well' | 'blocked'
  reason: string
}

export const health = signal<Health>({ state: 'starting', reason: '' })

const SIZE = 64 * 1024
const KEY = 'selftest'

/** Writes 64 KiB, reads them back and hashes them, in the way a picture is kept. */
export async function selftest(): Promise<Health> {
  health.value = await examine()
  return health.value
}

async function examine(): Promise<Health> {
  if (!globalThis.isSecureContext && typeof location !== 'undefined')
    return blocked(
      'This page was not opened over a secure connection (https), so the browser gives it no camera, no signing key and no lasting store. ' +
        'Open the address that the office shows beside the QR code.',
    )
  if (!globalThis.crypto?.subtle) return blocked('This browser cannot compute hashes or sign. Open the app in an up-to-date browser.')
  if (typeof indexedDB === 'undefined') return blocked('This browser has no lasting store. Open the app in an ordinary window, not a private one.')
  try {
    const bytes = crypto.getRandomValues(new Uint8Array(SIZE)).buffer
    const wanted = await sha256Hex(bytes)
    await withDb(async (db) => {
      const tx = db.transaction('media', 'readwrite', { durability: 'strict' })
      await finish(tx, [tx.store.put({ sha256: KEY, n: 0, bytes })])
      const back = await db.get('media', [KEY, 0])
      await db.delete('media', [KEY, 0])
      if (!back || (await sha256Hex(back.bytes)) !== wanted)
        throw new StoreFault('what was written came back changed')
    })
    return { state: 'well', reason: '' }
  } catch (fault) {
    const told = fault instanceof Error ? fault.message : String(fault)
    return blocked(
      `The store on this phone does not work (${told}). Nothing can be recorded here: leave private browsing, make room, or use another browser.`,
    )
  }
}

const blocked = (reason: string): Health => ({ state: 'blocked', reason })
