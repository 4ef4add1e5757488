// Small copies of a picture and what they show: sharp or blurred, dark or bright. Derived, made after saving, restartable.
import { originalOf, previewRow, putPreview, serialised, withoutPreview } from '../store/index.ts'
import { shrinkBeside } from './darkroom.ts'
import type { Judgement } from './judge.ts'

export interface Hints extends Judgement {
  width: number | null
  height: number | null
}

const UNKNOWN: Hints = { width: null, height: null, sharpness: null, blurred: false, exposure: null }

let queue: Promise<unknown> = Promise.resolve()

/**
 * Makes the previews of a saved original and judges it. One picture at a time: a phone's memory holds no more.
 * `bytes` are those just saved, if they are at hand; they are handed over and gone afterwards.
 */
export function look(sha256: string, bytes?: ArrayBuffer): Promise<Hints> {
  const mine = queue.then(whenNothingIsSaved).then(() => makePreviews(sha256, bytes))
  queue = mine.catch(() => undefined)
  return mine
}

/** After a restart: the previews that were not made yet. */
export async function makeMissingPreviews(): Promise<void> {
  for (const sha256 of await withoutPreview()) await look(sha256)
}

async function makePreviews(sha256: string, bytes?: ArrayBuffer): Promise<Hints> {
  if (typeof createImageBitmap === 'undefined' || (await previewRow(sha256))?.large) return UNKNOWN
  const original = bytes ?? (await (await originalOf(sha256))?.arrayBuffer())
  if (!original) return UNKNOWN
  const shrunk = await shrinkBeside(original)
  if (!shrunk) return UNKNOWN // the next start tries again
  if (shrunk.failed) {
    await putPreview(sha256, { failed: true })
    return UNKNOWN
  }
  const { small, large, width, height, judged } = shrunk
  await putPreview(sha256, { small, large }, true)
  return { ...judged, width, height }
}

/** The next picture goes first: a preview begins only while no record is being saved. */
const whenNothingIsSaved = () => serialised('chain', async () => undefined)
