import { beforeEach, expect, test } from 'vitest'
import { joinedPhone, WHERE } from '../../support/phone.ts'
import { growthProof, inclusionProof, leafHash, treeRoot, type SmallServer } from '../../support/server.ts'
import { note, noteLogDifference } from '../capture/index.ts'
import { loadConflict } from '../store/conflict.ts'
import { conflict, conflictFile, waiting, type Conflict, type HeadSeen } from '../store/index.ts'
import { parse } from '../trade/ground/canonical.ts'
import { onlyAdds } from './heads.ts'
import { verify } from './keys.ts'
import { sendNow } from './loop.ts'
import { isIn } from './receipts.ts'
import { alarm, why } from './status.ts'

interface Lost {
  bytes: string
  receipt: { stamp: string; path: string[]; head: { bytes: string; signature: string }; position: number }
}

let server: SmallServer

beforeEach(async () => void (server = await joinedPhone()))

// Published with RFC 6962 by the Certificate Transparency project: eight leaves and the roots over the first n of them.
const LEAVES = ['', '00', '10', '2021', '3031', '40414243', '5051525354555657', '606162636465666768696a6b6c6d6e6f']
const ROOTS: Record<number, string> = {
  1: '6e340b9cffb37a989ca544e6bb780a2c78901d3fb33738768511a30617afa01d',
  2: 'fac54203e7cc696cf0dfcb42c92a1d9dbaf70ad9e621f4bd8d98662f00e3c125',
  3: 'aeb6bcfe274b70a14fb067a5e5578264db0fa9b51af5e0ba159158f329e06e77',
  8: '5dc9da79a70659a9ad559cb701ded9a2ab9d823aad2f4960cfe370eff4604328',
}

const raw = (hexText: string) => String.fromCharCode(...(hexText.match(/../g) ?? []).map((pair) => Number.parseInt(pair, 16)))

test('the small server’s tree has the roots published with RFC 6962', async () => {
  const ascii = LEAVES.slice(0, 3)
  expect(await treeRoot(await Promise.all(ascii.map((leaf) => leafHash(raw(leaf)))))).toBe(ROOTS[3])
  expect(await treeRoot([await leafHash('')])).toBe(ROOTS[1])
})

test('a proof of growth holds for every pair of sizes, and for no altered root', async () => {
  const leaves = await Promise.all(Array.from({ length: 13 }, (_, i) => leafHash(`leaf ${i}`)))
  const roots = await Promise.all(leaves.map((_, i) => treeRoot(leaves.slice(0, i + 1))))
  for (let newer = 1; newer <= 13; newer++)
    for (let older = 1; older <= newer; older++) {
      const proof = await growthProof(older, leaves.slice(0, newer))
      const [was, is] = [roots[older - 1] as string, roots[newer - 1] as string]
      expect(await onlyAdds(older, newer, was, is, proof), `${older} to ${newer}`).toBe(true)
      expect(await onlyAdds(older, newer, '0'.repeat(64), is, proof)).toBe(false)
      expect(await onlyAdds(older, newer, was, '0'.repeat(64), proof)).toBe(false)
      if (proof.length) expect(await onlyAdds(older, newer, was, is, proof.slice(1))).toBe(false)
    }
})

test('a log that grows raises no alarm', async () => {
  for (let i = 0; i < 5; i++) {
    await note(WHERE, `note ${i}`)
    await sendNow()
  }
  expect(alarm.value).toBe('')
  expect(why.value).toBe('')
})

test('a log that was rewritten before this phone’s last visit is noticed, in plain words', async () => {
  await note(WHERE, 'the bearing was blue')
  await note(WHERE, 'oil hole dry')
  await sendNow()
  await sendNow()
  const first = server.log[0] as { stamp: string }
  first.stamp = first.stamp.replace('"position":1', '"position":9')
  await note(WHERE, 'next')
  await sendNow()
  expect(alarm.value).toContain('has lost or changed records')
  expect(waiting.value.records).toBe(1)
  await sendNow()
  expect(alarm.value).toContain('has lost or changed records')
})

test('a log that got shorter under the same epoch is noticed', async () => {
  for (let i = 0; i < 3; i++) await note(WHERE, `note ${i}`)
  await sendNow()
  await sendNow()
  server.log.pop()
  await sendNow()
  expect(alarm.value).toContain('has lost or changed records')
})

test('a head that the server’s key did not sign is not believed', async () => {
  await note(WHERE, 'one')
  const head = await server.head()
  const device = { ...server.device, last_sequence: 0, last_hash: '', revoked: false }
  server.fault = (path) =>
    path === '/api/sync/state'
      ? server.json({ workshop: server.workshop, device, people: [], head: { ...head, bytes: head.bytes.replace('"size":0', '"size":4') }, size: 4, chunk_bytes: 1024, durable_size: 0, build: '' })
      : undefined
  await sendNow()
  expect(alarm.value).toContain('not signed with the server’s key')
  expect(waiting.value.records).toBe(1)
})

/** The log as it is after a restore from a backup of `size` records: a new epoch. */
function putBack(size: number): void {
  server.log.splice(size)
  server.epoch = 'another epoch'
}

