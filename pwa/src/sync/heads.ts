// The log's signed head: the next one must only add to the last one seen (RFC 9162, 2.1.4.2).
import { parse } from '../trade/ground/canonical.ts'
import { hex, keepConflict, keepHead, keepOddHead, lastHead, unhex, type HeadSeen, type Phone } from '../store/index.ts'
import { requestJson } from './api.ts'
import { bytesOf, verify } from './keys.ts'
import type { Proof, SignedHead } from './wire.ts'
import { say } from '../store/say.ts'

/** The server's log is not what it signed before. The message is meant to be read out to the office. */
export class LogChanged extends Error {}

/**
 * Checks a head against the last one believed, of whatever epoch, and keeps it. Where it does not hold all that the last one
 * held, both are kept as evidence and the alarm is raised until they are noted in the record. Under the same epoch nothing
 * more is sent then: throws LogChanged. A new epoch says that the log was put back, and what this phone has is offered again.
 * Returns the head as it was read.
 */
export async function checkHead(head: SignedHead, phone: Phone): Promise<HeadSeen> {
  const seen = await read(head, phone)
  const last = await lastHead(phone.epoch)
  if (!last) {
    await keepHead(seen)
    return seen
  }
  const putBack = last.epoch !== seen.epoch
  if (!(await onlyGrew(last, seen))) {
    const words = say(putBack ? 'sync.log_put_back' : 'sync.log_changed', { count: last.size })
    await keepOddHead(seen, last)
    await keepConflict(last, seen, words)
    if (!putBack) throw new LogChanged(words)
    await keepHead(seen)
    return seen
  }
  if (putBack || seen.size > last.size) await keepHead(seen)
  return seen
}

async function read({ bytes, signature }: SignedHead, phone: Phone): Promise<HeadSeen> {
  const forged = new LogChanged(say('sync.forged'))
  if (!(await verify(phone.serverKey, signature, bytesOf(bytes)))) throw forged
  let head: Record<string, unknown>
  try {
    head = parse(bytes) as Record<string, unknown>
  } catch {
    throw forged
  }
  const { epoch, root, server, size, workshop } = head
  if (server !== phone.server || epoch !== phone.epoch || workshop !== phone.workshop.id) throw forged
  if (typeof size !== 'number' || typeof root !== 'string' || root.length !== 64) throw forged
  return { epoch: phone.epoch, bytes, signature, size, root }
}

async function onlyGrew(last: HeadSeen, seen: HeadSeen): Promise<boolean> {
  if (seen.size < last.size) return false
  if (seen.size === last.size) return seen.root === last.root
  if (last.size === 0) return true
  const { proof } = await requestJson<Proof>(`/api/sync/consistency?from=${last.size}&to=${seen.size}`)
  return Array.isArray(proof) && onlyAdds(last.size, seen.size, last.root, seen.root, proof)
}

/** Whether `proof` shows that the tree of `newer` leaves begins with that of `older`; all hashes in hexadecimal. */
export async function onlyAdds(older: number, newer: number, olderRoot: string, newerRoot: string, proof: string[]): Promise<boolean> {
  if (older <= 0 || older > newer) return false
  if (older === newer) return proof.length === 0 && olderRoot === newerRoot
  const path = [...proof]
  // A tree of a power of two is a node of the newer tree itself: its root begins the path.
  if (Number.isInteger(Math.log2(older))) path.unshift(olderRoot)
  let olderNode = path.shift()
  if (olderNode === undefined) return false
  let newerNode = olderNode
  let first = older - 1
  let last = newer - 1
  const up = () => {
    first = Math.floor(first / 2)
    last = Math.floor(last / 2)
  }
  while (first % 2 === 1) up()
  for (const step of path) {
    if (last === 0) return false
    if (first % 2 === 1 || first === last) {
      olderNode = await node(step, olderNode)
      newerNode = await node(step, newerNode)
      while (first !== 0 && first % 2 === 0) up()
    } else {
      newerNode = await node(newerNode, step)
    }
    up()
  }
  return last === 0 && olderNode === olderRoot && newerNode === newerRoot
}

/** The hash over two nodes of the tree, in hexadecimal. */
export async function node(left: string, right: string): Promise<string> {
  const bytes = new Uint8Array(65)
  bytes[0] = 1
  bytes.set(unhex(left), 1)
  bytes.set(unhex(right), 33)
  return hex(new Uint8Array(await crypto.subtle.digest('SHA-256', bytes)))
}
