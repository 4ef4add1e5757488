// Originals by tus 1.0, keyed by their SHA-256: nothing to remember, so nothing to lose. Previews before originals.
import { sha256Hex } from '../trade/ground/canonical.ts'
import {
  base64,
  mediaFacts,
  nextMedia,
  phone,
  previewOf,
  settleMedia,
  settlePreview,
  shelveMedia,
  sliceOf,
  type MediaFacts,
  type OutboxRow,
} from '../store/index.ts'
import { requestJson, notOurs, reach, Refused, refuseBad } from './api.ts'
import { progress } from './status.ts'
import type { Here } from './wire.ts'
import { say } from '../store/say.ts'

const TUS = { 'Tus-Resumable': '1.0.0' }
const AT_ONCE = 2
const SMALLEST_CHUNK = 64 * 1024
const CHUNK_TIMEOUT_MS = 60_000
/** Over a whole upload: pieces that arrive do not make up for it, or a damaged file would be sent for ever. */
const SETBACKS = 6

type Beat = () => Promise<void>

/** Sends the provisional previews. A preview the server does not want is simply done: the server makes its own. */
export async function sendPreviews(beat: Beat): Promise<void> {
  for (;;) {
    const rows = await nextMedia('preview', 20)
    if (rows.length === 0) return
    for (const { id } of rows) {
      const preview = await previewOf(id, 'large')
      if (preview) {
        const answer = await reach(`/api/media/${id}/preview`, { method: 'PUT', body: preview, headers: { 'Content-Type': 'image/jpeg' } })
        if (answer.status >= 500 || answer.status === 401 || answer.status === 403 || answer.status === 429) await refuseBad(answer)
      }
      await settlePreview(id)
      await beat()
    }
  }
}

/** Sends the originals, two at a time, each until the server says that it is here. */
export async function sendOriginals(chunkBytes: number, beat: Beat): Promise<void> {
  const failed = new Set<string>()
  let sent = 0
  for (;;) {
    const rows = (await nextMedia('media', 50)).filter((row) => !failed.has(row.id))
    if (rows.length === 0) break
    const total = sent + rows.length
    const queue = [...rows]
    const work = async () => {
      for (let row = queue.shift(); row; row = queue.shift()) {
        const number = ++sent
        const onProgress = (share: number) => (progress.value = progressWords(row, number, total, Math.floor(share * 100)))
        if (!(await sendOriginal(row.id, chunkBytes, onProgress, beat))) failed.add(row.id)
      }
    }
    await Promise.all(Array.from({ length: AT_ONCE }, work))
  }
  progress.value = ''
}

function progressWords({ role }: OutboxRow, number: number, all: number, percent: number): string {
  const of = { number, all, percent }
  return role === 'audio' ? say('sync.sending_recording', { ...of }) : say('sync.sending_picture', { ...of })
}

/** True when it was settled: here, or on the shelf. False leaves it in the outbox for the next run. */
async function sendOriginal(sha256: string, chunkBytes: number, onProgress: (share: number) => void, beat: Beat): Promise<boolean> {
  const facts = await mediaFacts(sha256)
  if (!facts || facts.chunks === 0) {
    await shelveMedia(sha256, 'not_here', say('sync.bytes_gone'))
    return true
  }
  try {
    await upload(facts, chunkBytes, onProgress, beat)
  } catch (fault) {
    if (!(fault instanceof Refused)) throw fault
    // A hash that differs again and again: if the fault lies in the bytes here, sending them for ever helps nobody.
    const damaged = fault.status === 460 && !(await isWhole(facts))
    if (waits(fault) && !damaged) throw fault
    if (damaged) await shelveMedia(sha256, 'bytes_differ', say('sync.bytes_damaged'))
    else await shelveMedia(sha256, fault.code, fault.message)
    return true
  }
  const held = await requestJson<Here>('/api/media/have', { method: 'POST', json: { sha256: [sha256] } })
  if (!held.here?.includes(sha256)) return false
  await settleMedia(sha256, (phone.peek() as { epoch: string }).epoch)
  return true
}


async function isWhole({ sha256, length }: MediaFacts): Promise<boolean> {
  const bytes = await sliceOf(sha256, 0, length)
  return bytes !== null && (await sha256Hex(bytes)) === sha256
}

/** Refusals that pass: signed out, blocked, busy, full. They stop the run and keep everything. */
export const waits = ({ status }: Refused) => [401, 403, 408, 409, 423, 425, 429, 460].includes(status) || status >= 500

async function upload(facts: MediaFacts, chunkBytes: number, onProgress: (share: number) => void, beat: Beat): Promise<void> {
  const { sha256, length } = facts
  let chunk = chunkBytes
  let offset = await standing(facts)
  for (let setbacks = 0; offset < length; ) {
    onProgress(offset / length)
    const bytes = await sliceOf(sha256, offset, Math.min(length, offset + chunk))
    if (!bytes) throw new Refused(410, 'not_here', say('sync.bytes_gone'), null)
    const sum = base64(new Uint8Array(await crypto.subtle.digest('SHA-256', bytes)))
    const headers = {
      ...TUS,
      'Content-Type': 'application/offset+octet-stream',
      'Upload-Offset': String(offset),
      'Upload-Checksum': `sha256 ${sum}`,
    }
    const answer = await reach(placeOf(facts), { method: 'PATCH', body: bytes, headers, timeoutMs: CHUNK_TIMEOUT_MS })
    await beat()
    if (answer.status === 204) {
      const now = offsetIn(answer, length)
      if (now <= offset) throw notOurs()
      offset = now
      continue
    }
    if (++setbacks > SETBACKS) await refuseBad(answer)
    if (answer.status === 413 && chunk > SMALLEST_CHUNK) chunk = Math.max(SMALLEST_CHUNK, Math.floor(chunk / 2))
    else if (answer.status === 404 || answer.status === 410 || answer.status === 409 || answer.status === 460) offset = await standing(facts)
    else await refuseBad(answer)
  }
  onProgress(1)
}

const placeOf = ({ sha256, length }: MediaFacts) => `/api/media/uploads/${sha256}.${length}`

/** How far this upload has come on the server; begins it when it was never begun there, or given up. */
async function standing(facts: MediaFacts): Promise<number> {
  const head = await reach(placeOf(facts), { method: 'HEAD', headers: TUS })
  if (head.ok) return offsetIn(head, facts.length)
  if (head.status !== 404 && head.status !== 410) await refuseBad(head)
  const text = (value: string) => base64(new TextEncoder().encode(value))
  const headers = {
    ...TUS,
    'Upload-Length': String(facts.length),
    'Upload-Metadata': `sha256 ${text(facts.sha256)},type ${text(facts.type)}`,
  }
  const made = await reach('/api/media/uploads', { method: 'POST', headers })
  await refuseBad(made)
  return made.headers.has('Upload-Offset') ? offsetIn(made, facts.length) : 0
}

function offsetIn(answer: Response, length: number): number {
  const text = answer.headers.get('Upload-Offset') ?? ''
  const offset = Number(text)
  if (!/^\d+$/.test(text) || offset > length || !answer.headers.get('Tus-Resumable')) throw notOurs()
  return offset
}