async function threeNotes(): Promise<void> {
  for (let i = 0; i < 3; i++) await note(WHERE, `note ${i}`)
  await sendNow()
  await sendNow()
}

test('a log that was put back under a new epoch is said until it is noted, and what is here is sent again', async () => {
  await threeNotes()
  putBack(1)
  await sendNow()
  await sendNow()
  expect(server.log).toHaveLength(3)
  expect(waiting.value.records).toBe(0)
  expect(alarm.value).toContain('was put back')
  await sendNow()
  expect(alarm.value).toContain('was put back')
  const { before, after } = conflict.value as Conflict
  expect([before.size, after.size]).toEqual([3, 1])

  await noteLogDifference()
  await sendNow()
  expect(alarm.value).toBe('')
  const noted = parse(server.log.at(-1)!.bytes) as { kind: string; body: Record<string, string> }
  expect(noted.kind).toBe('log_difference_noted')
  expect(noted.body).toEqual({ gone: '', before: before.bytes, before_signature: before.signature, after: after.bytes, after_signature: after.signature })
})

test('a new epoch silences nobody: a record taken out and signed over is noticed', async () => {
  await threeNotes()
  const rest = server.log.splice(1)
  for (const row of rest.slice(1)) await server.append({ bytes: row.bytes, signature: row.signature }, parse(row.bytes) as Record<string, unknown>)
  server.epoch = 'another epoch'
  await sendNow()
  await sendNow()
  expect(alarm.value).toContain('was put back')
  // The third is there under another number of the log; the second is not, and stays on this phone.
  expect(alarm.value).toContain('Record 2 of this phone is no longer in the log')
  const file = JSON.parse(await (await conflictFile(conflict.value as Conflict)).text()) as Record<string, unknown> & { records: Lost[] }
  expect(file.gone).toBe('2')
  const [lost] = file.records as [Lost]
  expect(lost.bytes).toContain('note 1')
  // What the server acknowledged can be shown to anybody: its signature stands over the head to which the receipt leads.
  const { stamp, path, head, position } = lost.receipt
  expect(await verify(server.spki, head.signature, new TextEncoder().encode(head.bytes))).toBe(true)
  expect(await isIn(parse(head.bytes) as unknown as HeadSeen, position, stamp, path)).toBe(true)
  await noteLogDifference()
  await sendNow()
  expect(alarm.value).toBe('')
  expect(parse(server.log.at(-1)!.bytes)).toMatchObject({ version: 2, body: { gone: '2' } })
})

test('receipts lead to the head that the server signed, or settle nothing: an old head cannot hold what is new', async () => {
  await threeNotes()
  const old = await server.head()
  await note(WHERE, 'next')
  const honest = server.head
  server.head = async () => (server.log.length > 3 ? old : honest.call(server))
  await sendNow()
  expect(waiting.value.records).toBe(1)
  server.head = honest
  await sendNow()
  expect(waiting.value.records).toBe(0)
})

test('a proof of inclusion holds for every leaf of every size, and for no other leaf, place or root', async () => {
  const stamps = Array.from({ length: 13 }, (_, i) => `leaf ${i}`)
  const leaves = await Promise.all(stamps.map(leafHash))
  for (let size = 1; size <= 13; size++) {
    const root = await treeRoot(leaves.slice(0, size))
    for (let at = 0; at < size; at++) {
      const path = await inclusionProof(at, leaves.slice(0, size))
      expect(await isIn({ size, root }, at + 1, stamps[at] as string, path), `${at} of ${size}`).toBe(true)
      expect(await isIn({ size, root }, at + 1, 'another', path)).toBe(false)
      expect(await isIn({ size, root: '0'.repeat(64) }, at + 1, stamps[at] as string, path)).toBe(false)
      expect(await isIn({ size, root }, size + 1, stamps[at] as string, path)).toBe(false)
      if (path.length) expect(await isIn({ size, root }, at + 1, stamps[at] as string, path.slice(1))).toBe(false)
      if (path.length) expect(await isIn({ size, root }, ((at + 1) % size) + 1, stamps[at] as string, path)).toBe(false)
    }
  }
})

test('a new epoch of a log that holds all that it held raises no alarm', async () => {
  await threeNotes()
  server.epoch = 'another epoch'
  await sendNow()
  await sendNow()
  expect(alarm.value).toBe('')
  expect(conflict.value).toBeNull()
})

test('the alarm is there after a restart, and under the same epoch noting it lets records go again', async () => {
  await threeNotes()
  server.log.pop()
  await sendNow()
  expect(alarm.value).toContain('has lost or changed records')
  conflict.value = null
  await loadConflict()
  const kept = conflict.peek() as Conflict | null
  expect(kept?.words).toContain('has lost or changed records')

  await noteLogDifference()
  await sendNow()
  await sendNow()
  expect(alarm.value).toBe('')
  expect(waiting.value.records).toBe(0)
})

test('the head that answers what was sent is checked at once', async () => {
  await threeNotes()
  await note(WHERE, 'next')
  server.fault = (path) => {
    if (path !== '/api/sync/push') return undefined
    server.log.splice(0, 1)
    return undefined
  }
  await sendNow()
  expect(alarm.value).toContain('has lost or changed records')
})
