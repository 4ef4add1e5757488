import { beforeEach, expect, test } from 'vitest'
import { joinedPhone, WHERE } from '../../support/phone.ts'
import { growthProof, leafHash, treeRoot, type SmallServer } from '../../support/server.ts'
import { note } from '../capture/index.ts'
import { waiting } from '../store/index.ts'
import { onlyAdds } from './heads.ts'
import { sendNow } from './loop.ts'
import { alarm, why } from './status.ts'

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
