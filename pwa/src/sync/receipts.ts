// Receipts that prove themselves: a record's stamp, its way up the tree, and the head over it that the server signed.
import { parse } from '../trade/ground/canonical.ts'
import { hex, type EntryRow, type HeadSeen, type Receipt } from '../store/index.ts'
import { bytesOf } from './keys.ts'
import { node } from './heads.ts'
import type { Pushed, Result } from './wire.ts'

// No tree that the server can hold is deeper.
const DEEPEST = 64

/**
 * The receipt in a result, if it is one: it names the record, its hash and its place in the log, and its way up ends at the
 * root of `head`, whose signature was checked. An older head cannot hold it, however rightly it was signed.
 */
export async function receiptOf(
  row: Pick<EntryRow, 'id' | 'hash'>,
  result: Result,
  { epoch, hashes }: Pick<Pushed, 'epoch' | 'hashes'>,
  head: HeadSeen,
): Promise<Receipt | null> {
  if (result.result !== 'stored' && result.result !== 'duplicate') return null
  if (result.id !== row.id || result.hash !== row.hash) return null
  const { position, received, stamp } = result
  if (typeof position !== 'number' || typeof received !== 'string' || typeof stamp !== 'string') return null
  try {
    const stamped = parse(stamp) as { entry?: unknown; position?: unknown }
    if (stamped.entry !== row.hash || stamped.position !== position) return null
  } catch {
    return null
  }
  const path = pathOf(result.path, hashes)
  if (!path || !(await isIn(head, position, stamp, path))) return null
  const { bytes, signature } = head
  return { id: row.id, hash: row.hash, position, received, stamp, epoch, path, head: { bytes, signature } }
}

/** The hashes that the places of a path stand for; null where one stands for none. */
export function pathOf(places: unknown, hashes: unknown): string[] | null {
  if (!Array.isArray(places) || !Array.isArray(hashes) || places.length > DEEPEST) return null
  const path = places.map((place) => (hashes as unknown[])[place as number])
  return path.every((hash): hash is string => typeof hash === 'string' && /^[0-9a-f]{64}$/.test(hash)) ? path : null
}

/** Whether the log under `head` holds `stamp` at `position`, from 1, by its way up (RFC 9162, 2.1.3.2). */
export async function isIn(head: Pick<HeadSeen, 'size' | 'root'>, position: number, stamp: string, path: string[]): Promise<boolean> {
  if (!Number.isInteger(position) || position < 1 || position > head.size) return false
  let at = position - 1
  let last = head.size - 1
  let hash = await leafOf(stamp)
  for (const sibling of path) {
    if (last === 0) return false
    if (at % 2 === 1 || at === last) {
      hash = await node(sibling, hash)
      while (at % 2 === 0 && at !== 0) {
        at = Math.floor(at / 2)
        last = Math.floor(last / 2)
      }
    } else hash = await node(hash, sibling)
    at = Math.floor(at / 2)
    last = Math.floor(last / 2)
  }
  return last === 0 && hash === head.root
}

async function leafOf(stamp: string): Promise<string> {
  const bytes = bytesOf(stamp)
  const leaf = new Uint8Array(bytes.length + 1)
  leaf.set(bytes, 1)
  return hex(new Uint8Array(await crypto.subtle.digest('SHA-256', leaf)))
}
