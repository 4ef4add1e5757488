// A picture made small, and judged: needs nothing but a canvas, so that it can run beside the page.
import { judge, type Judgement } from './judge.ts'

/** `failed` when this browser cannot show the picture; the original is evidence all the same. */
export type Shrunk = { failed: true } | { failed: false; small: ArrayBuffer; large: ArrayBuffer; width: number; height: number; judged: Judgement }

const LARGE = 1280
const SMALL = 320
const LARGEST_SENT = 300_000

/** A copy at most 1280 px long of at most 300 kB, one of 320 px, and what the small one shows. */
export async function shrink(original: Blob): Promise<Shrunk> {
  let picture: ImageBitmap
  try {
    picture = await createImageBitmap(original, { resizeWidth: LARGE, resizeQuality: 'medium' })
  } catch {
    return { failed: true }
  }
  try {
    const small = draw(picture, SMALL)
    const judged = judge(small.context.getImageData(0, 0, small.canvas.width, small.canvas.height))
    // Some phones hand back one flat colour for pictures that are too large for them.
    if (judged.uniform) return { failed: true }
    const large = draw(picture, LARGE)
    const { width, height } = large.canvas
    return { failed: false, small: await encode(small.canvas), large: await encode(large.canvas), width, height, judged }
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

async function encode(canvas: OffscreenCanvas): Promise<ArrayBuffer> {
  let blob = await canvas.convertToBlob({ type: 'image/jpeg', quality: 0.75 })
  for (const quality of [0.6, 0.45, 0.3]) if (blob.size > LARGEST_SENT) blob = await canvas.convertToBlob({ type: 'image/jpeg', quality })
  return blob.arrayBuffer()
}
