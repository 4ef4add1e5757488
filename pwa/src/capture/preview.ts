// Small copies of a picture and what they show: sharp or blurred, dark or bright. Derived, made after saving, restartable.
import { originalOf, previewRow, putPreview, withoutPreview } from '../store/index.ts'
import { judge, type Judgement } from './judge.ts'

export interface Hints extends Judgement {
  width: number | null
  height: number | null
}

const LARGE = 1280
const SMALL = 320
const LARGEST_SENT = 300_000

let queue: Promise<unknown> = Promise.resolve()

/** Makes the previews of a saved original and judges it. One picture at a time: a phone's memory holds no more. */
export function look(sha256: string): Promise<Hints> {
  const mine = queue.then(() => makePreviews(sha256))
  queue = mine.catch(() => undefined)
  return mine
}

/** After a restart: the previews that were not made yet. */
export async function makeMissingPreviews(): Promise<void> {
  for (const sha256 of await withoutPreview()) await look(sha256)
}

async function makePreviews(sha256: string): Promise<Hints> {
  const unknown: Hints = { width: null, height: null, sharpness: null, blurred: false, exposure: null }
  if ((await previewRow(sha256))?.large) return unknown
  const original = await originalOf(sha256)
  if (!original || typeof createImageBitmap === 'undefined') return unknown
  let picture: ImageBitmap
  try {
    picture = await createImageBitmap(original, { resizeWidth: LARGE, resizeQuality: 'medium' })
  } catch {
    // A form this browser cannot show, or a damaged picture: the original is evidence all the same.
    await putPreview(sha256, { failed: true })
    return unknown
  }
  try {
    const small = draw(picture, SMALL)
    const judged = judge(small.context.getImageData(0, 0, small.canvas.width, small.canvas.height))
    if (judged.uniform) {
      // Some phones hand back one flat colour for pictures that are too large for them.
      await putPreview(sha256, { failed: true })
      return unknown
    }
    const large = draw(picture, LARGE)
    const bytes = await (await encode(large.canvas)).arrayBuffer()
    await putPreview(sha256, { large: bytes, small: await (await small.canvas.convertToBlob({ type: 'image/jpeg', quality: 0.75 })).arrayBuffer() }, true)
    return { ...judged, width: large.canvas.width, height: large.canvas.height }
  } finally {
    picture.close()
  }
}

function draw(picture: ImageBitmap, longest: number) {
  const scale = Math.min(1, longest / Math.max(picture.width, picture.height))
  const canvas = new OffscreenCanvas(Math.max(1, Math.round(picture.width * scale)), Math.max(1, Math.round(picture.height * scale)))
  const context = canvas.getContext('2d', { willReadFrequently: longest === SMALL }) as OffscreenCanvasRenderingContext2D
  context.drawImage(picture, 0, 0, canvas.width, canvas.height)
  return { canvas, context }
}

async function encode(canvas: OffscreenCanvas): Promise<Blob> {
  let blob = await canvas.convertToBlob({ type: 'image/jpeg', quality: 0.75 })
  for (const quality of [0.6, 0.45, 0.3]) if (blob.size > LARGEST_SENT) blob = await canvas.convertToBlob({ type: 'image/jpeg', quality })
  return blob
}
