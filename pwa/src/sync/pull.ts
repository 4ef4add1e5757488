// Fetches what others recorded. Every record is checked by its hash and its maker's key before it is stored.
import { parse, sha256Hex } from '../trade/ground/canonical.ts'
import { chosenJobs, cursorOf, deviceKey, digestOf, forgetCursor, keepPage, phone, type Cursor, type Device, type Entry, type Phone, type Pulled } from '../store/index.ts'
import { requestJson } from './api.ts'
import { bytesOf, verify } from './keys.ts'
import { progress } from './status.ts'
import type { FeedDigest, Page, PulledEntry } from './wire.ts'
import { say } from '../store/say.ts'

/** A record that came from the server fails its checks. Nothing of its page was stored. */
export class BadRecord extends Error {}

class UnknownDevice extends Error {}

const PAGE = 500

type Beat = () => Promise<void>

/** The workshop's feed first, which brings the keys and the list of jobs; then every chosen job, newest records first. */
export async function pullAll(size: number, beat: Beat): Promise<void> {
  await forward('workshop', beat)
  for (const job of await chosenJobs()) {
    try {
      await pullJob(job, size, beat)
    } catch (fault) {
      if (!(fault instanceof UnknownDevice)) throw fault
      // A phone that joined a moment ago: its key is in the workshop's feed by now.
      await forward('workshop', beat)
      await pullJob(job, size, beat)
    }
  }
  progress.value = ''
}

async function pullJob(job: string, size: number, beat: Beat): Promise<void> {
  const feed = `job:${job}`
  const cursor = await cursorOf(feed, here().epoch)
  if (cursor.low === null && cursor.high === 0 && !cursor.done) await backward(feed, { ...cursor, low: size + 1 }, beat)
  await forward(feed, beat)
  const now = await cursorOf(feed, here().epoch)
  if (!now.done) await backward(feed, now, beat)
  await proveEqual(job, feed)
}

const PROVE_EVERY_MS = 3_600_000
const proven = new Map<string, number>()
const unequal = new Set<string>()

/** Now and then, not by trust but by count and hash: is what this phone holds of a job all that the server holds of it? */
async function proveEqual(job: string, feed: string): Promise<void> {
  if (Date.now() - (proven.get(feed) ?? 0) < PROVE_EVERY_MS) return
  const { high } = await cursorOf(feed, here().epoch)
  const mine = await digestOf(job, high)
  if (!mine) return
  const theirs = await requestJson<FeedDigest>(`/api/sync/digest?feed=${encodeURIComponent(feed)}&upto=${high}`)
  if (theirs.count === mine.count && theirs.digest === mine.digest) {
    proven.set(feed, Date.now())
    unequal.delete(feed)
    return
  }
  if (unequal.has(feed))
    throw new BadRecord(say('sync.job_differs', { here: mine.count, there: theirs.count }))
  // Once it may be a gap of ours: the feed is walked again and compared again in the next run.
  unequal.add(feed)
  await forgetCursor(feed)
}

/** Everything after the cursor, oldest first: positions only grow, so none can be passed over. */
async function forward(feed: string, beat: Beat): Promise<void> {
  for (;;) {
    const cursor = await cursorOf(feed, here().epoch)
    const page = await requestJson<Page>(`/api/sync/pull?feed=${encodeURIComponent(feed)}&after=${cursor.high}&limit=${PAGE}`)
    const pulled = await checkPage(page.entries, feed)
    const high = pulled.at(-1)?.position ?? cursor.high
    if (pulled.length || feed === 'workshop') await keepPage(pulled, { ...cursor, high })
    await beat()
    if (!page.more || pulled.length === 0) return
  }
}

/** Everything before the cursor's low mark, newest first, until the feed's beginning. */
async function backward(feed: string, from: Cursor, beat: Beat): Promise<void> {
  let cursor = from
  for (;;) {
    const page = await requestJson<Page>(`/api/sync/pull?feed=${encodeURIComponent(feed)}&before=${cursor.low}&limit=${PAGE}`)
    const pulled = await checkPage(page.entries, feed)
    const positions = pulled.map(({ position }) => position)
    cursor = {
      ...cursor,
      high: Math.max(cursor.high, ...positions),
      low: Math.min(cursor.low ?? Number.MAX_SAFE_INTEGER, ...positions),
      done: !page.more,
    }
    await keepPage(pulled, cursor)
    progress.value = page.more ? say('sync.fetching_older') : ''
    await beat()
    if (!page.more) return
  }
}

async function checkPage(entries: PulledEntry[], feed: string): Promise<Pulled[]> {
  const fresh = new Map<string, Device>()
  const pulled: Pulled[] = []
  for (const entry of entries) pulled.push(await checkEntry(entry, feed, fresh))
  return pulled
}

/** Hash, signature and belonging of one pulled record. `fresh` are devices met earlier in the same page. */
async function checkEntry(fetched: PulledEntry, feed: string, fresh: Map<string, Device>): Promise<Pulled> {
  const bytes = bytesOf(fetched.bytes)
  const at = { number: String(fetched.position) }
  let entry: Entry
  try {
    entry = parse(fetched.bytes) as unknown as Entry
  } catch {
    throw new BadRecord(say('sync.record_unreadable', { ...at }))
  }
  if (entry.workshop !== here().workshop.id)
    throw new BadRecord(say('sync.record_other_workshop', { ...at }))
  if (feed.startsWith('job:') && entry.job !== feed.slice(4))
    throw new BadRecord(say('sync.record_other_job', { ...at }))
  const key = await keyOf(entry, fresh, here())
  if (!key) throw new UnknownDevice(say('sync.record_unknown_phone', { ...at }))
  if (!(await verify(key, fetched.signature, bytes)))
    throw new BadRecord(say('sync.record_changed', { ...at }))
  if (entry.kind === 'device_enrolled') {
    const { device, name, letter, public_key } = entry.body as Record<string, string>
    fresh.set(device as string, { id: device, name, letter, public_key, revoked: false } as Device)
  }
  const sealed = { entry, bytes, hash: await sha256Hex(bytes), signature: fetched.signature }
  return { sealed, position: fetched.position, received: fetched.received }
}

async function keyOf(entry: Entry, fresh: Map<string, Device>, { serverKey }: Phone): Promise<string | null> {
  const known = fresh.get(entry.device) ?? (await deviceKey(entry.device))
  if (known) return known.public_key
  // The desk signs with the server's own key; its first record founds the workshop and names that key.
  if (entry.kind !== 'workshop_founded' || entry.body.server_key !== serverKey) return null
  fresh.set(entry.device, { id: entry.device, name: 'desk', letter: '', public_key: serverKey, revoked: false })
  return serverKey
}

function here(): Phone {
  const now = phone.peek()
  if (!now) throw new Error(say('sync.not_joined'))
  return now
}
