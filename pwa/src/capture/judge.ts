// Blur and exposure of a small copy. A hint for whoever still stands beside the part; never a reason to refuse a picture.

export interface Judgement {
  /** Variance of the Laplacian over the grey picture, as text; the larger, the sharper. */
  sharpness: string | null
  blurred: boolean
  exposure: 'ok' | 'dark' | 'bright' | null
  /** All pixels alike: not a picture of anything. */
  uniform?: boolean
}

interface Pixels {
  data: Uint8ClampedArray | Uint8Array
  width: number
  height: number
}

/** Below this no edge in a 320 px copy could be measured from: sharp pictures of sample_media lie at 70 and above, blurred by 8 px of 1600 below 12. */
export const BLURRED_BELOW = 25
const DARK_BELOW = 40
const BRIGHT_ABOVE = 225

export function judge({ data, width, height }: Pixels): Judgement {
  const grey = new Float32Array(width * height)
  let total = 0
  let least = 255
  let most = 0
  for (let i = 0; i < grey.length; i++) {
    // Rec. 709 weights.
    const value = 0.2126 * (data[4 * i] as number) + 0.7152 * (data[4 * i + 1] as number) + 0.0722 * (data[4 * i + 2] as number)
    grey[i] = value
    total += value
    if (value < least) least = value
    if (value > most) most = value
  }
  const mean = total / grey.length
  let sum = 0
  let squares = 0
  let count = 0
  for (let y = 1; y < height - 1; y++)
    for (let x = 1; x < width - 1; x++) {
      const i = y * width + x
      const edge = (grey[i - 1] as number) + (grey[i + 1] as number) + (grey[i - width] as number) + (grey[i + width] as number) - 4 * (grey[i] as number)
      sum += edge
      squares += edge * edge
      count++
    }
  const variance = count ? squares / count - (sum / count) ** 2 : 0
  return {
    sharpness: variance.toFixed(1),
    blurred: variance < BLURRED_BELOW,
    exposure: mean < DARK_BELOW ? 'dark' : mean > BRIGHT_ABOVE ? 'bright' : 'ok',
    uniform: most - least < 2,
  }
}
