// Announces to every open tab that the store changed, and keeps the counts of what waits.
import { signal } from '@preact/signals'
import { withDb } from './db.ts'

export interface Waiting {
  records: number
  pictures: number
  sounds: number
  attention: number
}

/** Goes up after every write, in this tab or another. */
export const changed = signal(0)

/** What this phone still holds alone. Only a receipt lowers it; `attention` counts what the server refused. */
export const waiting = signal<Waiting>({ records: 0, pictures: 0, sounds: 0, attention: 0 })

const channel = typeof BroadcastChannel === 'undefined' ? null : new BroadcastChannel('witnessmark-store')
// In Node an open channel would keep the process alive.
;(channel as { unref?: () => void } | null)?.unref?.()
channel?.addEventListener('message', () => void refresh())

/** Counts from the store, never from memory, so that the screen shows what a restart would find. */
export async function countWaiting(): Promise<Waiting> {
  return withDb(async (db) => {
    const [rows, attention] = await Promise.all([db.getAll('outbox'), db.count('shelf')])
    const count = { records: 0, pictures: 0, sounds: 0, attention }
    for (const row of rows) {
      if (row.sort === 'entry') count.records++
      else if (row.sort === 'media' && row.role === 'audio') count.sounds++
      else if (row.sort === 'media') count.pictures++
    }
    return count
  })
}

async function refresh(): Promise<void> {
  waiting.value = await countWaiting()
  changed.value++
}

/** Called after every completed write of this room. */
export async function announceChange(): Promise<void> {
  channel?.postMessage(0)
  await refresh()
}
