// Makes ONE entry: canonical bytes, hash, signature; then hands it to the store.
import { canonicalBytes, sha256Hex } from '../trade/ground/canonical.ts'
import { checkEntry, KINDS, LONGEST_ENTRY } from '../trade/record/kinds.ts'
import { Refusal } from '../trade/ground/errors.ts'
import { uuid7 } from '../trade/ground/uuid7.ts'
import { health, jobFacts, lastHead, NotSaved, phone, save, signBytes, type Body, type Entry, type Location, type NewFile } from '../store/index.ts'
import { claimed, clock } from './clock.ts'
import { signedIn } from './who.ts'
import { say } from '../store/say.ts'

export interface Saved {
  id: string
  hash: string
  sequence: number
  media: string[]
}

export interface NewEntry {
  kind: string
  body: Body
  job: string | null
  location?: Location | null
  files?: NewFile[]
  /** The person who made it, if that is not who is signed in now: a recording joined after a restart. */
  author?: string
}

/**
 * Captures one record. Resolves only when it is durable and was read back; rejects with NotSaved, which carries the bytes.
 * The time it states is that of the call, not that of the disk.
 */
export async function capture({ kind, body, job, location = null, files = [], author }: NewEntry): Promise<Saved> {
  const id = uuid7()
  const at = claimed()
  const who = author ?? signedIn.value?.id
  const here = phone.value
  if (health.value.state === 'blocked') throw new NotSaved(health.value.reason, files)
  if (!here) throw new NotSaved(say('capture.not_joined'), files)
  if (!who) throw new NotSaved(say('capture.nobody'), files)
  const [time, facts, head] = await Promise.all([clock(), job ? jobFacts(job) : null, lastHead(here.epoch).catch(() => null)])
  const log = head?.size ? { root: head.root, size: head.size } : null
  const common = { author: who, body, claimed: at, clock: time, device: here.device.id, id, job, kind, location }
  const sealed = await save(async (chain, media, link) => {
    const entry: Entry = {
      ...common,
      links: { job: link, log },
      media,
      previous: chain.hash,
      sequence: chain.sequence + 1,
      stage: facts?.stage ?? null,
      version: KINDS[kind]!.latest,
      workshop: here.workshop.id,
    }
    // What has no bytes of evidence is checked here, where it can be put right at once. A picture or a recording is saved
    // whatever is wrong with its facts: what the server will not accept goes to the shelf, and nothing is lost.
    if (files.length === 0) checkEntry(entry)
    const bytes = canonicalBytes(entry)
    if (files.length === 0 && bytes.length > LONGEST_ENTRY)
      throw new Refusal('too_long', 'body', say('capture.too_long', { length: bytes.length, most: LONGEST_ENTRY }))
    return { entry, bytes, hash: await sha256Hex(bytes), signature: await signBytes(bytes) }
  }, files, job)
  const { hash, entry } = sealed
  return { id, hash, sequence: entry.sequence, media: entry.media.map((item) => item.sha256) }
}
