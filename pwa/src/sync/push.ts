// Sends this phone's records in their running order. Every record gets its own answer; one that is refused blocks no other.
import {
  getSetting,
  nextEntries,
  phone,
  settleEntries,
  settleLost,
  unsettledNumbers,
  type Chain,
  type EntryRow,
  type HeadSeen,
  type Phone,
  type Receipt,
} from '../store/index.ts'
import { requestJson, notOurs, PROTOCOL, Refused } from './api.ts'
import { checkHead } from './heads.ts'
import { receiptOf } from './receipts.ts'
import { progress } from './status.ts'
import type { Pushed, Result } from './wire.ts'
import { say } from '../store/say.ts'

const BATCH = 200
/** Of one request's records as they go over the wire, where each quote of a record takes two bytes. The server takes 4 MiB. */
const LONGEST_BYTES = 2_000_000
/** Commas and opening brackets of one request's records, those in their texts counted too. The server takes 200,000. */
const MOST_VALUES = 100_000

/** Sends until nothing is left, or the server lacks something this phone does not have. Returns how many were accepted. */
export async function pushAll(beat: () => Promise<void>): Promise<number> {
  let taken = 0
  let most = BATCH
  for (;;) {
    const offered = fitting((await nextEntries(most)).map(offer))
    const rows = offered.map(({ row }) => row)
    const lost = await unsettledNumbers()
    if (rows.length === 0 && lost.length === 0) return taken
    progress.value = rows.length ? say('sync.sending', { count: rows.length }) : ''
    let answer: { pushed: Pushed; head: HeadSeen }
    try {
      answer = await sendBatch(offered, lost)
    } catch (fault) {
      if (!(fault instanceof Refused) || fault.status !== 413 || most === 1) throw fault
      most = Math.max(1, Math.floor(Math.min(most, rows.length) / 2))
      continue
    }
    const { pushed, head } = answer
    const done = await settle(rows, pushed, head)
    const passed = lost.filter((sequence) => sequence <= pushed.last_sequence)
    await settleLost(passed)
    taken += done
    await beat()
    // 'later' all the way: an earlier number is missing there and not to be had here. The next state will show it.
    if (done === 0 && passed.length === 0 && !pushed.results.some((result) => result.result === 'refused')) return taken
  }
}

/**
 * Sends one batch and checks the head that answers it, before anything is settled: each receipt has to lead up to that head,
 * so that two signatures say so should the log ever lack these records. Cut off in between, they are offered once more.
 */
export async function sendBatch(offered: Offered[], lost: number[]): Promise<{ pushed: Pushed; head: HeadSeen }> {
  const json = {
    protocol: PROTOCOL,
    device_time: new Date().toISOString(),
    announced: ((await getSetting<Chain>('chain'))?.sequence ?? 0) || 0,
    entries: offered.map(({ entry }) => entry),
    lost: lost.slice(0, 1000).map((sequence) => ({ sequence })),
  }
  const pushed = await requestJson<Pushed>('/api/sync/push', { method: 'POST', json, timeoutMs: 60_000 })
  if (!Array.isArray(pushed.results) || pushed.results.length !== json.entries.length || !pushed.head) throw notOurs()
  return { pushed, head: await checkHead(pushed.head, phone.peek() as Phone) }
}

export interface Offered {
  row: EntryRow
  entry: { bytes: string; signature: string }
}

/** A record as it goes over the wire. */
export const offer = (row: EntryRow): Offered => ({ row, entry: { bytes: new TextDecoder().decode(row.bytes), signature: row.signature } })

/** As many as fit into one request; always at least one. */
export function fitting(offered: Offered[]): Offered[] {
  let bytes = 0
  let values = 0
  const end = offered.findIndex(({ entry }, i) => {
    const wire = JSON.stringify(entry)
    bytes += new TextEncoder().encode(wire).length + 1
    values += wire.split(/[,[{]/).length
    return bytes > LONGEST_BYTES || values > MOST_VALUES || i === BATCH
  })
  return end < 0 ? offered : offered.slice(0, Math.max(1, end))
}

async function settle(rows: EntryRow[], pushed: Pushed, head: HeadSeen): Promise<number> {
  const receipts: Receipt[] = []
  const refused: { id: string; code: string; message: string; settled: boolean }[] = []
  for (const [i, row] of rows.entries()) {
    const result = pushed.results[i] as Result
    if (result.hash !== row.hash) continue // an answer about something else settles nothing
    if (result.result === 'refused') {
      // With the number counted, the server has logged the refusal; otherwise its chain stops before this record.
      const settled = row.sequence <= pushed.last_sequence && result.code !== 'fork'
      refused.push({ id: row.id, code: result.code, message: result.message, settled })
    }
    const receipt = await receiptOf(row, result, pushed, head)
    if (receipt) receipts.push(receipt)
  }
  return settleEntries({ receipts, refused })
}
