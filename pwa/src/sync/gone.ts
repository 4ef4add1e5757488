// What the server had confirmed and its log no longer holds: found by asking, and offered again.
import {
  conflict,
  keepGone,
  lastHead,
  ownReceipts,
  settleEntries,
  type Confirmed,
  type HeadSeen,
  type Receipt,
} from '../store/index.ts'
import { requestJson } from './api.ts'
import { fitting, offer, sendBatch } from './push.ts'
import { isIn, pathOf, receiptOf } from './receipts.ts'
import type { Inclusion, Result } from './wire.ts'

/** The server gives proofs for this many records in one answer. */
const AT_ONCE = 500

/**
 * While a difference of the log stands: asks for every record that was confirmed to this phone whether the log as it is now
 * still holds it there. Under a new epoch what it does not is offered again, for it may hold it elsewhere. Keeps the numbers
 * of the rest. Asks once for a difference; without signal it asks again at the next run.
 */
export async function findGone(): Promise<void> {
  const standing = conflict.peek()
  if (!standing || standing.gone) return
  const { before, after } = standing
  // Under a new epoch the log has gone on, and what it lacked at its end was sent again. Under the same one nothing was.
  const putBack = before.epoch !== after.epoch
  const head = putBack ? ((await lastHead(after.epoch)) ?? after) : after
  const missing = await notIn(head, await ownReceipts())
  await keepGone(standing, putBack ? await offerElsewhere(missing) : missing.map(({ row }) => row.sequence))
}

async function notIn(head: HeadSeen, confirmed: Confirmed[]): Promise<Confirmed[]> {
  const missing = confirmed.filter(({ receipt }) => receipt.position > head.size)
  const inside = confirmed.filter(({ receipt }) => receipt.position <= head.size)
  for (let from = 0; from < inside.length; from += AT_ONCE) {
    const some = inside.slice(from, from + AT_ONCE)
    const json = { size: head.size, positions: some.map(({ receipt }) => receipt.position) }
    const proof = await requestJson<Inclusion>('/api/sync/inclusion', { method: 'POST', json })
    for (const [i, { row, receipt }] of some.entries()) {
      const path = pathOf(proof.paths?.[i], proof.hashes)
      if (!path || !(await isIn(head, receipt.position, receipt.stamp, path))) missing.push({ row, receipt })
    }
  }
  return missing
}

/** Offers records again that the log does not hold where it did; returns the running numbers of those it does not take. */
async function offerElsewhere(missing: Confirmed[]): Promise<number[]> {
  let rest = missing.map(({ row }) => row)
  const settled = new Set<string>()
  while (rest.length) {
    const offered = fitting(rest.map(offer))
    rest = rest.slice(offered.length)
    const { pushed, head } = await sendBatch(offered, [])
    const receipts: Receipt[] = []
    for (const [i, { row }] of offered.entries()) {
      const receipt = await receiptOf(row, pushed.results[i] as Result, pushed, head)
      if (receipt) receipts.push(receipt)
    }
    await settleEntries({ receipts, refused: [] })
    for (const { id } of receipts) settled.add(id)
  }
  return missing.filter(({ row }) => !settled.has(row.id)).map(({ row }) => row.sequence)
}
