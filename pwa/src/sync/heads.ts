// The log's signed head: the next one must only add to the last one seen (RFC 9162, 2.1.4.2).
import { parse } from '../trade/ground/canonical.ts'
import { headSeen, hex, keepHead, unhex, type HeadSeen, type Phone } from '../store/index.ts'
import { askFor } from './api.ts'
import { bytesOf, verify } from './keys.ts'
import type { Proof, SignedHead } from './wire.ts'

/** The server's log is not what it signed before. The message is meant to be read aloud to the office. */
export class LogChanged extends Error {}

const KEEP = 'Nothing on this phone is lost: keep it as it is, send nothing by other ways, and show this to the office.'

/** Checks a head against the last one seen and keeps it. Throws LogChanged; both heads are kept then, as evidence. */
export async function checkHead(head: SignedHead, phone: Phone): Promise<void> {
  const seen = await read(head, phone)
  const last = await headSeen(phone.epoch)
  if (!last) return keepHead(seen)
  const fault = await differs(last, seen)
  if (fault) {
    await keepHead({ ...seen, epoch: `${seen.epoch} against ${last.size}` })
    throw new LogChanged(`${fault} ${KEEP}`)
  }
  if (seen.size > last.size) await keepHead(seen)
}

async function read({ bytes, signature }: SignedHead, phone: Phone): Promise<HeadSeen> {
  const forged = new LogChanged(`The server’s statement about its log is not signed with its own key. ${KEEP}`)
  if (!(await verify(phone.serverKey, signature, bytesOf(bytes)))) throw forged
  let told: Record<string, unknown>
  try {
    told = parse(bytes) as Record<string, unknown>
  } catch {
    throw forged
  }
  const { epoch, root, server, size, workshop } = told
  if (server !== phone.server || epoch !== phone.epoch || workshop !== phone.workshop.id) throw forged
  if (typeof size !== 'number' || typeof root !== 'string' || root.length !== 64) throw forged
  return { epoch: phone.epoch, bytes, signature, size, root }
}

async function differs(last: HeadSeen, seen: HeadSeen): Promise<string> {
  const words = `The server’s log does not only add: it once held ${last.size} records that it no longer begins with.`
  if (seen.size < last.size) return words
  if (seen.size === last.size) return seen.root === last.root ? '' : words
  if (last.size === 0) return ''
  const told = await askFor<Proof>(`/api/sync/consistency?from=${last.size}&to=${seen.size}`)
  const sound = Array.isArray(told.proof) && (await onlyAdds(last.size, seen.size, last.root, seen.root, told.proof))
  return sound ? '' : words
}

/** Whether `proof` shows that the tree of `newer` leaves begins with that of `older`; all hashes in hexadecimal. */
export async function onlyAdds(older: number, newer: number, olderRoot: string, newerRoot: string, proof: string[]): Promise<boolean> {
  if (older <= 0 || older > newer) return false
  if (older === newer) return proof.length === 0 && olderRoot === newerRoot
  const path = [...proof]
  // A tree of a power of two is a node of the newer tree itself: its root begins the path.
  if (Number.isInteger(Math.log2(older))) path.unshift(olderRoot)
  let foundOlder = path.shift()
  if (foundOlder === undefined) return false
  let foundNewer = foundOlder
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
      foundOlder = await node(step, foundOlder)
      foundNewer = await node(step, foundNewer)
      while (first !== 0 && first % 2 === 0) up()
    } else {
      foundNewer = await node(foundNewer, step)
    }
    up()
  }
  return last === 0 && foundOlder === olderRoot && foundNewer === newerRoot
}

async function node(left: string, right: string): Promise<string> {
  const bytes = new Uint8Array(65)
  bytes[0] = 1
  bytes.set(unhex(left), 1)
  bytes.set(unhex(right), 33)
  return hex(new Uint8Array(await crypto.subtle.digest('SHA-256', bytes)))
}
