// At every start: may this browser be trusted with evidence? If not, recording is blocked, with the reason.
import { sha256Hex } from '../trade/ground/canonical.ts'
import { signal } from '@preact/signals'
import { allOrNothing, StoreFault, withDb } from './db.ts'
import { say } from './say.ts'

export interface Health {
  state: 'starting' | 'well' | 'blocked'
  reason: string
}

export const health = signal<Health>({ state: 'starting', reason: '' })

const SIZE = 64 * 1024
const KEY = 'selftest'

/** Writes 64 KiB, reads them back and hashes them, in the way a picture is stored. */
export async function selftest(): Promise<Health> {
  health.value = await examine()
  return health.value
}

async function examine(): Promise<Health> {
  if (!globalThis.isSecureContext && typeof location !== 'undefined')
    return blocked(say('selftest.not_secure'))
  if (!globalThis.crypto?.subtle) return blocked(say('selftest.no_crypto'))
  if (typeof indexedDB === 'undefined') return blocked(say('selftest.no_store'))
  try {
    const bytes = crypto.getRandomValues(new Uint8Array(SIZE)).buffer
    const wanted = await sha256Hex(bytes)
    await withDb(async (db) => {
      const tx = db.transaction('media', 'readwrite', { durability: 'strict' })
      await allOrNothing(tx, (requests) => requests.push(tx.store.put({ sha256: KEY, n: 0, bytes })))
      const back = await db.get('media', [KEY, 0])
      await db.delete('media', [KEY, 0])
      if (!back || (await sha256Hex(back.bytes)) !== wanted)
        throw new StoreFault(say('selftest.changed'))
    })
    return { state: 'well', reason: '' }
  } catch (fault) {
    const why = fault instanceof Error ? fault.message : String(fault)
    return blocked(say('selftest.broken', { why }))
  }
}

const blocked = (reason: string): Health => ({ state: 'blocked', reason })
