// Originals and previews, always fetched by their own key: bytes never travel with a list.
import { announceChange } from './changes.ts'
import { withDb, type Store } from './db.ts'
import type { MediaFacts, PreviewRow } from './types.ts'

/** The bytes of an original put together, or null when they are not all on this phone. */
export async function readMedia(db: Store, sha256: string): Promise<ArrayBuffer | null> {
  const facts = await db.get('originals', sha256)
  if (!facts || facts.chunks === 0) return null
  const parts: ArrayBuffer[] = []
  for (let n = 0; n < facts.chunks; n++) {
    const chunk = await db.get('media', [sha256, n])
    if (!chunk) return null
    parts.push(chunk.bytes)
  }
  if (parts.length === 1) return parts[0] as ArrayBuffer
  const whole = new Uint8Array(parts.reduce((sum, part) => sum + part.byteLength, 0))
  let at = 0
  for (const part of parts) {
    whole.set(new Uint8Array(part), at)
    at += part.byteLength
  }
  return whole.buffer
}

/** The original as it was taken, or null when it is not on this phone. */
export async function originalOf(sha256: string): Promise<Blob | null> {
  const [bytes, facts] = await withDb(async (db) => [await readMedia(db, sha256), await db.get('originals', sha256)] as const)
  return bytes && facts ? new Blob([bytes], { type: facts.type }) : null
}

export async function mediaFacts(sha256: string): Promise<MediaFacts | null> {
  return (await withDb((db) => db.get('originals', sha256))) ?? null
}

/** Bytes `from` up to `to` of an original, read chunk by chunk; null when they are not on this phone. */
export async function sliceOf(sha256: string, from: number, to: number): Promise<ArrayBuffer | null> {
  return withDb(async (db) => {
    const facts = await db.get('originals', sha256)
    if (!facts || facts.chunks === 0) return null
    const out = new Uint8Array(to - from)
    let start = 0
    for (let n = 0; n < facts.chunks && start < to; n++) {
      const bytes = (await db.get('media', [sha256, n]))?.bytes
      if (!bytes) return null
      const end = start + bytes.byteLength
      if (end > from) {
        const part = new Uint8Array(bytes, Math.max(0, from - start), Math.min(end, to) - Math.max(start, from))
        out.set(part, Math.max(start, from) - from)
      }
      start = end
    }
    return out.buffer
  })
}

/** The preview in the wanted size, else in the other one, else null. */
export async function previewOf(sha256: string, size: 'small' | 'large'): Promise<Blob | null> {
  const row = await withDb((db) => db.get('previews', sha256))
  const bytes = size === 'small' ? (row?.small ?? row?.large) : (row?.large ?? row?.small)
  return bytes ? new Blob([bytes], { type: 'image/jpeg' }) : null
}

export async function previewRow(sha256: string): Promise<PreviewRow | null> {
  return (await withDb((db) => db.get('previews', sha256))) ?? null
}

/** Stores what is given of a preview beside what is there; `send` puts it into the outbox as this phone's provisional one. */
export async function putPreview(sha256: string, given: Partial<PreviewRow>, send = false): Promise<void> {
  await withDb(async (db) => {
    const tx = db.transaction(['previews', 'outbox', 'originals'], 'readwrite')
    const row = (await tx.objectStore('previews').get(sha256)) ?? { sha256, small: null, large: null, failed: false }
    await tx.objectStore('previews').put({ ...row, ...given })
    const facts = await tx.objectStore('originals').get(sha256)
    if (send && given.large && facts) {
      const order = (await tx.objectStore('outbox').get(`media:${sha256}`))?.order ?? 0
      await tx.objectStore('outbox').put({ key: `preview:${sha256}`, schema: 1, sort: 'preview', id: sha256, role: facts.role, order, ready: 1 })
    }
    await tx.done
  })
  await announceChange()
}

/** This phone's own pictures that have no preview yet: making them was interrupted, or has not begun. */
export async function withoutPreview(): Promise<string[]> {
  return withDb(async (db) => {
    const made = new Set(await db.getAllKeys('previews'))
    const facts = await db.getAll('originals')
    return facts.filter((f) => f.role === 'original' && f.chunks > 0 && !made.has(f.sha256)).map((f) => f.sha256)
  })
}
