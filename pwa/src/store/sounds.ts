// Sound while it is recorded: each second is in the store before the next is heard.
import { withDb } from './db.ts'
import type { SoundFacts } from './types.ts'

export async function beginSound(facts: SoundFacts): Promise<void> {
  await withDb((db) => db.put('recordings', facts))
}

/** Adds chunk `n` and the time recorded so far, in one transaction. */
export async function addSound(facts: SoundFacts, n: number, bytes: ArrayBuffer): Promise<void> {
  await withDb(async (db) => {
    const tx = db.transaction(['recordings', 'sound'], 'readwrite')
    await Promise.all([
      tx.objectStore('sound').put({ id: facts.id, n, bytes }),
      tx.objectStore('recordings').put({ ...facts, chunks: n + 1 }),
      tx.done,
    ])
  })
}

/** The chunks of a recording put together in order; null when nothing was heard or its beginning is missing. */
export async function joinSound(id: string): Promise<ArrayBuffer | null> {
  const chunks = await withDb((db) => db.getAll('sound', IDBKeyRange.bound([id, 0], [id, Number.MAX_SAFE_INTEGER])))
  if (chunks[0]?.n !== 0) return null
  return new Blob(chunks.map((chunk) => chunk.bytes)).arrayBuffer()
}

export async function dropSound(id: string): Promise<void> {
  await withDb(async (db) => {
    const tx = db.transaction(['recordings', 'sound'], 'readwrite')
    await tx.objectStore('recordings').delete(id)
    await tx.objectStore('sound').delete(IDBKeyRange.bound([id, 0], [id, Number.MAX_SAFE_INTEGER]))
    await tx.done
  })
}

export async function soundsLeft(): Promise<SoundFacts[]> {
  return withDb((db) => db.getAll('recordings'))
}
