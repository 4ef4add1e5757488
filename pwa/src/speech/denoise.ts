// Takes the workshop's noise away (RNNoise) and gives, by the way, how likely each frame is speech.
import create, { type RnnoiseModule } from '@jitsi/rnnoise-wasm/dist/rnnoise.js'

/** RNNoise knows one rate, and frames of ten milliseconds of it. */
export const DENOISE_RATE = 48_000
const FRAME = 480
const FULL_SCALE = 32_768

export type Denoiser = RnnoiseModule

export interface Denoised {
  pcm: Float32Array<ArrayBuffer>
  /** For each frame, 0 to 1. */
  likely: Float32Array
}

/** Makes a denoiser of the bytes of its program. Rejects when they cannot be run here. */
export function openDenoiser(program: BufferSource): Promise<Denoiser> {
  return new Promise((resolve, reject) => {
    create({
      instantiateWasm(imports, done) {
        WebAssembly.instantiate(program, imports).then(({ instance }) => done(instance), reject)
        return {}
      },
    }).then(resolve, reject)
  })
}

/** The same length of sound at 48 kHz without its noise; a last piece shorter than a frame is left out. */
export function denoise(by: Denoiser, pcm: Float32Array): Denoised {
  const frames = Math.floor(pcm.length / FRAME)
  const out = new Float32Array(frames * FRAME)
  const likely = new Float32Array(frames)
  const state = by._rnnoise_create()
  const at = by._malloc(FRAME * 4)
  if (!state || !at) throw new RangeError('no memory for taking noise away')
  try {
    for (let frame = 0; frame < frames; frame++) {
      const from = frame * FRAME
      // Looked up again each time: the memory may have grown and moved.
      const before = by.HEAPF32.subarray(at / 4, at / 4 + FRAME)
      for (let k = 0; k < FRAME; k++) before[k] = (pcm[from + k] as number) * FULL_SCALE
      likely[frame] = by._rnnoise_process_frame(state, at, at)
      const after = by.HEAPF32
      for (let k = 0; k < FRAME; k++) out[from + k] = (after[at / 4 + k] as number) / FULL_SCALE
    }
  } finally {
    by._free(at)
    by._rnnoise_destroy(state)
  }
  return { pcm: out, likely }
}
