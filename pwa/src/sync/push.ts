// Sends this phone's records in their running order. Every record gets its own answer; one that is refused blocks no other.
import { parse } from '../trade/ground/canonical.ts'
import {
  getSetting,
  nextEntries,
  phone,
  settleEntries,
  settleLost,
  unsettledNumbers,
  type Chain,
  type EntryRow,
  type Phone,
  type Receipt,
} from '../store/index.ts'
import { requestJson, notOurs, PROTOCOL, Refused } from './api.ts'
import { checkHead } from './heads.ts'
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
    const announced = ((await getSetting<Chain>('chain'))?.sequence ?? 0) || 0
    const json = {
      protocol: PROTOCOL,
      device_time: new Date().toISOString(),
      announced,
      entries: offered.map(({ entry }) => entry),
      lost: lost.slice(0, 1000).map((sequence) => ({ sequence })),
    }
    let pushed: Pushed
    try {
      pushed = await requestJson<Pushed>('/api/sync/push', { method: 'POST', json, timeoutMs: 60_000 })
    } catch (fault) {
      if (!(fault instanceof Refused) || fault.status !== 413 || most === 1) throw fault
      most = Math.max(1, Math.floor(Math.min(most, rows.length) / 2))
      continue
    }
    if (!Array.isArray(pushed.results) || pushed.results.length !== rows.length || !pushed.head) throw notOurs()
    // First the head over what is acknowledged here is checked and kept: should the log ever lack these records, two
    // signatures say so. Cut off in between, the same records are offered once more.
    await checkHead(pushed.head, phone.peek() as Phone)
    const done = await settle(rows, pushed)
    const passed = lost.filter((sequence) => sequence <= pushed.last_sequence)
    await settleLost(passed)
    taken += done
    await beat()
    // 'later' all the way: an earlier number is missing there and not to be had here. The next state will show it.
    if (done === 0 && passed.length === 0 && !pushed.results.some((result) => result.result === 'refused')) return taken
  }
}

interface Offered {
  row: EntryRow
  entry: { bytes: string; signature: string }
}

const offer = (row: EntryRow): Offered => ({ row, entry: { bytes: new TextDecoder().decode(row.bytes), signature: row.signature } })

/** As many as fit into one request; always at least one. */
function fitting(offered: Offered[]): Offered[] {
  let bytes = 0
  let values = 0
  const end = offered.findIndex(({ entry }) => {
    const wire = JSON.stringify(entry)
    bytes += new TextEncoder().encode(wire).length + 1
    values += wire.split(/[,[{]/).length
    return bytes > LONGEST_BYTES || values > MOST_VALUES
  })
  return end < 0 ? offered : offered.slice(0, Math.max(1, end))
}

async function settle(rows: EntryRow[], pushed: Pushed): Promise<number> {
  const receipts: Receipt[] = []
  const refused: { id: string; code: string; message: string; settled: boolean }[] = []
  rows.forEach((row, i) => {
    const result = pushed.results[i] as Result
    if (result.hash !== row.hash) return // an answer about something else settles nothing
    if (result.result === 'refused') {
      // With the number counted, the server has logged the refusal; otherwise its chain stops before this record.
      const settled = row.sequence <= pushed.last_sequence && result.code !== 'fork'
      refused.push({ id: row.id, code: result.code, message: result.message, settled })
    }
    const receipt = receiptOf(row, result, pushed.epoch)
    if (receipt) receipts.push(receipt)
  })
  return settleEntries({ receipts, refused })
}

/** The receipt in a result, if it is one: it names the record, its hash and its place in the log. */
export function receiptOf(row: Pick<EntryRow, 'id' | 'hash'>, result: Result, epoch: string): Receipt | null {
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
  return { id: row.id, hash: row.hash, position, received, stamp, epoch }
}
