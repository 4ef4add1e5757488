// What the simulation drives of the phone: the app's own store, capture and sync, opened as main.bay.tsx opens them.
import '../../src/trade/ground/tables.ts'
import { sha256Hex } from '../../src/trade/ground/canonical.ts'
import * as capture from '../../src/capture/index.ts'
import { readMedia } from '../../src/store/media.ts'
import * as store from '../../src/store/index.ts'
import { server, startLoop } from '../../src/sync/index.ts'
import { alarm, shutDoor, why } from '../../src/sync/status.ts'

export async function open(): Promise<string> {
  await store.start()
  if (store.health.value.state !== 'well') return store.health.value.reason
  await capture.resume()
  await startLoop(capture.boot)
  return ''
}

/** A file as a camera hands it over. */
const file = (name: string, bytes: ArrayBuffer, type: string) =>
  ({ name, type, size: bytes.byteLength, lastModified: 0, arrayBuffer: async () => bytes.slice(0) }) as unknown as File

const at = (job: string, place: string) => ({ job, place, point: '' })

/** A picture that has not been made smaller yet, as the darkroom would: nothing here can draw. */
const drawn = (sha256: string) => store.putPreview(sha256, { small: null, large: new Uint8Array([0xff, 0xd8, 0xff, 0xe0, 0, 2]).buffer }, true)

/** What is corrected in a record of a kind; of others nothing may be, they are withdrawn. */
const CORRECTED: Record<string, string> = { note_made: 'text', photo_taken: 'caption', document_added: 'title', job_opened: 'complaint' }

export const act = {
  async join(code: string, name: string) {
    await server.join(code, name)
    return store.phone.value?.device.id
  },
  async signIn(name: string, pin: string) {
    const person = store.people.value.find((candidate) => candidate.name === name)
    await capture.signIn(person?.id ?? '', pin)
  },
  openJob: (number: string, engine_type: string) =>
    capture.openJob({
      number, vehicle: 'Harbour launch Marrow', registration: 'HL 41', engine_type, engine_number: 'K-20331', distance: '',
      distance_unit: '', complaint: 'Ran hot', received_as: 'Complete engine', earlier_job: '',
    }),
  note: (job: string, place: string, text: string) => capture.note(at(job, place), text),
  stage: (job: string, stage: string) => capture.reachStage(job, stage),
  async photo(job: string, place: string, bytes: ArrayBuffer, preview: boolean) {
    const saved = await capture.takePhoto(at(job, place), file('IMG_1.jpg', bytes, 'image/jpeg'), 'camera')
    if (preview) await drawn(saved.media[0] as string)
    return saved
  },
  document: (job: string, place: string, bytes: ArrayBuffer) =>
    capture.addDocument(at(job, place), file('certificate.pdf', bytes, 'application/pdf'), 'Certificate of the machine shop'),
  async answer(id: string, reason: string, kind: 'correct' | 'withdraw') {
    const row = await store.record(id)
    if (!row) throw new Error('not on this phone')
    const field = CORRECTED[row.kind]
    if (kind === 'withdraw' || !field) return capture.withdraw(row, reason)
    return capture.correct(row, { reason, changes: { [field]: reason }, location: null })
  },
  sendNow: () => server.sendNow(),
  free: () => store.freeOriginals(),
  choose: (job: string) => store.chooseJob(job, true),
  async tryAgain() {
    for (const { key } of await store.withDb((db) => db.getAll('shelf'))) await server.tryAgain(key)
  },
  held,
}

/** All that this phone holds, its bytes hashed again. */
async function held() {
  const rows = await store.withDb(async (db) => ({
    entries: await db.getAll('entries'),
    outbox: await db.getAll('outbox'),
    shelf: await db.getAll('shelf'),
    receipts: await db.getAll('receipts'),
    originals: await db.getAll('originals'),
    heads: await db.getAll('heads'),
    jobs: await db.getAll('jobs'),
  }))
  const entries = await Promise.all(
    rows.entries.map(async ({ id, hash, device, sequence, mine, position, job, kind, about, bytes }) => {
      const whole = (await sha256Hex(bytes)) === hash
      return { id, hash, device, sequence, mine: mine === 1, position, job, kind, about, whole }
    }),
  )
  const originals = await Promise.all(
    rows.originals.map(async (facts) => {
      const bytes = await store.withDb((db) => readMedia(db, facts.sha256))
      return { ...facts, whole: bytes !== null && (await sha256Hex(bytes)) === facts.sha256 }
    }),
  )
  return {
    ...rows, entries, originals, phone: store.phone.value, health: store.health.value.reason, alarm: alarm.value,
    why: why.value, shutDoor: shutDoor.value, waiting: store.waiting.value, chain: await store.getSetting('chain'), conflict: await store.getSetting('conflict'),
  }
}

/** What a screen knows without asking the store. */
export const seen = () => ({
  joined: store.phone.value !== null,
  signedIn: capture.signedIn.value !== null,
  device: store.phone.value?.device.id ?? '',
  alarm: alarm.value,
  why: why.value,
  shutDoor: shutDoor.value,
  jobs: store.jobs.value.map((job) => job.id),
  waiting: store.waiting.value,
})
