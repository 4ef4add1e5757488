// From the bytes of a recording to sound: by the browser, in the page, since workers have no decoder.
import { say } from './say.ts'

/** What the denoiser wants; the browser brings the sound to it while it decodes. */
const RATE = 48_000

/** One channel of samples, -1 to 1, and how many a second. Rejects with a sentence; `bytes` are used up. */
export async function decodePcm(bytes: ArrayBuffer): Promise<{ pcm: Float32Array<ArrayBuffer>; rate: number }> {
  try {
    const sound = await new OfflineAudioContext(1, 1, RATE).decodeAudioData(bytes)
    const pcm = new Float32Array(sound.length)
    for (let channel = 0; channel < sound.numberOfChannels; channel++) {
      const samples = sound.getChannelData(channel)
      for (let n = 0; n < pcm.length; n++) pcm[n] = (pcm[n] as number) + (samples[n] as number) / sound.numberOfChannels
    }
    return { pcm, rate: sound.sampleRate }
  } catch {
    throw new Error(say('speech.cannot_read'))
  }
}
